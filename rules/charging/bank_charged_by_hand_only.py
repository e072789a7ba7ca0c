"""What it checks.
Each bank that something can charge: whether it is charged with the switches as they usually stand.

Why it matters.
What has to be remembered is forgotten: the bank is found flat, or the banks are left joined and are
flat together.

Fails when.
The bank is charged only after a hand has turned a switch: over an emergency link, a paralleling
switch, or another position of the selector.

Passes when.
A source reaches it with the switches as they usually stand, over relays and converters too.

Limits.
Relays and contactors that no hand works count as closed when it matters. A bank that nothing can
charge belongs to 3.1.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.charge_paths import reached_by_itself
from model.analysis.charging import posts
from model.analysis.usual_states import usual_states
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="bank_charged_by_hand_only",
    number="3.2",
    title="A bank charged only by hand-switching",
    topic="charging",
    severity="caution",
    looks_at="each bank that some source can charge",
    subjects=lambda survey: [b for b in survey.banks if survey.charge_sources[b.id]],
    messages={
        "by_hand": "{bank:is/are} charged only after a switch has been turned by hand: as the "
                   "switches usually stand, no source reaches {bank:~it/them}.",
        "by_routine": "{bank:is/are} charged only in the mode '{mode}': as the switches usually "
                      "stand otherwise, no source reaches {bank:~it/them}.",
    },
    remedy="Fit an automatic relay or a converter between the banks; or write down the routine, as "
           "a usual way of living with its positions.",
    sources=("common_practice",),
    quiet={
        "automatic": "a relay that no hand works, or a converter, charges it",
        "stored": "it is a spare battery marked as stored",
    },
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by the states in which it is charged."""
    own = {node for node, battery in posts(survey.graph).items() if battery in bank.batteries}
    charging = [state for state in usual_states(survey.diagram)
                if not own.isdisjoint(reached_by_itself(
                    survey.graph, survey.charge_sources[bank.id], state.positions))]
    names = {"bank": named(survey.diagram, bank.batteries)}
    if not charging:
        return Fault("by_hand", bank.batteries, {}, names)
    if charging[0].mode == "":
        return None
    return Fault("by_routine", bank.batteries, {}, {**names, "mode": charging[0].name},
                 severity="note")
