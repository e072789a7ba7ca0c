"""What it checks.
Boats with a single battery bank that both cranks the engine and feeds the house.

Why it matters.
A night with the anchor light and the fridge, and the engine does not start in the morning, on a lee
shore.

Fails when.
One bank alone can supply starter and house, and both hang on it.

Passes when.
There is a second battery, or another way to start.

Limits.
Loads that only keep the boat afloat or awake do not count as house. A battery that can supply
neither a starter nor the house, such as a thruster's own, is no second one.
"""

from __future__ import annotations

from model.analysis.banks import Bank, loads_at
from model.analysis.circuit_switches import loads_in_use
from model.analysis.heavy_loads import MOTORS
from model.analysis.load_supply import batteries_at_will
from model.diagram import Component
from model.survey import Survey
from rules.always_on import is_always_on
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

ENGINE_ROLES = frozenset({"engine_control", "ignition", "stop_solenoid", "glow_plug", "blower",
                          "bilge_pump_manual"})

def _only_bank(survey: Survey) -> tuple[Bank, ...]:
    """Return the bank of a boat when no other can supply a starter or the house."""
    graph = survey.graph
    loads = [item for item in loads_at(graph, range(len(graph.names)))
             if f"{item}.+" in graph.number and _counts(survey.diagram.components[item])]
    supplying = frozenset[str]().union(*(batteries_at_will(graph, item) for item in loads))
    found = tuple(bank for bank in survey.banks if supplying & set(bank.batteries))
    return found if len(found) == 1 else ()


def _counts(load: Component) -> bool:
    """Say whether a battery that supplies a load is one for the engine or the house."""
    own = {load.kind, load.parameters.get("role")} & MOTORS
    return load.kind == "starter" or (_is_house(load) and not own)


def _is_house(load: Component) -> bool:
    return load.kind != "starter" and is_always_on(load) is False and (
        load.parameters.get("role") not in ENGINE_ROLES)


RULE = Rule(
    slug="one_battery_for_all",
    number="5.12",
    title="Only one battery for engine and everything",
    topic="batteries",
    severity="caution",
    looks_at="the only bank that can supply starter or house",
    subjects=_only_bank,
    messages={"one": "{bank:is/are} the only bank: it cranks the engine and feeds the house "
                     "({loads_count} of its loads)."},
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
             for item in loads_in_use(survey.graph, bank.batteries)]
    house = [load.id for load in loads if _is_house(load)]
    if not house or all(load.kind != "starter" for load in loads) or "jump_pack" in boat.aboard:
        return None
    if _starts_by_hand(survey):
        if boat.length_m is None:
            return Missing(("boat.length_m",), bank.batteries)
        if boat.length_m < profile.value("small_boat_m"):
            return None
    return Fault("one", bank.batteries, {"loads_count": len(house)},
                 {"bank": named(survey.diagram, bank.batteries)})


def _starts_by_hand(survey: Survey) -> bool:
    return "hand_start" in survey.diagram.boat.aboard or any(
        part.parameters.get("hand_start") is True for part in survey.diagram.components.values())
