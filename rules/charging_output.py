"""What charging sources give at most, as their records say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import Outlet
from model.diagram import Component, Diagram
from model.kinds.conversion import output_ids
from model.survey import Survey

_OUT = ("solar_controller", "wind_controller", "dc_dc_charger", "dc_dc_converter")


def alternator_output_a(diagram: Diagram, item: str) -> float | None:
    """Return an alternator's full output, or the recorded cap below it; None unknown. [A]."""
    part = diagram.components[item]
    caps = [p["output_cap_a"] for p in (part.parameters, *_regulators(diagram, part))
            if "output_cap_a" in p]
    rated_a = part.parameters.get("rated_a")
    known = [float(a) for a in (*caps, rated_a) if a is not None]
    return min(known, default=None)


def _regulators(diagram: Diagram, alternator: Component) -> list[dict[str, float]]:
    return [dict(part.parameters) for part in diagram.components.values()
            if part.kind == "regulator" and (
                part.parameters.get("regulates") == alternator.id
                or alternator.parameters.get("regulator") == part.id)]


@dataclass(frozen=True, slots=True)
class Output:
    """A terminal at which a source gives, and how much at most; with what is missing to say. [A].
    """

    source: str
    terminal: str
    amperes: float | None
    missing: tuple[str, ...] = ()


def outputs(diagram: Diagram) -> Iterator[Output]:
    """Yield the DC outputs of all charging sources and arrays."""
    for part in diagram.components.values():
        p = part.parameters
        if part.kind == "alternator":
            yield _output(part, "+", alternator_output_a(diagram, part.id), "rated_a")
        elif part.kind == "wind_generator":
            yield _output(part, "+", p.get("rated_a"), "rated_a")
        elif part.kind == "solar_array" and "panel_isc_a" in p:
            yield _output(part, "+", p["panel_isc_a"] * p.get("parallel_count", 1), "panel_isc_a")
        elif part.kind == "shore_charger":
            own = {row["id"]: row.get("rated_a") for row in p.get("outputs", ())}
            for name in output_ids(p):
                yield _output(part, f"{name}+", own.get(name) or p.get("rated_a"), "rated_a")
        elif part.kind in _OUT:
            yield _output(part, "out+", p.get("rated_output_a"), "rated_output_a")


def output_at(survey: Survey, outlet: Outlet) -> Output:
    """Return what a charging output gives, an inverter-charger's too."""
    part = survey.diagram.components[outlet.source]
    if part.kind == "inverter_charger":
        return _output(part, "+", part.parameters.get("charge_a"), "charge_a")
    name = survey.graph.names[outlet.node]
    return next(output for output in outputs(survey.diagram) if output.terminal == name)


def _output(part: Component, terminal: str, amperes: float | None, field: str) -> Output:
    return Output(part.id, f"{part.id}.{terminal}", amperes,
                  () if amperes is not None else (f"{part.id}.{field}",))
