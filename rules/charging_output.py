"""What charging sources give at most, as their records say."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from model.analysis.charging import Outlet, charged
from model.analysis.joinable import post_v
from model.analysis.reach import ever_joined
from model.analysis.solar_inputs import array_w, solar_inputs
from model.diagram import Component, Diagram
from model.kinds.conversion import output_ids
from model.survey import Survey

_OUT = ("solar_controller", "wind_controller", "dc_dc_charger", "dc_dc_converter")


def alternator_output_a(diagram: Diagram, item: str) -> float | None:
    """Return an alternator's full output, or the recorded cap below it; None unknown. [A]."""
    part = diagram.components[item]
    rated_a = part.parameters.get("rated_a")
    known = [float(a) for a in (*output_caps_a(diagram, part), rated_a) if a is not None]
    return min(known, default=None)


def output_caps_a(diagram: Diagram, alternator: Component) -> list[float]:
    """Return the recorded caps on an alternator's output, its own and its regulators'. [A]."""
    return [float(p["output_cap_a"])
            for p in (alternator.parameters, *_regulators(diagram, alternator))
            if "output_cap_a" in p]


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
    """Yield the DC outputs of all charging sources and arrays that are not stored."""
    for part in diagram.components.values():
        p = part.parameters
        if part.stored is True:
            continue
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
    """Return what a charging output gives, an inverter-charger's too: its rating, or less where its
    panels, its generator or the limit of its input are known to give less.
    """
    part = survey.diagram.components[outlet.source]
    if part.kind == "inverter_charger":
        return _output(part, "+", part.parameters.get("charge_a"), "charge_a")
    name = survey.graph.names[outlet.node]
    rated = next(output for output in outputs(survey.diagram) if output.terminal == name)
    most_a = _passed_on_a(survey, part)
    if rated.amperes is None or most_a is None or rated.amperes <= most_a:
        return rated
    return replace(rated, amperes=round(most_a, 1))


def _passed_on_a(survey: Survey, part: Component) -> float | None:
    """Return what a part can pass on at the nominal volts of its output: of its panels or its
    generator, or of what its input is limited to; None when that is not known. [A]
    """
    if part.kind == "dc_dc_charger":
        p = part.parameters
        if not {"current_limit_a", "input_v", "output_v"} <= p.keys():
            return None
        return float(p["current_limit_a"] * p["input_v"] * p.get("efficiency", 1) / p["output_v"])
    watts = _fed_w(survey, part)
    if watts is None:
        return None
    banks = charged(survey.graph, survey.graph.number[f"{part.id}.out+"])
    volts = [post_v(survey.graph, item) for item in banks]
    known = [v for v in volts if v is not None]
    return watts / min(known) if known and len(known) == len(volts) else None


def _fed_w(survey: Survey, part: Component) -> float | None:
    """Return what panels or a generator feed into a controller; None when it is not known. [W]"""
    if part.kind == "solar_controller":
        fed = [one for one in solar_inputs(survey.graph) if one.controller.id == part.id]
        fields = ("panel_w", "series_count", "parallel_count")
        if not fed or fed[0].unknown(*fields):
            return None
        return sum(array_w(array) for array in fed[0].arrays)
    if part.kind == "wind_controller":
        joined = ever_joined(survey.graph, [survey.graph.number[f"{part.id}.in+"]])
        fed_by = [c.parameters for c in survey.diagram.components.values()
                  if c.kind == "wind_generator" and survey.graph.number[f"{c.id}.+"] in joined]
        if not fed_by or any("rated_a" not in p or "nominal_v" not in p for p in fed_by):
            return None
        return float(sum(p["rated_a"] * p["nominal_v"] for p in fed_by))
    return None


def _output(part: Component, terminal: str, amperes: float | None, field: str) -> Output:
    return Output(part.id, f"{part.id}.{terminal}", amperes,
                  () if amperes is not None else (f"{part.id}.{field}",))
