"""What it checks.
Whether the owner has decided about bonding underwater metal.

Why it matters.
Two schools disagree. Bonded seacocks share the anode and the stray current; seacocks left alone are
spared the stray current and guard themselves. Half of each is the worst.

Fails when.
The owner has recorded that it is undecided.

Passes when.
Bonded or unbonded is recorded.

Limits.
The program does not choose: a surveyor who knows the boat and its berth does.
"""

from __future__ import annotations

from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="bonding_undecided",
    number="7.10",
    title="Bonding a seacock makes a stray current path",
    topic="grounding",
    severity="note",
    looks_at="the boat",
    subjects=lambda survey: [survey.diagram],
    messages={"undecided": "Whether underwater metal is bonded is undecided on {boat}. Bonded, it "
                           "shares the anode and carries stray current; unbonded, it carries none "
                           "and has no anode. Decide with a surveyor, and do all alike."},
    remedy="Weigh both views with a surveyor and record the choice.",
    sources=("abyc_e2", "corrosion_articles"),
    quiet={"recorded": "the owner's choice is recorded"},
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    boat = survey.diagram.boat
    return Fault("undecided", ("boat",), {}, {"boat": named(survey.diagram, ["boat"])}) if (
        boat.bonding_view == "owner_undecided") else None
