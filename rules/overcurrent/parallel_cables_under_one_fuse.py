"""What it checks.
Cables that lie in parallel behind one fuse or breaker.

Why it matters.
When one of them breaks or its lug works loose, the others carry the whole current, and the device
was sized for all of them together.

Fails when.
The device is rated above the ampacity of one of the cables alone.

Passes when.
Each cable alone covers the device, or they are thick enough and end on the same studs.

Limits.
Cables that do not cover the device even together belong to 1.4, unequal ones to 4.15.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.diagram import Conductor
from model.survey import Survey
from model.units import area_mm2
from rules.allowance import allowance
from rules.fixing import thicker, together, with_fields, without
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named, size_words

Cables = tuple[Conductor, ...]


def _groups(survey: Survey) -> Iterator[Cables]:
    """Yield each group of cables in parallel: drawn singly, or as one line of several."""
    wires = survey.diagram.conductors
    for group in sorted(set(survey.cables_beside.values())):
        yield tuple(wires[item] for item in group)
    for wire in wires.values():
        several = wire.parallel_count is not None and wire.parallel_count > 1
        if several and wire.id not in survey.cables_beside:
            yield (wire,)


RULE = Rule(
    slug="parallel_cables_under_one_fuse",
    number="1.21",
    title="Two or more cables in parallel under one fuse",
    topic="overcurrent",
    severity="caution",
    looks_at="each group of cables in parallel",
    subjects=_groups,
    messages={
        "shared": "{device} of {rated_a} guards {cables_count} cables in parallel ({cables}); one "
                  "of them alone carries {each_a}.",
    },
    remedy="Fit one bigger cable, or a fuse for each cable.",
    sources=("abyc_e11_parallel", "common_practice"),
    quiet={
        "thick": "they end on the same studs, are thick enough, and together cover the fuse",
        "covers": "each of them alone covers the fuse",
        "too_large": "they do not cover the fuse even together: 1.4 judges it",
        "unrated": "the rating of the fuse is not recorded: 1.4 asks for it",
        "single": "it is one cable",
    },
    figures=("parallel_min_mm2", "next_size_max_ratio"),
    fix="sometimes",
)


def check(cables: Cables, survey: Survey, profile: Profile) -> Answer:
    """Judge one group by the device before it."""
    edge = survey.graph.edges_of[cables[0].id][0]
    if {edge.a, edge.b} & survey.unfused_reach:
        return None
    guards = (survey.guard(edge, node) for node in (edge.a, edge.b))
    rated = [(guard.sure_a, guard.device) for guard in guards
             if guard is not None and guard.sure_a is not None]
    if not rated:
        return None
    rated_a, device = max(rated)
    if allowance(survey, cables[0], rated_a, profile).verdict not in ("covered", "next_size"):
        return None
    each = [_one_a(cable, survey, profile) for cable in cables]
    each_a = min(amperes for amperes in each if amperes is not None)
    if rated_a <= each_a or _may_lie_in_parallel(cables, profile):
        return None
    where = tuple(cable.id for cable in cables)
    count = sum(cable.parallel_count or 1 for cable in cables)
    return Fault("shared", (*where, device),
                 {"rated_a": rated_a, "cables_count": count, "each_a": each_a},
                 {"device": named(survey.diagram, [device]),
                  "cables": named(survey.diagram, where)})


def _one_a(cable: Conductor, survey: Survey, profile: Profile) -> float | None:
    """Return the ampacity of one of the cables a line stands for. [A]."""
    high_a = survey.ampacity_range(cable, profile.ampacity_table).high_a
    return None if high_a is None else high_a / (cable.parallel_count or 1)


def _may_lie_in_parallel(cables: Cables, profile: Profile) -> bool:
    areas = [area_mm2(c.size.standard, c.size.text) for c in cables if c.size is not None]
    on_studs = {frozenset((e.component, e.terminal) for e in c.ends()) for c in cables}
    return min(areas) >= profile.value("parallel_min_mm2") and len(on_studs) == 1


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer one bigger cable in place of all of them."""
    first, *others = finding.where[:-1]
    one = thicker(survey, first, profile, carries_a=finding.figures["rated_a"] * (
        survey.diagram.conductors[first].parallel_count or 1))
    if one is not None:
        title = f"Replace {named(survey.diagram, [first, *others])} by one {size_words(one)}"
        yield Fix(title, "mechanical", together(
            survey.diagram, title,
            partial(with_fields, title=title, item=first, size=one, parallel_count=None),
            partial(without, title=title, conductors=others)))
