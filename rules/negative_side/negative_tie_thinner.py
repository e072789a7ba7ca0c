"""What it checks.
Where a switch can join two banks in need: the drawn negative between them against the positive of
the link.

Why it matters.
Cranking from the other bank returns over that negative. A thin one gets red hot, or the engine does
not turn.

Fails when.
The thinnest conductor between the two minus posts has less copper than the link's thinnest lead.

Passes when.
The negative is as large all the way.

Limits.
Only drawn negatives are looked at; a return that is implied is taken to match. Boats without a
starter, windlass or thruster are left alone. Banks whose negatives are apart belong to 8.7.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.copper import copper_mm2
from model.analysis.isolation_devices import by_hand
from model.analysis.negative_tie import widest_tie
from model.analysis.reach import reach
from model.analysis.starter import is_emergency_link
from model.diagram import Size
from model.graph import TerminalGraph
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

HEAVY = frozenset({"starter", "windlass", "thruster", "winch"})


@dataclass(frozen=True, slots=True)
class Link:
    """A switch that joins two batteries in need, its leads, and the negative between them."""

    switch: str
    leads: tuple[str, ...]
    tie: tuple[str, ...]


def _links(survey: Survey) -> Iterator[Link]:
    components = survey.diagram.components
    if not any(c.kind in HEAVY or c.parameters.get("role") in HEAVY for c in components.values()):
        return
    graph = survey.graph
    for switch in (item for item in components if _is_link(graph, item)):
        ends = [n for n in graph.nodes_of(switch)
                if graph.names[n][-2:] in ("a+", "b+", ".1", ".2")]
        leads = dict.fromkeys(graph.edges[i].owner for n in ends for i in graph.edges_at[n]
                              if graph.edges[i].role == "conductor")
        if tie := widest_tie(graph, *(_batteries(graph, node) for node in ends)):
            yield Link(switch, tuple(leads), tie)


def _is_link(graph: TerminalGraph, item: str) -> bool:
    return is_emergency_link(graph, item) or (
        graph.diagram.components[item].kind == "selector_switch")


def _batteries(graph: TerminalGraph, node: int) -> list[str]:
    """Return the batteries on one side of a link: by conductors, devices and what hands work,
    but no other link."""
    joined = reach(graph, [node], lambda e, _: e.role in ("conductor", "join", "overcurrent") or (
        e.role == "contact" and by_hand(graph, e) and not _is_link(graph, e.owner)))
    return in_order({graph.component_of[n] for n in joined if graph.diagram.components[
        graph.component_of[n]].kind == "battery_bank"})


RULE = Rule(
    slug="negative_tie_thinner",
    number="8.8",
    title="Negative tie thinner than the positive link",
    topic="negative_side",
    severity="danger",
    looks_at="each switch that joins two banks in need",
    subjects=_links,
    messages={
        "thin": "The negative between the banks has {found_mm2} in {wires}; the positive leads of "
                "{switch} have {least_mm2}.",
    },
    remedy="Make the negative between the banks as large as the positive.",
    sources=("abyc_e11",),
    quiet={
        "no_link": "no switch joins the banks in need, or the copper is the same",
        "no_motor": "no starter, windlass or thruster is aboard",
    },
    fix="always",
)


def check(link: Link, survey: Survey, profile: Profile) -> Answer:
    """Judge one link by the copper there and back."""
    copper = {wire: copper_mm2(survey.diagram.conductors[wire])
              for wire in (*link.leads, *link.tie)}
    unknown = in_order(wire for wire, area in copper.items() if area is None)
    known = {wire: area for wire, area in copper.items() if area is not None}
    least_mm2 = min((known[wire] for wire in link.leads if wire in known), default=0.0)
    thin = in_order(wire for wire in link.tie if known.get(wire, least_mm2) < least_mm2)
    if unknown and (not thin or set(unknown) & set(link.leads)):
        return Missing(tuple(f"{wire}.size" for wire in unknown), (*unknown, link.switch))
    if not thin:
        return None
    return Fault(
        "thin", (*thin, link.switch),
        {"found_mm2": min(known[wire] for wire in thin), "least_mm2": least_mm2},
        {"wires": named(survey.diagram, thin), "switch": named(survey.diagram, [link.switch])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size of the link's leads for every thin conductor of the negative."""
    diagram = survey.diagram
    thin, switch = finding.where[:-1], finding.where[-1]
    link = next(one for one in _links(survey) if one.switch == switch)
    lead = min((diagram.conductors[w] for w in link.leads), key=lambda w: copper_mm2(w) or 0.0)
    size, count = lead.size, lead.parallel_count
    if isinstance(size, Size):
        title = f"Replace {named(diagram, thin)} by {size_words(size)}"
        steps = [lambda d, wire=wire: with_fields(d, title, wire, size=size, parallel_count=count)
                 for wire in thin]
        yield Fix(title, "mechanical", together(diagram, title, *steps))
