"""What it checks.
Boats with two engines, one of which can be cranked from the other's battery: the negative between
the engines.

Why it matters.
The whole cranking current returns over that link. A thin one glows, or control cables and shafts
carry it instead.

Fails when.
The link is thinner than the starter's cable, or there is none though negatives are drawn.

Passes when.
It matches the starter's cable.

Limits.
Implied negatives are taken to match.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.copper import known_copper_mm2
from model.analysis.fed_by import starters_fed
from model.analysis.load_supply import batteries_at_will
from model.analysis.negative_tie import widest_way
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class CrossStart:
    """Two engines, the starter of one of them, and the negatives between them."""

    one: str
    other: str
    starter: Component
    link: tuple[str, ...]


def _cross_starts(survey: Survey) -> Iterator[CrossStart]:
    graph, parts = survey.graph, survey.diagram.components
    fed = starters_fed(graph)
    starters = [parts[item] for item in fed if parts[item].parameters.get("driven_by") in parts]
    for one, other in itertools.permutations(starters, 2):
        engines = (one.parameters["driven_by"], other.parameters["driven_by"])
        crossed = batteries_at_will(graph, one.id) & fed[other.id] - fed[one.id]
        if crossed and engines[0] != engines[1]:
            link = widest_way(graph, *(graph.nodes_of(engine) for engine in engines))
            yield CrossStart(*engines, one, link)


RULE = Rule(
    slug="twin_engine_link_thin",
    number="7.9",
    title="Twin-engine negative link too small",
    topic="grounding",
    severity="danger",
    looks_at="each two engines of which one can be cranked from the other's battery",
    subjects=_cross_starts,
    messages={
        "thin": "{link} between {one} and {other} has {copper_mm2}; the cable of {starter} has "
                "{limit_mm2}.",
        "none": "{starter} can be cranked from the battery of {other}, and no negative is drawn "
                "between the engines.",
    },
    remedy="Fit a link as large as the starter's cable.",
    sources=("abyc_e11",),
    quiet={"apart": "neither engine can be cranked from the other's battery"},
)


def check(cross: CrossStart, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair of engines."""
    wires = survey.diagram.conductors
    where = (cross.one, cross.other, cross.starter.id)
    names = {"one": named(survey.diagram, [cross.one]),
             "other": named(survey.diagram, [cross.other]),
             "starter": named(survey.diagram, [cross.starter.id])}
    if not cross.link:
        drawn = any(s.returns == "drawn" for s in survey.diagram.systems.values())
        return Fault("none", where, {}, names) if drawn else None
    leads = [w for w in wires.values() if "+" in w.cores and cross.starter.id in (
        w.start.component, w.finish.component)]
    asked = tuple(f"{wire.id}.size" for wire in (*leads, *(wires[item] for item in cross.link))
                  if wire.size is None)
    if asked:
        return Missing(asked, where)
    limit = max(known_copper_mm2(wire) for wire in leads)
    thinnest = min(cross.link, key=lambda item: known_copper_mm2(wires[item]))
    copper = known_copper_mm2(wires[thinnest])
    return Fault("thin", (thinnest, *where),
                 {"copper_mm2": round(copper, 1), "limit_mm2": round(limit, 1)},
                 {**names, "link": named(survey.diagram, [thinnest])}) if copper < limit else None
