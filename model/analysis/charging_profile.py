"""To which volts a charging source is set, and which fields say so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.battery_model import rest_v
from model.analysis.charging import regulator_of
from model.analysis.joinable import post_v
from model.diagram import Component, Diagram
from model.graph import TerminalGraph
from model.kinds import kind_of
from model.kinds.storage import nominal_v

_NOMINAL_FIELDS = {"alternator": "nominal_v", "wind_generator": "nominal_v",
                   "inverter_charger": "input_v"}


@dataclass(frozen=True, slots=True)
class ChargingProfile:
    """Volts of a source's stages, None unstated [V]; a float stage of 0 V is none at all. Whether
    it `compensates` by temperature, None when it could and that is not said.

    `absorption_field` and `float_field` are the fields that state them ("T1.absorption_v"), ""
    when the source has no such stage.
    """

    absorption_v: float | None
    float_v: float | None
    equalise_v: float | None
    compensates: bool | None
    absorption_field: str
    float_field: str
    equalise_field: str = ""

    def stages(self) -> Iterator[tuple[str, float]]:
        """Yield the field and the volts of each stage that is stated. [V]."""
        for field, volts in ((self.absorption_field, self.absorption_v),
                             (self.float_field, self.float_v),
                             (self.equalise_field, self.equalise_v)):
            if volts is not None:
                yield field, volts


def charging_profile(diagram: Diagram, item: str) -> ChargingProfile:
    """Return the profile of a charger, controller or alternator; of the latter by its regulator."""
    part = diagram.components[item]
    setter, field, floats = part, "absorption_v", True
    if part.kind == "alternator":
        regulator = regulator_of(diagram, part)
        floats = regulator is not None
        setter, field = (part, "set_v") if regulator is None else (regulator, field)
    elif part.kind == "wind_generator":
        return ChargingProfile(None, None, None, False, "", "")
    p = setter.parameters
    can_compensate = kind_of(setter).field("temperature_compensation") is not None
    compensates = p.get("temperature_compensation") if can_compensate else False
    return ChargingProfile(
        p.get(field), p.get("float_v") if floats else None, p.get("equalise_v"),
        compensates, f"{setter.id}.{field}",
        f"{setter.id}.float_v" if floats else "", f"{setter.id}.equalise_v")


def source_nominal_field(part: Component) -> str:
    """Return the field that states for how many volts a charging source is made."""
    return _NOMINAL_FIELDS.get(part.kind, "output_v")


def above_limit(graph: TerminalGraph, source: str, battery: str) -> tuple[str, float, float] | None:
    """Return the first stage of a source above what a battery's maker allows: its field, its volts
    and the limit. Flooded cells may be equalised above what they are charged with every day. [V].
    """
    most_v = stated_v(graph, battery, "max_charge_v")
    profile = charging_profile(graph.diagram, source)
    flooded = graph.diagram.components[battery].parameters.get("chemistry") == "flooded"
    return None if most_v is None else next(
        ((field, volts, most_v) for field, volts in profile.stages()
         if volts > most_v and not (flooded and field == profile.equalise_field)), None)


def stated_v(graph: TerminalGraph, battery: str, field: str) -> float | None:
    """Return a maker's figure in volts at a battery's post: of as many equal batteries as stand in
    series below it. None when it is not stated. [V].
    """
    parameters = graph.diagram.components[battery].parameters
    own_v, at_post_v, figure = nominal_v(parameters), post_v(graph, battery), parameters.get(field)
    if not own_v or not at_post_v or figure is None:
        return figure
    return float(figure) * at_post_v / own_v


def rest_at_post_v(graph: TerminalGraph, battery: str) -> float | None:
    """Return a full battery's rest volts at its post, with those in series below it; None when its
    volts are not stated. [V].
    """
    parameters = graph.diagram.components[battery].parameters
    own_v, at_post_v, rest = (
        nominal_v(parameters), post_v(graph, battery), rest_v(parameters, 1.0).value)
    return None if not own_v or not at_post_v or rest is None else rest * at_post_v / own_v
