"""What it checks.
Whether a battery stands directly above or below a fuel tank, filter or fuel fitting.

Why it matters.
Fuel that drips on a battery, or acid on fuel gear, meets the sparks of the battery's terminals; a
spanner between a post and a metal fuel part starts a fire where it burns best.

Fails when.
It is recorded that fuel gear is directly above or below the battery with nothing between.

Passes when.
There is none, or a deck or plate is between.

Limits.
Boats on which nothing burns fuel are not asked. Only eyes can tell: until it is answered the
question stands on the list of what to look at aboard.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.diagram import Component
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

BURNS_FUEL = frozenset({"engine_block", "alternator", "starter", "generating_set", "fuel_tank"})


def _beside_fuel(survey: Survey) -> Iterable[Component]:
    kinds = {part.kind for part in survey.diagram.components.values()}
    return batteries_aboard(survey) if kinds & BURNS_FUEL else ()


RULE = Rule(
    slug="battery_near_fuel_gear",
    number="5.15",
    title="Battery above or below fuel gear",
    topic="batteries",
    severity="danger",
    looks_at="each battery of a boat that burns fuel",
    subjects=_beside_fuel,
    messages={"near": "{battery} stands directly {side} fuel gear with nothing between."},
    remedy="Move the battery, or fit a deck or plate between.",
    sources=("iso_batteries",),
    quiet={"plate": "a deck or plate is between"},
    questions={
        "above_fuel_gear": "{item}: is a fuel tank, filter or fitting directly below it, with no "
                           "deck or plate between?",
        "below_fuel_gear": "{item}: is a fuel tank, filter or fitting directly above it, or a "
                           "metal fuel part within 300 mm above, with no deck or plate between?",
    },
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    sides = {"above_fuel_gear": "above", "below_fuel_gear": "below"}
    for field, side in sides.items():
        if battery.parameters.get(field) is True:
            return Fault("near", (battery.id,), {},
                         {"battery": named(survey.diagram, [battery.id]), "side": side})
    asked = tuple(f"{battery.id}.{f}" for f in sides if battery.parameters.get(f) is None)
    return Missing(asked, (battery.id,)) if asked else None
