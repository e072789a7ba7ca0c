"""What it checks.
Whether each battery is held down.

Why it matters.
A battery that comes loose in a seaway tears its cables off and short-circuits them, and spills
acid.

Fails when.
It is recorded that a battery is not held down.

Passes when.
A strap, clamp or box holds it, so that it moves by no more than 10 mm.

Limits.
Only eyes can tell: until it is answered the question stands on the list of what to look at aboard.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="battery_not_secured",
    number="5.10",
    title="Battery not secured",
    topic="batteries",
    severity="danger",
    looks_at="each battery",
    subjects=batteries_aboard,
    messages={"loose": "{battery} is not held down."},
    remedy="Fit a strap or clamp that lets it move by 10 mm at most.",
    sources=("iso_batteries", "cfr_batteries", "abyc_e10"),
    questions={
        "hold_down": "{item}: is it strapped or clamped, so that no push moves it more than 10 mm?",
    },
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    held = battery.parameters.get("hold_down")
    if held is None:
        return Missing((f"{battery.id}.hold_down",), (battery.id,))
    return None if held else Fault(
        "loose", (battery.id,), {}, {"battery": named(survey.diagram, [battery.id])})
