"""What it checks.
Conductors that run through an engine space against the lower current they may carry in its heat.

Why it matters.
At 50 °C around it a cable has less to spare before its insulation is too hot. One chosen for the
cabin is too thin there, and nobody sees it.

Fails when.
Some of it lies in an engine space and its current is above the reduced ampacity, though not above
the one outside; or its insulation is of a class that is not admitted there.

Passes when.
The reduced ampacity covers the current, or next to nothing of it lies in the engine space.

Limits.
The current is solved over the usual states; cranking and runs by a maker's short-time table are
left out as in 4.1. One that would carry too much anywhere belongs to 4.1.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.ampacity_range import ampacity_range, insulation_classes_c
from model.diagram import Conductor
from model.edits import changed
from model.survey import Survey
from rules.fixing import thicker, with_fields
from rules.loading import case_words, loadings, only_charges, outside, where_it_runs
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words


def _conductors(survey: Survey) -> Iterator[Conductor]:
    for run in survey.runs:
        for item in run:
            yield survey.diagram.conductors[item]


RULE = Rule(
    slug="engine_space_rating_not_applied",
    number="4.6",
    title="Engine-space rating not applied",
    topic="conductors",
    severity="fault",
    looks_at="each DC power conductor of which some runs in an engine space",
    subjects=_conductors,
    messages={
        "class": "{wire} has insulation of {insulation_c} and runs through an engine space; there "
                 "that class is not admitted.",
        "reduced": "{wire} carries {current_a} with {case}. Outside the engine space it may carry "
                   "{outside_a}, within it only {ampacity_a}.",
    },
    remedy="Fit a thicker conductor or one of better insulation, or lead it around the engine "
           "space.",
    sources=("abyc_e11", "cfr_conductors", "iso_ampacity"),
    quiet={
        "short": "next to nothing of it lies in the engine space",
        "anywhere": "it would carry too much anywhere: 4.1 judges it",
        "unsized": "its size is not recorded: 4.1 asks for it where it matters",
        "charging": "it brings a charging source's current alone: 1.11 and 1.13 judge it",
    },
    figures=("engine_space_least_m",),
    fix="sometimes",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.engine_space_m is not None and (
            wire.engine_space_m < profile.value("engine_space_least_m")):
        return None
    inside = where_it_runs(wire, survey, profile)
    if inside.low_a is None:
        return _class_judged(wire, survey, profile)
    assert inside.high_a is not None
    over = loadings(survey, wire.id, inside.low_a)
    loading = next((one for one in over if one.current_a <= _outside_a(wire, survey, profile)),
                   None)
    if loading is None or only_charges(survey, wire.id):
        return None
    outside_a = _outside_a(wire, survey, profile)
    if any(one.current_a > outside_a and not one.asks for one in over):
        return None  # too much anywhere: 4.1 judges it
    if loading.current_a <= inside.high_a:
        return Missing(tuple(f"{wire.id}.{field}" for field in inside.missing), (wire.id,))
    if loading.asks:
        return Missing(loading.asks, (wire.id, loading.asks[0].partition(".")[0]))
    return Fault(
        "reduced", (wire.id,),
        {"current_a": loading.current_a, "ampacity_a": inside.high_a,
         "outside_a": outside_a},
        {"wire": named(survey.diagram, [wire.id]), "case": case_words(survey, loading.case)},
        sources=inside.sources, unverified=not inside.confirmed)


def _outside_a(wire: Conductor, survey: Survey, profile: Profile) -> float:
    """Return what a conductor may carry outside engine spaces, the least it may be. [A]"""
    low_a = outside(wire, survey, profile).low_a
    assert low_a is not None
    return low_a


def _class_judged(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one without a figure in the heat: its class has none there, or its size is unknown."""
    dry = outside(wire, survey, profile)
    if dry.low_a is None:
        return None
    assert wire.insulation_c is not None
    return Fault("class", (wire.id,), {"insulation_c": wire.insulation_c},
                 {"wire": named(survey.diagram, [wire.id])}, sources=dry.sources, unverified=True)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size, or the insulation, that carries the current in the engine space too."""
    wire = finding.where[0]
    if finding.message_id == "class":
        yield from _insulated(survey.diagram.conductors[wire], survey, profile)
        return
    size = thicker(survey, wire, profile, carries_a=finding.figures["current_a"])
    if size is not None:
        title = f"Replace {named(survey.diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "choice", with_fields(survey.diagram, title, wire, size=size))


def _insulated(wire: Conductor, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Yield the cable of the next class of insulation that does there."""
    most_a = max((one.current_a for one in loadings(survey, wire.id)), default=0.0)
    for insulation_c in insulation_classes_c(profile.ampacity_table):
        better = changed(wire, insulation_c=insulation_c)
        low_a = ampacity_range(better, survey.diagram, profile.ampacity_table).low_a
        if low_a is not None and low_a >= most_a:
            title = f"Replace {named(survey.diagram, [wire.id])} by one of {insulation_c:g} °C"
            yield Fix(title, "choice", with_fields(
                survey.diagram, title, wire.id, insulation_c=insulation_c))
            return
