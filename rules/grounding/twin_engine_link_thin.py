"""What it checks.
Boats with two engines, one of which can be cranked from the other's battery: the negative from its
starter to that battery.

Why it matters.
The whole cranking current returns over that link. A thin one glows, or control cables and shafts
carry it instead.

Fails when.
A conductor of that way is thinner than the starter's cable, or there is no way though negatives
are drawn.

Passes when.
It matches the starter's cable.

Limits.
A way that is implied is taken to match. Conductors that also take the starter's usual return are
left out. Starters whose engine is recorded nowhere are not looked at.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.analysis.copper import known_copper_mm2
from model.analysis.fed_by import starters_fed
from model.analysis.load_supply import batteries_at_will
from model.analysis.negative_tie import widest_way
from model.analysis.systems import draws_returns
from model.diagram import Component
from model.graph import TerminalGraph
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import leads_of, size_of_thickest
from rules.wording import named, size_words


@dataclass(frozen=True, slots=True)
class CrossStart:
    """A starter that another engine's battery can crank, the engines, and the way of its return.

    `link` are the conductors that only this return takes, None when no way is drawn.
    """

    one: Component
    other: Component
    starter: Component
    link: tuple[str, ...] | None


def _cross_starts(survey: Survey) -> Iterator[CrossStart]:
    graph, parts = survey.graph, survey.diagram.components
    fed = starters_fed(graph)
    turned = {item: engine for item in fed if (engine := _engine(parts[item], survey))}
    for one, other in itertools.permutations(turned, 2):
        crossed = batteries_at_will(graph, one) & fed[other] - fed[one]
        if crossed and turned[one] != turned[other]:
            yield CrossStart(turned[one], turned[other], parts[one],
                             _link(graph, (one, turned[one]), turned[other], crossed))


def _engine(starter: Component, survey: Survey) -> Component | None:
    """Return the engine a starter turns: as recorded, else the one it is bolted to."""
    parts = survey.diagram.components
    named_so = starter.parameters.get("driven_by") or starter.mounted_on
    return parts.get(named_so) if named_so else None


def _link(
    graph: TerminalGraph, starter: tuple[str, Component], far: Component, crossed: Iterable[str]
) -> tuple[str, ...] | None:
    """Return what the return to the other engine's batteries takes besides the starter's own way.

    Engines stand for minuses at which nothing is drawn.
    """
    item, engine = starter
    start = _minus_or(graph, item, engine)
    goals = [node for battery in sorted(crossed) for node in _minus_or(graph, battery, far)]
    way = widest_way(graph, start, goals)
    posts = [graph.number[f"{battery}.-"] for battery in starters_fed(graph)[item]]
    own = widest_way(graph, start, posts)
    return None if not way else tuple(wire for wire in way if wire not in own)


def _minus_or(graph: TerminalGraph, item: str, engine: Component) -> list[int]:
    node = graph.number[f"{item}.-"]
    drawn = any(graph.edges[i].role in ("conductor", "join") for i in graph.edges_at[node])
    return [node] if drawn else graph.nodes_of(engine.id)


RULE = Rule(
    slug="twin_engine_link_thin",
    number="7.9",
    title="Twin-engine negative link too small",
    topic="grounding",
    severity="danger",
    looks_at="each starter that the battery of another engine can crank",
    subjects=_cross_starts,
    messages={
        "thin": "{link} between {one} and {other} has {copper_mm2}; the cable of {starter} has "
                "{limit_mm2}.",
        "none": "{starter} on {one} can be cranked from the battery of {other}, and no negative is "
                "drawn from it to that battery.",
    },
    remedy="Fit a link as large as the starter's cable.",
    sources=("abyc_e11",),
    quiet={"apart": "neither engine can be cranked from the other's battery"},
    fix="sometimes",
)


def check(cross: CrossStart, survey: Survey, profile: Profile) -> Answer:
    """Judge one starter."""
    wires = survey.diagram.conductors
    ids = (cross.one.id, cross.other.id, cross.starter.id)
    names = {key: named(survey.diagram, [item])
             for key, item in zip(("one", "other", "starter"), ids, strict=True)}
    if cross.link is None:
        return Fault("none", ids, {}, names) if draws_returns(survey.diagram) else None
    leads = leads_of(survey, cross.starter.id, "+")
    unsized = tuple(f"{wire.id}.size" for wire in (*leads, *(wires[item] for item in cross.link))
                    if wire.size is None)
    if unsized:
        return Missing(unsized, ids)
    limit_mm2 = max(known_copper_mm2(wire) for wire in leads)
    thin = [item for item in cross.link if known_copper_mm2(wires[item]) < limit_mm2]
    if not thin:
        return None
    thinnest = min(thin, key=lambda item: known_copper_mm2(wires[item]))
    return Fault("thin", (thinnest, *ids), {
        "copper_mm2": round(known_copper_mm2(wires[thinnest]), 1),
        "limit_mm2": round(limit_mm2, 1)},
        {**names, "link": named(survey.diagram, [thinnest])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size of the starter's cable for a thin link."""
    diagram, starter = survey.diagram, finding.where[-1]
    size = size_of_thickest(leads_of(survey, starter, "+"))
    if finding.message_id == "thin" and size:
        link = finding.where[0]
        title = f"Replace {named(diagram, [link])} by {size_words(size['size'])}"
        yield Fix(title, "mechanical", with_fields(diagram, title, link, **size))
