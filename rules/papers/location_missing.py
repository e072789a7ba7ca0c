"""What it checks.
Whether it is written down where each switch, fuse and breaker is.

Why it matters.
The fuse that nobody finds is as bad as none, and the switch behind the locker as bad as no switch.

Fails when.
A switch, fuse or breaker has neither a place nor a word on where it is.

Passes when.
All have one.

Limits.
Ways of a panel are where the panel is. Contacts that only a coil works are asked for as well: they
fail too. What is stored is not.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.whereabouts import beside
from rules.wording import designation, named

RULE = Rule(
    slug="location_missing",
    number="12.13",
    title="Location of a switch or fuse missing",
    topic="papers",
    severity="caution",
    looks_at="all switches, fuses, breakers and panels together",
    subjects=lambda survey: [survey.diagram],
    messages={"nowhere": "Nobody has written down where {parts} {verb}."},
    quiet={"row": "it stands in the row of a panel"},
    remedy="Write it in the particulars: behind the chart table, port side.",
    sources=("survey_lists",),
    fix="sometimes",
)

FEW = 3
"""So many are told in a title."""


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge all of them at once: they are one walk through the boat."""
    parts = survey.diagram.components.values()
    found = in_order(part.id for part in parts if _is_nowhere(part))
    return Fault("nowhere", tuple(found), {}, {
        "parts": named(survey.diagram, found), "verb": "is" if len(found) == 1 else "are"}) if (
            found) else None


def _is_nowhere(part: Component) -> bool:
    kind = kind_of(part)
    counts = kind.role in ("switch", "protection") or kind.field("ways") is not None
    nowhere = part.place is None and not part.position_note and part.row_of is None
    return counts and nowhere and part.stored is not True


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to write how far along a cable each is from a part that is found, where all are near
    one.
    """
    diagram = survey.diagram
    notes = {item: note for item in finding.where if (note := beside(survey, item))}
    if len(notes) < len(finding.where):
        return
    told = [f"{designation(diagram, item)} is {note}" for item, note in notes.items()]
    title = f"Write that {' and '.join(told)}" if len(told) <= FEW else (
        f"Write how far along the cable {named(diagram, notes)} are from what is beside them")
    yield Fix(title, "choice", together(diagram, title, *(
        partial(with_fields, title=title, item=item, position_note=note)
        for item, note in notes.items())))
