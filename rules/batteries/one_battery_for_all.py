"""What it checks.
Boats with a single battery bank that both cranks the engine and feeds the house.

Why it matters.
A night with the anchor light and the fridge, and the engine does not start in the morning, on a lee
shore.

Fails when.
The boat has one bank, and starter and house hang on it.

Passes when.
There is a second battery, or another way to start.

Limits.
Loads that only keep the boat afloat or awake do not count as house.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.fed_by import fed_loads
from model.survey import Survey
from rules.always_on import is_always_on
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

ENGINE_ROLES = frozenset({"engine_control", "ignition", "stop_solenoid", "glow_plug", "blower",
                          "bilge_pump_manual"})

RULE = Rule(
    slug="one_battery_for_all",
    number="5.12",
    title="Only one battery for engine and everything",
    topic="batteries",
    severity="caution",
    looks_at="the bank of a boat that has only one",
    subjects=lambda survey: survey.banks if len(survey.banks) == 1 else (),
    messages={"one": "{bank} is the only bank: it cranks the engine and feeds {loads_count} house "
                     "loads."},
    remedy="Fit a second battery for starting.",
    sources=("common_practice",),
    quiet={"small": "it is a small boat whose engine can be started by hand",
           "pack": "a jump pack is aboard"},
    figures=("small_boat_m",),
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge the only bank."""
    boat = survey.diagram.boat
    loads = [survey.diagram.components[item]
             for item in fed_loads(survey.graph, bank.batteries, {})]
    house = [load.id for load in loads if load.kind != "starter" and is_always_on(load) is False
             and load.parameters.get("role") not in ENGINE_ROLES]
    if not house or all(load.kind != "starter" for load in loads) or "jump_pack" in boat.aboard:
        return None
    if boat.length_m is not None and boat.length_m < profile.value("small_boat_m") and (
            _starts_by_hand(survey)):
        return None
    return Fault("one", bank.batteries, {"loads_count": len(house)},
                 {"bank": named(survey.diagram, bank.batteries)})


def _starts_by_hand(survey: Survey) -> bool:
    return "hand_start" in survey.diagram.boat.aboard or any(
        part.parameters.get("hand_start") is True for part in survey.diagram.components.values())
