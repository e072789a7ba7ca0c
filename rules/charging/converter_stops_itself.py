"""What it checks.
Each DC-DC charger and converter that stops when its input volts are low, in every case that lasts:
whether its own current brings them so low.

Why it matters.
Stopped, it sees the full volts of its source and starts; at work, its own current takes so much in
a thin or long lead that it stops. It goes on like that for hours: the bank behind it is hardly
charged, contacts wear, and what it supplies fails.

Fails when.
Stopped, its input has the volts at which it starts; at work, less than those at which it stops.

Passes when.
At work it still has more than the volts at which it stops.

Limits.
Volts are those of the solved network, settled; delays are left out, and so are the moments in which
an engine is started or a windlass runs. Voltage-sensing relays belong to 3.8, what empties its
source with the engine stopped to 3.11.
"""

from __future__ import annotations

from model.analysis.charging import works_by_signal
from model.analysis.charging_lead import out_ohm
from model.analysis.drawn_returns import without_return
from model.analysis.fed_by import way_from_battery
from model.analysis.operating_point.automatic import has_thresholds, thresholds_v
from model.analysis.unsteady import unsteady
from model.diagram import Component
from model.survey import Survey
from rules.loading import case_words
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


def _subjects(survey: Survey) -> list[Component]:
    lost = without_return(survey).union(*(lost.items for lost in survey.no_way_home))
    return [part for part in survey.diagram.components.values()
            if has_thresholds(part) and part.id not in lost
            and not works_by_signal(survey.graph, part)]


RULE = Rule(
    slug="converter_stops_itself",
    number="3.26",
    title="DC-DC charger or converter stopped by its own current",
    topic="charging",
    severity="caution",
    looks_at="each DC-DC charger and converter that low input volts stop",
    subjects=_subjects,
    messages={
        "again": "{converter} starts and stops again and again with {case}: stopped, its input has "
                 "the {start_v} at which it starts; at work {input_v}, less than the {stop_v} at "
                 "which it stops.",
        "stops": "{converter} stops with {case}: at work its input has {input_v}, less than the "
                 "{stop_v} it needs.",
    },
    remedy="Shorten or thicken the leads to its input, limit its current, or set the volts at "
           "which it starts and stops farther apart.",
    sources=("converter_makers",),
    quiet={
        "signal": "a run signal is wired to it",
        "unstated": "no volts are stated at which it stops",
        "return": "it has no return: 4.8 or 4.27 names it",
    },
)


def check(converter: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one charger or converter."""
    case = unsteady(survey).get(converter.id)
    way = way_from_battery(survey.graph, survey.graph.number[f"{converter.id}.in+"], {})
    if case is None:
        unsaid = out_ohm(survey.graph, way).missing
        return Missing(unsaid, (converter.id,)) if unsaid else None
    stop_v, start_v = thresholds_v(converter)
    figures = {"input_v": _input_v(converter, case, survey), "stop_v": stop_v}
    starts = {"start_v": start_v} if "start_above_v" in converter.parameters else {}
    leads = dict.fromkeys(edge.owner for edge in reversed(way) if edge.role == "conductor")
    return Fault(
        "again" if starts else "stops", (converter.id, *leads), {**starts, **figures},
        {"converter": named(survey.diagram, [converter.id]), "case": case_words(survey, case)})


def _input_v(converter: Component, case: str, survey: Survey) -> float:
    """Return the volts at its input while it works. [V]"""
    volts = survey.duty.points[case].terminals
    return round(volts[f"{converter.id}.in+"] - volts[f"{converter.id}.-"], 2)
