"""What it checks.
Whether a spare is carried of each type and rating of fuse.

Why it matters.
The shop is two days away when the fuse of the autopilot goes; a larger one from the tin burns the
cable.

Fails when.
No spare of a type and rating that is fitted stands on the list of spares, or a fuse is recorded as
having none.

Passes when.
There is one of each.

Limits.
Breakers need no spare.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="spare_fuse_missing",
    number="12.9",
    title="Spare fuses list missing a type aboard",
    topic="papers",
    severity="note",
    looks_at="all fuses together",
    subjects=lambda survey: [survey.diagram],
    messages={"none": "No spare is carried for {fuses}."},
    remedy="Buy one of each, and write them on the list of spares.",
    sources=("common_practice",),
    quiet={"breakers": "it is a breaker"},
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge all fuses at once: they are one shopping list."""
    fuses = [part for part in survey.diagram.components.values() if part.kind == "fuse"]
    covered = {fuse.id: _is_covered(fuse, survey) for fuse in fuses}
    without = in_order(item for item, has in covered.items() if has is False)
    if without:
        return Fault("none", tuple(without), {}, {"fuses": named(survey.diagram, without)})
    unsaid = tuple(f"{item}.spare_aboard" for item, has in covered.items() if has is None)
    return Missing(unsaid, tuple(covered)) if unsaid else None


def _is_covered(fuse: Component, survey: Survey) -> bool | None:
    """Say whether a spare is aboard, by the fuse's own field or by the boat's list."""
    own: bool | None = fuse.parameters.get("spare_aboard")
    spares = survey.diagram.boat.spares
    if own is not None or not spares:
        return own
    sort, rated_a = fuse.parameters.get("class"), fuse.parameters.get("rated_a")
    return any(rated_a == listed_a and sort in (None, listed) and count
               for listed, listed_a, count in spares)
