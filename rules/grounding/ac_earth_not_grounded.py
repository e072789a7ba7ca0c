"""What it checks.
Whether the safety earth of the AC side is joined to the boat's ground.

Why it matters.
A fault from 230 V to the 12 V side or to metal in the water then finds no way but through the sea:
people have drowned beside such boats.

Fails when.
No conductor leads from the earth of an inlet or source to the boat's ground, or what it leads to
is not the ground that the DC negative is tied to.

Passes when.
One does.

Limits.
On a boat on which no ground is drawn the DC negative is taken for it: 7.1 asks where that is tied.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import AcSource, ac_sources, fed_from
from model.analysis.ground import ground_parts, grounded, reaches_ground
from model.analysis.negatives import earthing, minus_posts
from model.diagram import Component
from model.survey import Survey
from rules.fixing import connected
from rules.profiles import Profile
from rules.rewiring import terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.tying import BONDING, ground_terminal, leads_of, size_of_thickest
from rules.wording import named


def _feeding(survey: Survey) -> Iterator[AcSource]:
    """Yield the sources that feed something; an inlet on a transformer alone feeds nothing."""
    graph, parts = survey.graph, survey.diagram.components
    for source in ac_sources(graph):
        fed = {graph.component_of[node] for node in fed_from(graph, source.live)}
        consumers = [i for i in fed if parts[i].kind in (
            "ac_load", "ac_socket", "shore_charger", "inverter_charger", "ac_panel")]
        if any(item != source.part.id and not _needs_no_earth(parts[item]) for item in consumers):
            yield source


def _needs_no_earth(consumer: Component) -> bool:
    """Say whether a consumer is portable and double insulated: no earth is taken aboard to it."""
    facts = consumer.parameters
    return facts.get("portable") is True and facts.get("double_insulated") is True


RULE = Rule(
    slug="ac_earth_not_grounded",
    number="7.4",
    title="AC safety earth not joined to the DC negative / boat ground",
    topic="grounding",
    severity="danger",
    looks_at="each source of AC that feeds more than portable, double-insulated gear",
    subjects=_feeding,
    messages={
        "apart": "The earth of {source} is not joined to the boat's ground.",
        "other": "The earth of {source} is joined to a ground that no conductor joins to the DC "
                 "negative, which is grounded elsewhere.",
        "nowhere": "The earth of {source} is joined neither to a ground nor to the DC negative, "
                   "and no ground is drawn.",
    },
    remedy="Run a green conductor from the AC earth bus to the main ground.",
    sources=("abyc_e11", "shock_cases"),
    quiet={"portable": "only portable, double-insulated gear is used",
           "transformer": "the inlet feeds an isolating transformer, whose own earth counts"},
    fix="sometimes",
)


def check(source: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one source."""
    message = "" if "portable_ac_only" in survey.diagram.boat.aboard else _lack(source, survey)
    return Fault(message, (source.part.id,), {},
                 {"source": named(survey.diagram, [source.part.id])}) if message else None


def _lack(source: AcSource, survey: Survey) -> str:
    """Return what the earth of a source lacks, "" for nothing."""
    graph = survey.graph
    joined = grounded(graph, [source.earth])
    if not ground_parts(graph):
        return "" if any(graph.names[node].endswith("-") for node in joined) else "nowhere"
    if not reaches_ground(graph, [source.earth]):
        return "apart"
    tied = {item for bank in survey.banks for item in bank.batteries
            if reaches_ground(graph, [graph.number[f"{item}.-"]])
            and earthing(survey, item)[0] != "insulated"}
    return "other" if tied.isdisjoint(minus_posts(graph, joined)) and tied else ""


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a green conductor from its earth to the ground that the DC negative is tied to."""
    diagram, graph, (item,) = survey.diagram, survey.graph, finding.where
    source = next(one for one in ac_sources(graph) if one.part.id == item)
    ground = ground_terminal(survey)
    if ground is not None:
        title = f"Join the earth of {named(diagram, [item])} to {ground}"
        size = size_of_thickest(leads_of(survey, item, "E"))
        yield Fix(title, "choice", connected(
            diagram, title, terminal_name(graph, source.earth), ground, **BONDING, **size))
