"""What it checks.
Alternators and starters: whether the negative or the case they return by leads to a battery.

Why it matters.
Made for metal boats, such a machine gives nothing by its case. Without its second wire it does not
charge or crank, or finds a way through bearings.

Fails when.
It is recorded as isolated and no negative ends at it, or its negative or its engine leads to no
battery.

Passes when.
A way leads to a battery.

Limits.
A starter whose return is neither recorded nor drawn is left to 4.8; of an alternator it cannot be
told, once its lead is drawn. Where returns are implied, nothing is judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.negatives import is_drawn
from model.analysis.no_way_home import MACHINES, leads_home
from model.analysis.systems import draws_returns
from model.diagram import Component
from model.survey import Survey
from rules.fixing import connected, negative_home
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import leads_of, size_of_thickest
from rules.wording import named

RULE = Rule(
    slug="machine_without_return",
    number="7.12",
    title="Isolated-return alternator or starter with no return",
    topic="grounding",
    severity="fault",
    looks_at="each alternator and starter",
    subjects=lambda survey: [part for part in survey.diagram.components.values()
                             if part.kind in MACHINES],
    messages={"lost": "What {machine} returns by leads to no battery.",
              "none": "{machine} is isolated from the engine, and no negative is joined to it."},
    remedy="Run a negative conductor from it to the main negative.",
    sources=("common_practice",),
    quiet={"case": "it returns by its case", "implied": "the negatives are not drawn",
           "starter": "it is a starter whose return is neither recorded nor drawn: 4.8 names it",
           "company": "other parts have no way home for the same cause: 4.27 names all"},
    fix="sometimes",
)


def check(machine: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one machine."""
    if not draws_returns(survey.diagram):
        return None
    names = {"machine": named(survey.diagram, [machine.id])}
    if machine.return_by == "case" and machine.mounted_on is None:
        return Missing((f"{machine.id}.mounted_on",), (machine.id,))
    if machine.return_by == "case" or is_drawn(
            survey.graph, survey.graph.number[f"{machine.id}.-"]):
        lost = not leads_home(survey.graph, machine.id) and _homes_drawn(survey) and not (
            _has_company(machine, survey))
        return Fault("lost", (machine.id,), {}, names) if lost else None
    if machine.return_by == "isolated":
        return Fault("none", (machine.id,), {}, names)
    is_unsaid = machine.kind == "alternator" and bool(leads_of(survey, machine.id, "+"))
    return Missing((f"{machine.id}.return_by",), (machine.id,)) if is_unsaid else None


def _has_company(machine: Component, survey: Survey) -> bool:
    """Say whether 4.27 names it with other parts that have no way home for the same cause."""
    return any(machine.id in lost.items and len(lost.items) > 1 for lost in survey.no_way_home)


def _homes_drawn(survey: Survey) -> bool:
    """Say whether the minus of any battery is drawn yet."""
    graph = survey.graph
    return any(is_drawn(graph, graph.number[f"{item}.-"])
               for bank in survey.banks for item in bank.batteries)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a negative as thick as its positive, to the main negative."""
    diagram, (item,) = survey.diagram, finding.where
    feeds = leads_of(survey, item, "+")
    home = negative_home(survey, item, feeds[0]) if feeds else None
    if home is not None:
        title = f"Run a negative from {named(diagram, [item])} to {home}"
        yield Fix(title, "mechanical", connected(
            diagram, title, f"{item}.-", home, cores=("-",), **size_of_thickest(feeds)))
