"""What it checks.
What can draw on a start battery with nothing charging and the switches as usual.

Why it matters.
A fridge on the start battery leaves the boat without an engine in the morning.

Fails when.
A load that has nothing to do with the engine and draws more than a little hangs on it.

Passes when.
Only the engine's own circuits do, and what is meant to stay on: bilge pumps, alarms.

Limits.
A load that another bank feeds too belongs to 2.7 or 2.10. A battery whose duty is not stated counts
as a start battery when it cranks and another bank does not. A boat of one bank is left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.fed_by import fed_loads, starters_fed
from model.analysis.usual_states import usual_states
from model.diagram import Component
from model.survey import Survey
from rules.always_on import is_always_on
from rules.daily_use import drawn_a
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import lead_from, switched_point, to_post
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

# The engine's own, and what keeps the boat afloat.
FITTING_ROLES = frozenset({"engine_control", "ignition", "stop_solenoid", "glow_plug", "blower",
                           "starter", "bilge_pump_manual"})


def _start_banks(survey: Survey) -> list[Bank]:
    """Return the banks that are for starting, when there is another that is not."""
    cranking = frozenset().union(*starters_fed(survey.graph).values())
    found = []
    for bank in survey.banks:
        duties = {survey.diagram.components[b].parameters.get("duty") for b in bank.batteries}
        starts = duties == {"start"} or (duties == {None} and bool(
            cranking & set(bank.batteries)))
        if starts:
            found.append(bank)
    return found if len(found) < len(survey.banks) else []


RULE = Rule(
    slug="start_battery_feeds_house",
    number="2.16",
    title="Start battery feeds ordinary loads",
    topic="isolation",
    severity="caution",
    looks_at="each bank that is for starting",
    subjects=_start_banks,
    messages={
        "feeds": "{loads} can draw on the start battery {bank} with nothing charging it; "
                 "{heaviest} alone draws {current_a}, more than {limit_a}.",
    },
    remedy="Move the load to the house bank, or list it as meant to stay on.",
    sources=("common_practice",),
    quiet={
        "always_on": "it is a bilge pump or an alarm, or meant to stay live",
        "emergency": "the state is for emergencies or named for combining",
        "single": "the boat has one bank",
        "charging": "a charging source runs in the mode",
    },
    figures=("start_bank_load_a",),
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one start bank by the loads that it alone feeds."""
    limit = profile["start_bank_load_a"]
    currents = {item: drawn_a(item, survey) for item in _loads(bank, survey)}
    known = {item: amps for item, amps in currents.items() if amps is not None}
    heavy = in_order(item for item, amps in known.items() if amps > limit.value)
    unknown = in_order(item for item in currents if item not in known)
    if not heavy:
        return Missing(tuple(f"{i}.current_a" for i in unknown), (bank.id, *unknown)) if (
            unknown) else None
    heaviest = max(heavy, key=lambda item: known[item])
    return Fault(
        "feeds", (bank.id, *heavy), {"current_a": known[heaviest], "limit_a": limit},
        {"loads": named(survey.diagram, heavy), "bank": named(survey.diagram, bank.batteries),
         "heaviest": named(survey.diagram, [heaviest])})


def _loads(bank: Bank, survey: Survey) -> list[str]:
    """Return the loads other than the engine's that this bank alone feeds in a usual state."""
    graph = survey.graph
    found: set[str] = set()
    others = [b for one in survey.banks if one is not bank for b in one.batteries]
    for state in usual_states(survey.diagram):
        if not state.charging:
            present = [b for b in bank.batteries if b not in state.absent]
            found |= fed_loads(graph, present, state.positions) - fed_loads(
                graph, others, state.positions)
    return in_order(item for item in found if _is_ordinary(survey.diagram.components[item]))


def _is_ordinary(load: Component) -> bool:
    if load.kind == "starter" or load.parameters.get("role") in FITTING_ROLES:
        return False
    return is_always_on(load) is False


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed a single load from another bank, behind its switch."""
    if len(finding.where) > 2:
        return
    load = finding.where[1]
    lead = lead_from(survey, survey.graph.number[f"{load}.+"])
    starting = {bank.id for bank in _start_banks(survey)}
    for bank in survey.banks if lead is not None else ():
        if bank.id not in starting and lead is not None:
            target = switched_point(survey, bank)
            title = f"Feed {named(survey.diagram, [load])} from {target}"
            yield Fix(title, "choice", to_post(survey, profile, title, lead, target))
