"""What it checks.
Batteries joined side by side for good: whether they are of one chemistry.

Why it matters.
Each sort wants other volts. Side by side one is overcharged and the other never full; lithium
drives its charge into lead without end.

Fails when.
Batteries of different chemistry share their positive point with no contact between.

Passes when.
All are of one sort.

Limits.
Banks that a switch or relay joins belong to 2.7, 3.10 and 6.15, batteries in series to 5.2.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.joinable import joined_for_good
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.new_batteries import all_alike
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

Group = tuple[str, ...]


def _side_by_side(survey: Survey) -> Iterator[Group]:
    """Yield the batteries that no contact parts from one another, each group."""
    for bank in survey.banks:
        for battery in bank.batteries:
            joined = joined_for_good(survey.graph, battery)
            if joined:
                yield tuple(in_order({battery, *joined}))


RULE = Rule(
    slug="unlike_chemistries_parallel",
    number="5.1",
    title="Different chemistries in parallel",
    topic="batteries",
    severity="fault",
    looks_at="each group of batteries that is joined with no contact between",
    subjects=_side_by_side,
    messages={"mixed": "{batteries} are joined for good and are of different sorts: {sorts}."},
    remedy="Separate the banks, with a converter between.",
    sources=("installers", "abyc_e13"),
    quiet={"emergency": "they are joined in an emergency only, by a contact"},
    fix="sometimes",
)


def check(group: Group, survey: Survey, profile: Profile) -> Answer:
    """Judge one group."""
    sorts = {item: survey.diagram.components[item].parameters.get("chemistry") for item in group}
    known = {str(sort) for sort in sorts.values() if sort is not None}
    if len(known) > 1:
        return Fault("mixed", group, {}, {
            "batteries": named(survey.diagram, group), "sorts": ", ".join(sorted(known))},
            severity="danger" if known & LITHIUM else "fault")
    unsaid = tuple(f"{item}.chemistry" for item, sort in sorts.items() if sort is None)
    return Missing(unsaid, group) if unsaid else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a new set, of each sort there is."""
    yield from all_alike(survey, finding.where)
