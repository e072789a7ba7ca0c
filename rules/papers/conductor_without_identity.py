"""What it checks.
Whether each conductor carries its number at both ends.

Why it matters.
At sea, by torchlight, a bundle of red wires without numbers cannot be told apart; a wire on the
wrong stud is how batteries get short-circuited.

Fails when.
A conductor is recorded as marked at one end only, or not at all.

Passes when.
Its number is printed at both ends.

Limits.
The drawing gives every conductor a number of its own; only what is on the cable is asked for.
"""

from __future__ import annotations

from model.diagram import Conductor
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

MARKED = "both_ends"

RULE = Rule(
    slug="conductor_without_identity",
    number="12.1",
    title="Conductor without an identity at both ends",
    topic="papers",
    severity="note",
    looks_at="all conductors together",
    subjects=lambda survey: [survey.diagram],
    messages={"unmarked": "Not marked at both ends: {wires}."},
    remedy="Put a sleeve with the number of the drawing on both ends.",
    sources=("abyc_e11", "iso_manual"),
    quiet={"links": "it is a link inside a bank"},
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge all conductors at once: they are one job with a roll of sleeves."""
    wires = [wire for wire in survey.diagram.conductors.values() if not _is_link(wire, survey)]
    bare = in_order(w.id for w in wires if w.label_printed not in (None, MARKED))
    if bare:
        return Fault("unmarked", tuple(bare), {}, {"wires": named(survey.diagram, bare)})
    unsaid = tuple(f"{wire.id}.label_printed" for wire in wires if wire.label_printed is None)
    return Missing(unsaid, tuple(wire.id for wire in wires)) if unsaid else None


def _is_link(wire: Conductor, survey: Survey) -> bool:
    parts = survey.diagram.components
    return all(parts[end.component].kind == "battery_bank" for end in wire.ends())
