"""What it checks.
Batteries in parallel that share one main device, whether each has a device of its own.

Why it matters.
When one battery fails inside, all the others feed it through their links, and the main fuse sees
nothing of that.

Fails when.
Three or more lead-acid batteries are joined side by side with no device each.

Passes when.
Each battery has its own device, or they are the cells of one factory pack.

Limits.
Batteries joined by a conductor that is not marked as a bank link belong to 1.1 and 1.14. A pack
made as one is drawn as one battery with one string. Lithium belongs to 6.17.
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
    slug="parallel_batteries_behind_one_fuse",
    number="1.15",
    title="Several batteries in parallel behind one fuse",
    topic="overcurrent",
    severity="caution",
    looks_at="each group of batteries joined side by side",
    subjects=lambda survey: [group for group in side_by_side(survey.graph, survey.zones)
                             if not group.is_lithium],
    messages={
        "shared": "{batteries}: {blocks_count} lead batteries or strings lie in parallel with "
                  "no fuse each.",
    },
    remedy="Fit a fuse on each battery, between its post and the point where they join.",
    sources=("abyc_e13", "common_practice"),
    quiet={
        "factory_pack": "it is one factory pack, whose cells lie in parallel inside",
        "two_lead": "they are two lead-acid blocks",
        "each_fused": "each has a fuse of its own",
    },
    figures=("lead_parallel_min_count",),
    fix="always",
)


def check(group: SideBySide, survey: Survey, profile: Profile) -> Answer:
    """Judge one group of batteries side by side."""
    fields = tuple(f"{item}.block_fuses" for item in group.unsaid)
    least = profile["lead_parallel_min_count"]
    if group.unfused_count < least.value:
        stated = group.unfused_count + sum(
            survey.diagram.components[item].parameters.get("parallel_count", 1)
            for item in group.unsaid)
        return Missing(fields, group.batteries) if stated >= least.value else None
    if group.chemistry is None:
        unknown = [item for item in group.batteries
                   if "chemistry" not in survey.diagram.components[item].parameters]
        if unknown:
            return Missing(tuple(f"{item}.chemistry" for item in unknown), group.batteries)
    return Fault("shared", group.batteries, {"blocks_count": group.unfused_count},
                 {"batteries": named(survey.diagram, group.batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse on each block."""
    yield fused_blocks(survey, profile, finding.where)
