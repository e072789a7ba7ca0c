"""What it checks.
Lithium packs side by side: whether each has a fuse before the point where they join.

Why it matters.
When one pack shorts, all the others drive thousands of amperes into it, and the fuse of the bank
sees nothing of it.

Fails when.
So many packs as the figure says join with no device between each pack and the bus.

Passes when.
Each pack has a fuse.

Limits.
The cells of one factory pack are fused inside. Lead batteries belong to 1.15.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.parallel_batteries import SideBySide, side_by_side
from model.survey import Survey
from rules.block_fuses import fused_blocks
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="packs_without_fuse",
    number="6.17",
    title="Fuse per pack missing in parallel packs",
    topic="lithium",
    severity="fault",
    looks_at="each group of lithium batteries joined side by side",
    subjects=lambda survey: [
        group for group in side_by_side(survey.graph, survey.zones) if group.is_lithium],
    messages={"shared": "{batteries}: {packs_count} lithium packs lie side by side with no fuse "
                        "each."},
    remedy="Fit a fuse on each pack, between its post and the point where they join.",
    sources=("abyc_e13", "common_practice"),
    quiet={"single": "it is a single pack", "each_fused": "each has a fuse of its own"},
    figures=("lithium_parallel_min_count",),
    fix="always",
)


def check(group: SideBySide, survey: Survey, profile: Profile) -> Answer:
    """Judge one group."""
    least = profile.value("lithium_parallel_min_count")
    if group.unfused_count >= least:
        return Fault("shared", group.batteries, {"packs_count": group.unfused_count},
                     {"batteries": named(survey.diagram, group.batteries)})
    stated = group.unfused_count + sum(
        survey.diagram.components[item].parameters.get("parallel_count", 1)
        for item in group.unsaid)
    fields = tuple(f"{item}.block_fuses" for item in group.unsaid)
    return Missing(fields, group.batteries) if stated >= least else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse on each block."""
    yield fused_blocks(survey, profile, finding.where)
