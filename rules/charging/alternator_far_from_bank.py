"""What it checks.
The way from each alternator to the house bank it charges: how many switches are in it, and what it
loses at rated output.

Why it matters.
Every switch is a contact that ages and a hand that may turn it. What is lost on a long chain makes
the alternator go back before the house bank is full.

Fails when.
The way passes more switches than are wise, or loses more than the limit.

Passes when.
Both stay within the limits.

Limits.
Batteries made for the house or for both count. Contacts of relays count as switches. Copper at
20 °C, out and back. What the lead to the nearest bank loses belongs to 3.19.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import charged, charging_way, nearest_charged
from model.analysis.charging_lead import out_and_back_ohm, out_ohm
from model.analysis.joinable import post_v
from model.graph import Edge
from model.survey import Survey
from rules.charging_output import alternator_output_a
from rules.drop_limits import less_resistance
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

HOUSE = ("house", "dual", None)


@dataclass(frozen=True, slots=True)
class Chain:
    """The way from an alternator to a battery that may be a house bank's."""

    alternator: str
    battery: str
    way: tuple[Edge, ...]
    is_nearest: bool


def _chains(survey: Survey) -> Iterator[Chain]:
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind != "alternator":
            continue
        node = graph.number[f"{part.id}.+"]
        ways = {item: charging_way(graph, node, [item]) for item in charged(graph, node)}
        ways = {item: way for item, way in ways.items() if way}
        nearest, _ = nearest_charged(graph, node)
        for item in in_order(ways):
            if survey.diagram.components[item].parameters.get("duty") in HOUSE:
                yield Chain(part.id, item, ways[item], item == nearest)


RULE = Rule(
    slug="alternator_far_from_bank",
    number="3.24",
    title="Alternator through a long chain to the bank it should charge",
    topic="charging",
    severity="caution",
    looks_at="each alternator with each house battery it charges",
    subjects=_chains,
    messages={
        "switches": "From {alternator} to {battery} the current passes {switches}.",
        "drop": "From {alternator} to {battery} and back {drop_v} are lost at {rated_a}, more than "
                "{limit_percent}.",
    },
    remedy="Lay a direct lead with a fuse to the bank.",
    sources=("common_practice",),
    quiet={
        "within": "the drop and the number of switches stay within the limits at rated output",
    },
    figures=("chain_switches_max_count", "charging_drop_max_percent"),
    fix="sometimes",
)


def check(chain: Chain, survey: Survey, profile: Profile) -> Answer:
    """Judge one way by its switches, then by what it loses."""
    answer = _judged(chain, survey, profile)
    duty = survey.diagram.components[chain.battery].parameters.get("duty")
    if isinstance(answer, Fault) and duty is None:
        return Missing((f"{chain.battery}.duty",), (chain.alternator, chain.battery))
    return answer


def _judged(chain: Chain, survey: Survey, profile: Profile) -> Answer:
    where = (chain.alternator, chain.battery)
    names = {"alternator": named(survey.diagram, [chain.alternator]),
             "battery": named(survey.diagram, [chain.battery])}
    switches = in_order(edge.owner for edge in chain.way if edge.role == "contact")
    if len(switches) > profile.value("chain_switches_max_count"):
        return Fault("switches", (*where, *switches), {},
                     {**names, "switches": named(survey.diagram, switches)})
    if chain.is_nearest:
        return None
    lead = out_and_back_ohm(survey.graph, chain.way, chain.battery)
    rated_a = alternator_output_a(survey.diagram, chain.alternator)
    bank_v = post_v(survey.graph, chain.battery)
    unknown = [*lead.missing, *([] if rated_a is not None else [f"{chain.alternator}.rated_a"]),
               *([] if bank_v is not None else [f"{chain.battery}.block_nominal_v"])]
    if rated_a is None or bank_v is None:
        return Missing(tuple(unknown), where)
    most, drop_v = profile["charging_drop_max_percent"], round(lead.ohm * rated_a, 3)
    if drop_v <= round(most.value * bank_v / 100, 3):
        return Missing(tuple(unknown), where) if unknown else None
    return Fault("drop", where, {"drop_v": drop_v, "rated_a": rated_a, "limit_percent": most},
                 names)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer thicker conductors where they lose too much."""
    pair = finding.where[:2]

    def settles(after: Survey) -> bool:
        return not any(isinstance(check(chain, after, profile), Fault) for chain in _chains(after)
                       if (chain.alternator, chain.battery) == pair)

    bank_v = post_v(survey.graph, pair[1])
    if finding.message_id == "drop" and bank_v is not None:
        way = next(chain.way for chain in _chains(survey)
                   if (chain.alternator, chain.battery) == pair)
        ohms = {edge.owner: out_ohm(survey.graph, (edge,)).ohm for edge in way
                if edge.role == "conductor"}
        limit_v = finding.figures["limit_percent"] * bank_v / 100
        yield from less_resistance(
            survey, ohms, limit_v / finding.figures["drop_v"], profile, settles)
