"""What it checks.
Whether AC parts can be touched where somebody works on the DC panel.

Why it matters.
A hand that looks for a loose 12 V wire meets the shore supply, which kills.

Fails when.
It is recorded that an AC panel shares its box with DC parts and no barrier is between.

Passes when.
It has a box of its own, or a barrier that only a tool removes.

Limits.
Only eyes can tell: until it is answered the question stands on the list of what to look at aboard.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="ac_parts_in_dc_panel",
    number="9.18",
    title="AC parts reachable in the DC panel",
    topic="alternating",
    severity="danger",
    looks_at="each AC panel",
    subjects=lambda survey: [
        part for part in survey.diagram.components.values() if part.kind == "ac_panel"],
    messages={"open": "{panel} shares its box with DC parts, and no barrier covers the AC side."},
    remedy="Fit a barrier that only a tool removes, or a box of its own.",
    sources=("abyc_e11",),
    quiet={"barrier": "a barrier is between"},
    questions={
        "dc_parts_in_box": "{item}: are DC parts in the same box, and if so behind a barrier that "
                           "only a tool removes?",
    },
)


def check(panel: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one AC panel."""
    inside = panel.parameters.get("dc_parts_in_box")
    if inside is None:
        return Missing((f"{panel.id}.dc_parts_in_box",), (panel.id,))
    return Fault("open", (panel.id,), {}, {"panel": named(survey.diagram, [panel.id])}) if (
        inside == "open") else None
