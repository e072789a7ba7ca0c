"""What it checks.
Boats with several shore inlets: whether two of them can reach one bus.

Why it matters.
With one lead plugged in, the pins of the other inlet are live in the open air.

Fails when.
Some positions of the switches join two inlets.

Passes when.
A change-over that breaks before it makes keeps them apart.

Limits.
Other pairs of sources belong to 9.6.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from model.analysis.alternating import AcSource, inlets, joined_way, joined_while_turned
from model.survey import Survey
from rules.ac_lock import kept_apart
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

Pair = tuple[AcSource, AcSource]


def _pairs(survey: Survey) -> Iterator[Pair]:
    yield from itertools.combinations(inlets(survey.graph), 2)


RULE = Rule(
    slug="two_inlets_tied",
    number="9.19",
    title="Two shore inlets tied",
    topic="alternating",
    severity="danger",
    looks_at="each two shore inlets",
    subjects=_pairs,
    messages={
        "tied": "{one} and {other} can be joined: the pins of one are live while the other is "
                "plugged in.",
        "overlap": "{switch} makes before it breaks: {one} and {other} are joined while it is "
                   "turned.",
    },
    remedy="Fit a change-over that breaks before it makes.",
    sources=("abyc_e11_transfer",),
    quiet={"interlock": "one inlet is dead by an interlock"},
    fix="sometimes",
)


def check(pair: Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    graph, (one, other), where = survey.graph, pair, tuple(inlet.part.id for inlet in pair)
    names = {"one": named(survey.diagram, where[:1]), "other": named(survey.diagram, where[1:])}
    if joined_way(graph, one.live, other.live) is not None:
        return Fault("tied", where, {}, names)
    sure, switches = joined_while_turned(graph, one.live, other.live)
    if sure:
        return Fault("overlap", (*where, *switches), {},
                     {**names, "switch": named(survey.diagram, switches)})
    asked = tuple(f"{item}.break_before_make" for item in switches)
    return Missing(asked, (*where, *switches)) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a lock between two breakers, or a change-over that breaks first."""
    return kept_apart(survey, finding, {
        inlet.part.id: inlet.live for inlet in inlets(survey.graph)})
