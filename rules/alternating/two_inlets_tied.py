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

from model.analysis.alternating import AcSource, inlets, joined_way
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
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
    messages={"tied": "{one} and {other} can be joined: the pins of one are live while the other "
                      "is plugged in."},
    remedy="Fit a change-over that breaks before it makes.",
    sources=("abyc_e11_transfer",),
    quiet={"interlock": "one inlet is dead by an interlock"},
)


def check(pair: Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    one, other = pair
    if joined_way(survey.graph, one.live, other.live) is None:
        return None
    return Fault("tied", (one.part.id, other.part.id), {}, {
        "one": named(survey.diagram, [one.part.id]),
        "other": named(survey.diagram, [other.part.id])})
