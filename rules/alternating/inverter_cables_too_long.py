"""What it checks.
The DC cables of each inverter: how long they are, and what they lose at its rated power.

Why it matters.
At 12 V an inverter draws a hundred amperes and more. Every metre costs volts, and it shuts down
with the battery half full.

Fails when.
They lose more than the figure at rated power, or at 12 V are longer than the figure one way.

Passes when.
They are short and thick enough.

Limits.
The way from the battery to the inverter is taken out and back, as long as it is out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import posts
from model.analysis.charging_lead import LeadOhm, out_ohm
from model.analysis.reach import came_from, stiff_passes, way_back
from model.diagram import Component
from model.graph import Edge
from model.survey import Survey
from rules.drop_limits import less_resistance
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class Feed:
    """An inverter, the volts it is fed with, and the way from the nearest battery."""

    inverter: Component
    volts: float
    way: tuple[Edge, ...]


def _feeds(survey: Survey) -> Iterator[Feed]:
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind not in INVERTERS:
            continue
        node = graph.number[f"{part.id}.+"]
        volts = survey.potentials[node].nominal_v
        came = came_from(graph, posts(graph), stiff_passes(graph, {}))
        if node in came and volts:
            yield Feed(part, volts, way_back(came, node))


RULE = Rule(
    slug="inverter_cables_too_long",
    number="9.15",
    title="Inverter DC cables: drop or length",
    topic="alternating",
    severity="fault",
    looks_at="each inverter that a battery feeds",
    subjects=_feeds,
    messages={
        "drop": "At {rated_w} the cables of {inverter} lose {drop_percent} of {supply_v}; "
                "{limit_percent} is allowed.",
        "long": "The cables of {inverter} are {cable_m} long one way; {limit_m} is the most at "
                "12 V.",
    },
    remedy="Move the inverter to the bank.",
    sources=("inverter_makers",),
    quiet={"higher": "the system is of 24 or 48 V and inside the limit of drop"},
    figures=("inverter_drop_percent", "inverter_cable_m", "inverter_efficiency_ratio",
             "low_volts_v"),
    fix="sometimes",
)


def check(feed: Feed, survey: Survey, profile: Profile) -> Answer:
    """Judge one inverter by its length, then by its drop."""
    inverter, where = feed.inverter, (feed.inverter.id,)
    names = {"inverter": named(survey.diagram, [inverter.id])}
    wires = [survey.diagram.conductors[e.owner] for e in feed.way if e.role == "conductor"]
    cable_m = round(sum(wire.length_m for wire in wires if wire.length_m is not None), 2)
    lead, limit = out_ohm(survey.graph, feed.way), profile["inverter_drop_percent"]
    rated_w: float = inverter.parameters.get("rated_w", 0.0)
    drop_percent = _drop_percent(feed, lead, rated_w, profile)
    if drop_percent > limit.value:
        return Fault("drop", where, {
            "rated_w": rated_w, "drop_percent": drop_percent, "supply_v": feed.volts,
            "limit_percent": limit}, names)
    longest = profile["inverter_cable_m"]
    low = feed.volts <= profile.value("low_volts_v")
    if low and cable_m > longest.value:
        return Fault("long", where, {"cable_m": cable_m, "limit_m": longest}, names)
    asked = [] if rated_w else [f"{inverter.id}.rated_w"]
    asked += [field for field in lead.missing if field not in asked]
    return Missing(tuple(asked), where) if asked else None


def _drop_percent(feed: Feed, lead: LeadOhm, rated_w: float, profile: Profile) -> float:
    """Return what copper out and back loses at the rated power. [%]."""
    efficiency = feed.inverter.parameters.get(
        "efficiency", profile.value("inverter_efficiency_ratio"))
    current_a = rated_w / (feed.volts * efficiency)
    return round((lead.ohm + lead.ohm) * current_a / feed.volts * 100, 2)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer thicker cables where they lose too much; length is only cured by moving it."""
    item = finding.where[0]

    def settles(after: Survey) -> bool:
        return not any(isinstance(check(feed, after, profile), Fault)
                       for feed in _feeds(after) if feed.inverter.id == item)

    if finding.message_id == "drop":
        feed = next(one for one in _feeds(survey) if one.inverter.id == item)
        ohms = {edge.owner: out_ohm(survey.graph, (edge,)).ohm for edge in feed.way
                if edge.role == "conductor"}
        ratio = finding.figures["limit_percent"] / finding.figures["drop_percent"]
        yield from less_resistance(survey, ohms, ratio, profile, settles)
