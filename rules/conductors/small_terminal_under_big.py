"""What it checks.
The order of the lugs on each stud, where it is recorded.

Why it matters.
The largest lug belongs at the bottom, against the stud's base: a small one beneath it makes the
heavy current pass through a small washer of copper.

Fails when.
A thicker conductor's lug lies above a thinner one's.

Passes when.
They are stacked largest first.

Limits.
An order that nobody recorded is not asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from model.analysis.lugs import Bolt, Lug
from model.diagram import Conductor
from model.edits import changed, setting
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="small_terminal_under_big",
    number="4.12",
    title="Small terminals under big ones",
    topic="conductors",
    severity="caution",
    looks_at="each stud with a recorded order of lugs",
    subjects=lambda survey: survey.bolts,
    messages={
        "order": "On {bolt} the lug of {big} ({big_mm2}) lies above that of {small} ({small_mm2}).",
    },
    remedy="Stack them again, largest first.",
    sources=("survey_lists",),
    quiet={
        "unrecorded": "the order is not recorded",
        "equal": "they are of one size",
    },
    fix="always",
)


def check(bolt: Bolt, survey: Survey, profile: Profile) -> Answer:
    """Judge one stud."""
    stacked = _stacked(bolt)
    if len(stacked) < 2:
        return None
    for small, big in pairwise(lug for lug in stacked if lug.area_mm2):
        if big.area_mm2 > small.area_mm2:
            return Fault(
                "order", (big.conductor.id, small.conductor.id, bolt.component),
                {"big_mm2": round(big.area_mm2, 2), "small_mm2": round(small.area_mm2, 2)},
                {"bolt": named(survey.diagram, [bolt.name]),
                 "big": named(survey.diagram, [big.conductor.id]),
                 "small": named(survey.diagram, [small.conductor.id])})
    unknown = tuple(lug.conductor.id for lug in stacked if not lug.area_mm2)
    return Missing(tuple(f"{item}.size" for item in unknown), unknown) if unknown else None


def _stacked(bolt: Bolt) -> list[Lug]:
    """Return the lugs whose place in the stack is recorded, lowest first.

    Of two at one place the larger one is taken to lie lower.
    """
    stacked = [(place, -lug.area_mm2, number) for number, lug in enumerate(bolt.lugs)
               if (place := lug.end.stack) is not None]
    return [bolt.lugs[number] for _, _, number in sorted(stacked)]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the order by size."""
    big, _, part = finding.where
    bolt = next(one for one in survey.bolts if one.component == part
                and isinstance(check(one, survey, profile), Fault)
                and big in {lug.conductor.id for lug in one.lugs})
    wires: dict[str, Conductor] = {}
    ordered = sorted(_stacked(bolt), key=lambda lug: -lug.area_mm2)
    for place, lug in enumerate(ordered, start=1):
        wire = wires.get(lug.conductor.id, lug.conductor)
        wires[wire.id] = changed(wire, **{lug.side: changed(lug.end, stack=place)})
    title = f"Stack the lugs on {named(survey.diagram, [bolt.name])} largest first"
    yield Fix(title, "mechanical", setting(survey.diagram, title, *wires.values()))
