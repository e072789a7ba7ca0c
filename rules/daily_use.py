"""What loads draw, and what is taken from a bank in a day as far as minutes are written down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from model.analysis.circuit_switches import loads_in_use
from model.kinds import kind_of
from model.survey import Survey
from rules.always_on import current_a
from rules.motors import MIN_PER_H
from rules.ordering import in_order


@dataclass(frozen=True, slots=True)
class DailyUse:
    """What loads with minutes a day take [Ah], and the fields of those whose current is unsaid."""

    taken_ah: float
    unsaid: tuple[str, ...]


def daily_use(batteries: Iterable[str], survey: Survey) -> DailyUse:
    """Return what the loads of a bank take in a day by their minutes and currents."""
    total_ah, unsaid = 0.0, []
    for item in in_order(loads_in_use(survey.graph, batteries)):
        minutes = survey.diagram.components[item].parameters.get("minutes_per_day")
        if not minutes:
            continue
        amperes = drawn_a(item, survey)
        if amperes is None:
            unsaid.append(current_field(item, survey))
        else:
            total_ah += amperes * minutes / MIN_PER_H
    return DailyUse(round(total_ah, 1), tuple(unsaid))


def drawn_a(load: str, survey: Survey) -> float | None:
    """Return what a load draws at the nominal volts of its network; None when unsaid. [A].

    An AC load that crossed wires put on a battery has no plus: its own volts count.
    """
    plus = survey.graph.number.get(f"{load}.+")
    volts = None if plus is None else survey.potentials[plus].nominal_v
    return current_a(survey.diagram.components[load], volts)


def current_field(load: str, survey: Survey) -> str:
    """Return the field that tells what a load draws."""
    part = survey.diagram.components[load]
    if kind_of(part).field("current_a") is not None:
        return f"{load}.current_a"
    return f"{load}.input_v" if "rated_w" in part.parameters else f"{load}.rated_w"
