"""What it checks.
Contacts by which a lithium battery can be joined to a lead one: selectors, switches, contactors.

Why it matters.
Lithium rests above the volts at which lead is full. Joined, it drives its charge into the lead
battery for days, or takes hundreds of amperes from it.

Fails when.
Some position of a contact joins them, and it is no link for emergencies.

Passes when.
Only an emergency link, a change-over without a position for both, or a converter is between them.

Limits.
A relay that volts work belongs to 3.10, batteries joined with no contact to 5.1. With lithium 2.7
leaves the pair to this check.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.joinable import besides_mains, joinable_by_hand
from model.analysis.management import lithium_batteries
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Mixed:
    """A lithium battery, another one of another or unknown sort, and the contacts between."""

    lithium: str
    other: str
    contacts: tuple[str, ...]


def _mixed(survey: Survey) -> Iterator[Mixed]:
    graph = survey.graph
    for battery in lithium_batteries(survey.diagram):
        for other, way in joinable_by_hand(graph, battery.id).items():
            contacts = tuple(dict.fromkeys(e.owner for e in way if e.role == "contact"))
            if contacts and (
                    survey.diagram.components[other].parameters.get("chemistry") not in LITHIUM):
                yield Mixed(battery.id, other, besides_mains(survey.diagram, contacts))


RULE = Rule(
    slug="lithium_joined_to_lead",
    number="6.15",
    title="Relay or BOTH position joins lithium and lead",
    topic="lithium",
    severity="fault",
    looks_at="each lithium battery that contacts can join to another sort",
    subjects=_mixed,
    messages={"joined": "{contacts} can join {lithium}, lithium, to {other}, lead."},
    remedy="Put a converter between them in place of the contact.",
    sources=("lithium_installers", "abyc_e13"),
    quiet={"emergency": "it is a link for emergencies, labelled so",
           "changeover": "it is a change-over, which never joins its two sides"},
)


def check(mixed: Mixed, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    other = survey.diagram.components[mixed.other]
    if "chemistry" not in other.parameters:
        return Missing((f"{other.id}.chemistry",), (*mixed.contacts, mixed.lithium, other.id))
    return Fault("joined", (*mixed.contacts, mixed.lithium, mixed.other), {}, {
        "contacts": named(survey.diagram, mixed.contacts),
        "lithium": named(survey.diagram, [mixed.lithium]),
        "other": named(survey.diagram, [mixed.other])})
