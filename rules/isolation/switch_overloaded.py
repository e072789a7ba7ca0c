"""What it checks.
The current through each switch and contactor over the duty cases, against its ratings.

Why it matters.
A switch beyond its rating heats at the contacts, loses voltage there and welds or burns.

Fails when.
The lasting current is above the continuous rating, or the current while a starter or another
short-time load runs is above the rating for short times.

Passes when.
Both stay within the ratings.

Limits.
A switch of unknown rating is asked after only when it carries much. A load of unknown current is
asked after when it is dead with the switch off and the fuses before it let through enough to
matter; an inverter counts by what the modes say it draws. Cranking is taken to last less than ten
seconds at a time. Where a kind has no rating for short times its only one counts; of a
voltage-sensing relay, which stands open while nothing charges, only the lasting current.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.circuit_switches import cut_off_by
from model.analysis.through_current import Through, by_edges, through
from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.unstated import asked_current, unstated, unstated_aboard
from rules.wording import named


def _switches(survey: Survey) -> list[Component]:
    return [c for c in survey.diagram.components.values()
            if survey.graph.kinds[c.id].role == "switch"]


RULE = Rule(
    slug="switch_overloaded",
    number="2.5",
    title="Switch carries more than its rating",
    topic="isolation",
    severity="fault",
    looks_at="each switch, contactor and relay",
    subjects=_switches,
    messages={
        "lasting": "{switch} carries {current_a}, more than the {rated_a} it is rated for.",
        "short": "{switch} carries {current_a} while {load} runs, more than the {rated_a} it is "
                 "rated for at such times.",
    },
    remedy="Fit a switch of a higher rating, or split the loads.",
    sources=("abyc_e11_switch", "common_practice"),
    quiet={
        "cranking": "the current of a short-time load stays within the rating for short times",
        "relay": "it is a voltage-sensing relay, which stands open while nothing charges: what "
                 "runs for a short time does not count",
        "small": "its rating is unknown and it carries no more than any battery switch may",
        "bounded": "a load of unknown current is fed through it or beside it, and with all that "
                   "fuses let through the rating is not passed",
        "minor": "a load of unknown current is behind a small fuse, or is an inverter",
    },
    figures=("unrated_switch_a", "unstated_load_a"),
    fix="always",
)


def check(switch: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one switch by its lasting current, then by each short-time load."""
    lasting, brief = through(survey, by_edges(survey, switch.id, "contact"))
    rated_a = switch.parameters.get(_continuous(switch))
    if rated_a is not None and lasting.current_a > rated_a:
        return _fault("lasting", switch, lasting, rated_a, survey)
    missing: list[str] = []
    if rated_a is None and lasting.current_a > profile.value("unrated_switch_a"):
        missing.append(f"{switch.id}.{_continuous(switch)}")
    for one in () if switch.kind == "voltage_sensing_relay" else brief:
        field, limit_a = _for_short(switch, one, survey)
        if limit_a is not None and one.current_a > limit_a:
            return _fault("short", switch, one, limit_a, survey)
        least_a = profile.value("unrated_switch_a") if rated_a is None else rated_a
        if limit_a is None and one.current_a > least_a and not missing:
            missing.append(f"{switch.id}.{field}")
    unsaid = _unsaid(switch, lasting, brief, survey, profile)
    missing += [asked_current(survey.diagram.components[load]) for load in unsaid]
    return Missing(tuple(missing), (switch.id, *unsaid)) if missing else None


def _unsaid(
    switch: Component, lasting: Through, brief: tuple[Through, ...], survey: Survey,
    profile: Profile,
) -> list[str]:
    """Return the loads of unstated current that could bring a switch beyond a rating it has."""
    if not unstated_aboard(survey):
        return []
    cut, before_a = cut_off_by(survey.graph, switch.id), _let_through_a(switch, survey)
    rated_a = switch.parameters.get(_continuous(switch))
    for_long = [one for one in unstated(cut - {one.load for one in brief}, survey)
                if one.most_a > profile.value("unstated_load_a")]
    could_a = lasting.current_a + sum(one.most_a for one in for_long)
    found = [load for one in for_long for load in one.loads
             if rated_a is not None and min(before_a, could_a) > rated_a]
    for one in brief:
        for alone in unstated(cut & {one.load}, survey):
            _, short_a = _for_short(switch, one, survey)
            limit_a = rated_a if short_a is None else short_a
            if limit_a is not None and min(before_a, one.current_a + alone.most_a) > limit_a:
                found.append(one.load)
    return in_order(found)


def _let_through_a(switch: Component, survey: Survey) -> float:
    """Return what the devices before a switch let through to it at most. [A]"""
    bounds = [None if node in survey.unfused_reach else survey.largest_before(node)
              for edge in survey.graph.edges_of[switch.id] if edge.role == "contact"
              for node in (edge.a, edge.b)]
    return max((math.inf if one is None else one[1] for one in bounds), default=math.inf)


def _continuous(switch: Component) -> str:
    """Return the field of the kind that holds the rating for lasting current."""
    known = kind_of(switch).field("rated_continuous_a") is not None
    return "rated_continuous_a" if known else "rated_a"


def _for_short(
    switch: Component, one: Through, survey: Survey
) -> tuple[str, float | None]:
    """Return the field that holds the rating for a short-time load, and the rating. [A].

    Cranking may go by the rating for short times too; a kind that has neither by its only one.
    """
    cranks = survey.diagram.components[one.load].kind == "starter"
    names = ("rated_cranking_a", "rated_intermittent_a") if cranks else ("rated_intermittent_a",)
    own = [name for name in names if kind_of(switch).field(name) is not None] or [
        _continuous(switch)]
    return own[0], next(
        (switch.parameters[name] for name in own if name in switch.parameters), None)


def _fault(
    message: str, switch: Component, one: Through, rated_a: float, survey: Survey
) -> Fault:
    return Fault(message, (switch.id, one.load) if one.load else (switch.id,),
                 {"current_a": one.current_a, "rated_a": rated_a},
                 {"switch": named(survey.diagram, [switch.id]),
                  "load": named(survey.diagram, [one.load])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a switch of the next hundred amperes."""
    switch = survey.diagram.components[finding.where[0]]
    larger_a = 100 * math.ceil(finding.figures["current_a"] / 100)
    field = _continuous(switch)
    if len(finding.where) > 1:
        one = Through(finding.figures["current_a"], "", finding.where[1])
        field = _for_short(switch, one, survey)[0]
    title = f"Fit a switch of {larger_a:g} A as {named(survey.diagram, [switch.id])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, switch.id, **{field: float(larger_a)}))
