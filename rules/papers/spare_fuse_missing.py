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
Breakers need no spare, and a stored fuse is one itself. The fuses of panels and blocks count by
their ways. A spare listed without a class does for fuses without a class.
"""

from __future__ import annotations

from model.graph import Edge
from model.survey import Survey
from rules.fuses_aboard import devices_aboard, is_fuse
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
    fuses = {item: edge for item, edge in devices_aboard(survey).items() if is_fuse(edge, survey)}
    covered = {item: _cover(edge, survey) for item, edge in fuses.items()}
    without = in_order(item for item, cover in covered.items() if cover is False)
    if without:
        return Fault("none", tuple(without), {}, {"fuses": named(survey.diagram, without)})
    unsaid = tuple(dict.fromkeys(cover for cover in covered.values() if isinstance(cover, str)))
    return Missing(unsaid, tuple(covered)) if unsaid else None


def _cover(fuse: Edge, survey: Survey) -> bool | str:
    """Say whether a spare is aboard, by the fuse's own field or by the boat's list; else the field
    that would tell.
    """
    own: bool | None = fuse.device.get("spare_aboard")
    if own is not None:
        return own
    spares = survey.diagram.boat.spares
    if not spares:
        return f"{fuse.item}.spare_aboard" if fuse.item == fuse.owner else "boat.spares"
    sort, rated_a = fuse.device.get("class"), fuse.device.get("rated_a")
    if rated_a is None:
        return f"{fuse.item}.rated_a"
    listed = {listed_sort for listed_sort, listed_a, count in spares
              if listed_a == rated_a and count}
    if sort is None and listed and "" not in listed:
        return f"{fuse.item}.class"
    return (sort or "") in listed
