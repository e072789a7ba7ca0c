"""Design currents: the largest current of each conductor over the duty cases, solved.

Continuous loads with no charging; each short-time load on top of its neighbours; all sources at
their limits into flat banks; every usual mode. Never the sum of ratings: a long thin lead may
limit what a motor draws.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from msgspec import Struct

from model.analysis.operating_point.answer import OperatingPoint, first_rounds
from model.analysis.operating_point.loads import INTERMITTENT
from model.analysis.operating_point.state import Problem, State

if TYPE_CHECKING:
    from model.survey import Survey

FLAT, WORKING = 0.2, 0.7  # charge of a bank after and in use: common practice, no source
CONTINUOUS = "continuous loads, nothing charging"
CHARGING = "all sources into flat banks"


class DesignCurrent(Struct, frozen=True):
    """A conductor's or device's largest current [A] and drop one way [V], and in which case."""

    current_a: float
    drop_v: float
    case: str


@dataclass(frozen=True, slots=True)
class WorstVolts:
    """The lowest volts at a load that runs [V], and in which case."""

    volts: float
    case: str


@dataclass(frozen=True, slots=True)
class Duty:
    """Design currents of conductors, worst volts of loads, what could not be told, and the
    operating point of each case by its name."""

    conductors: Mapping[str, DesignCurrent]
    loads: Mapping[str, WorstVolts]
    problems: tuple[Problem, ...]
    cases: tuple[str, ...]
    points: Mapping[str, OperatingPoint] = field(default_factory=dict)


def duty_cases(survey: Survey) -> Iterator[tuple[str, State]]:
    """Yield each duty case by name."""
    diagram = survey.diagram
    charge = {c.id: WORKING for c in diagram.components.values()}
    batteries_only = {c.id: c.kind == "battery_bank" for c in diagram.components.values()}
    groups = never_together(survey)
    quiet = replace(survey.state(sources=batteries_only), charge=charge,
                    absent=_resting("", groups))
    yield CONTINUOUS, quiet
    for item in short_time_loads(survey):
        yield running(item), replace(quiet, short_time_loads=frozenset({item}),
                                     absent=_resting(item, groups))
    for place in range(1, max(map(len, groups), default=0)):
        others = [group[place] for group in groups if len(group) > place]
        resting = frozenset(item for group in groups for item in group
                            if item not in others and (len(group) > place or item != group[0]))
        yield f"{' and '.join(others)} instead of others", replace(quiet, absent=resting)
    flat = {c.id: FLAT for c in diagram.components.values()}
    yield CHARGING, replace(survey.state(), charge=flat, loads_run=False)
    for mode in diagram.modes.values():
        if mode.usual is not False:
            yield f"mode {mode.name or mode.id}", survey.state(mode.id)


def never_together(survey: Survey) -> list[tuple[str, ...]]:
    """Return the groups of loads that never run together, the largest of each first."""
    groups: dict[str, list[str]] = {}
    for component in survey.diagram.components.values():
        name = component.parameters.get("never_with")
        if name:
            groups.setdefault(name, []).append(component.id)
    return [tuple(sorted(sorted(group), key=lambda item: -_stated_w(survey, item)))
            for group in groups.values() if len(group) > 1]


def _stated_w(survey: Survey, item: str) -> float:
    """Return the power a load states, at 12 V when its own volts are not stated. [W]."""
    p = survey.diagram.components[item].parameters
    volts = float(p.get("nominal_v") or 12.0)
    return float(p.get("power_w") or p.get("current_a", 0.0) * volts)


def _resting(at_work: str, groups: Iterable[tuple[str, ...]]) -> frozenset[str]:
    """Return the loads that rest while one runs: its own group's, all but the first of others."""
    return frozenset(item for group in groups
                     for item in (group if at_work in group else group[1:]) if item != at_work)


def running(load: str) -> str:
    """Return the name of the duty case in which a short-time load runs."""
    return f"{load} running"


def short_time_loads(survey: Survey) -> list[str]:
    """Return the loads that run for short times only."""
    return survey.graph.once("loads of short times", lambda: _short_time_loads(survey))


def _short_time_loads(survey: Survey) -> list[str]:
    found = []
    for component in survey.diagram.components.values():
        p = component.parameters
        role = p.get("role", component.kind)
        if p.get("intermittent") is True or role in INTERMITTENT or component.kind in INTERMITTENT:
            found.append(component.id)
    return found


def design_currents(survey: Survey) -> Duty:
    """Return the largest current of every conductor over all duty cases."""
    worst: dict[str, DesignCurrent] = {}
    lowest: dict[str, WorstVolts] = {}
    problems: dict[Problem, None] = {}
    points: dict[str, OperatingPoint] = {}
    near: OperatingPoint | None = None
    cases = [(name, _with_working_contacts(survey, state)) for name, state in duty_cases(survey)]
    before = [survey.solved_before(name) for name, _ in cases]
    rounds = first_rounds(survey.graph, [state for _, state in cases], survey.start_v, before)
    for (name, state), known, first in zip(cases, before, rounds, strict=True):
        point = points[name] = survey.operating_point(state, known, near, first=first)
        near = point
        _take_worst(point, name, worst, lowest)
        problems.update(dict.fromkeys(
            p for p in point.problems if p.kind in ("cannot_tell", "unsettled", "short")))
    return Duty(worst, lowest, tuple(problems), tuple(points), points)


def solved_while_running(
    survey: Survey, load: str, positions: Mapping[str, str], spent: frozenset[str]
) -> OperatingPoint:
    """Return the operating point of a short-time load's duty case with some switches standing
    otherwise and some batteries spent."""
    case = running(load)
    usual = next(state for name, state in duty_cases(survey) if name == case)
    turned = replace(usual, positions={**usual.positions, **positions}, spent=spent)
    return survey.operating_point(_with_working_contacts(survey, turned), survey.duty.points[case])


def _with_working_contacts(survey: Survey, state: State) -> State:
    """Close what a load that runs closes itself: its reversing contactor, its float switch."""
    positions = dict(state.positions)
    for component in survey.diagram.components.values():
        works = component.kind in ("reversing_contactor", "float_switch", "motor_controller")
        if works and component.id not in positions:
            positions[component.id] = "on"
    return replace(state, positions=positions)


def _take_worst(
    point: OperatingPoint, name: str, worst: dict[str, DesignCurrent],
    lowest: dict[str, WorstVolts],
) -> None:
    for wire, current in point.conductors.items():
        if wire not in worst or abs(current) > worst[wire].current_a:
            worst[wire] = DesignCurrent(abs(current), point.drops_v[wire], name)
    for item, part in point.parts.items():
        if part.state in ("runs", "cannot run") and part.current_a:
            volts = part.power_w / part.current_a
            if item not in lowest or volts < lowest[item].volts:
                lowest[item] = WorstVolts(volts, name)
