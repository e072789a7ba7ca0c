"""What it checks.
Each bank: whether its loads can be cut from it by hand.

Why it matters.
When something smokes, the one thing everybody must be able to do is to turn the battery off.

Fails when.
Loads are reached without passing any manual switch, or a remote one with manual override, and the
bank has no battery switch at all.

Passes when.
Every way to a load passes such a switch.

Limits.
A bank that has a switch which some item bypasses belongs to 2.2. Whether the switch can be reached
belongs to 2.11. Leads of chargers and of converters between banks need no switch here.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.negatives import sole_disconnect_of
from model.analysis.unswitched import Unswitched, has_main_switch, unsaid_switches, unswitched
from model.edits import apply as applied
from model.survey import Survey
from rules.always_on import is_always_on
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import switch_in_feed
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

OUTBOARD_ROLES = ("engine_control", "ignition", "bilge_pump_manual")

RULE = Rule(
    slug="bank_without_disconnect",
    number="2.1",
    title="Battery has no disconnect switch",
    topic="isolation",
    severity="fault",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={
        "no_switch": "{bank:has/have} no battery switch. Not to be turned off by hand: {loads}, "
                     "with {wiring_m} of wiring.",
        "much_wiring": "{bank:has/have} no battery switch. Not to be turned off by hand: {loads}, "
                       "with {wiring_m} of wiring, more than {limit_m}.",
    },
    remedy="Fit a switch near the battery, within reach.",
    sources=("abyc_e11_switch", "iso_switch"),
    quiet={
        "always_on": "only always-on circuits are reached: bilge pumps, alarms, memory",
        "charging": "only charging sources, regulators and converters between banks are reached",
        "breaker": "a breaker is there that its maker allows as an isolator",
        "outboard": "it is a small outboard's bank with nothing but the motor and a bilge pump",
        "negative": "its switch is in the negative: 2.9 judges it",
        "memory": "it is electronic equipment with protected memory",
    },
    figures=("switch_cranking_a", "wiring_danger_m"),
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    graph = survey.graph
    reached = unswitched(graph, bank)
    if has_main_switch(graph, reached.switches) or _is_switched_in_negative(bank, survey):
        return None
    loads, unsure = _switched_loads(reached, survey)
    if not loads:
        return Missing(tuple(f"{item}.role" for item in unsure), (bank.id, *unsure)) if (
            unsure) else None
    unsaid, certain = unsaid_switches(graph, bank)
    loads = [item for item in loads if item in certain]
    if not loads:
        return Missing(tuple(unsaid), (bank.id, *(field.partition(".")[0] for field in unsaid)))
    small = _is_small_outboard(bank, loads, survey, profile)
    if small is True:
        return None
    if small is None:
        return Missing(tuple(f"{b}.cranking_a" for b in bank.batteries), (bank.id,))
    return _fault(bank, loads, reached, survey, profile)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a switch where one conductor feeds all the loads."""
    bank = next(b for b in survey.banks if b.id == finding.where[0])
    title = f"Fit a battery switch for {named(survey.diagram, bank.batteries)}"
    edit = switch_in_feed(survey, title, bank, finding.where[1:])
    left = () if edit is None else Survey(applied(survey.diagram, edit)).banks
    if edit is not None and bank.batteries in {b.batteries for b in left}:
        yield Fix(title, "choice", edit)


def _is_switched_in_negative(bank: Bank, survey: Survey) -> bool:
    return any(set(sole_disconnect_of(survey, cut)) & set(bank.batteries)
               for cut in survey.negative_cuts if cut.batteries)


def _switched_loads(reached: Unswitched, survey: Survey) -> tuple[list[str], list[str]]:
    """Return the loads that need a switch, and those whose role is needed to say so."""
    kinds = {item: is_always_on(survey.diagram.components[item]) for item in reached.loads}
    return (in_order(item for item, kind in kinds.items() if kind is False),
            in_order(item for item, kind in kinds.items() if kind is None))


def _is_small_outboard(
    bank: Bank, loads: list[str], survey: Survey, profile: Profile
) -> bool | None:
    components = survey.diagram.components
    for item in loads:
        load = components[item]
        engine = components.get(load.parameters.get("driven_by", ""))
        outboard = engine is not None and engine.parameters.get("type") == "outboard"
        if not outboard and load.parameters.get("role") not in OUTBOARD_ROLES:
            return False
    ratings = [components[b].parameters.get("cranking_a") for b in bank.batteries]
    stated = [rating for rating in ratings if rating is not None]
    if len(stated) < len(ratings):
        return None
    return sum(stated) < profile.value("switch_cranking_a")


def _fault(
    bank: Bank, loads: list[str], reached: Unswitched, survey: Survey, profile: Profile
) -> Fault:
    lengths = (survey.diagram.conductors[item].length_m for item in reached.conductors)
    wiring_m = round(sum(length for length in lengths if length is not None), 3)
    inverter = any(survey.diagram.components[item].kind in ("inverter", "inverter_charger")
                   for item in loads)
    limit = profile["wiring_danger_m"]
    much = wiring_m > limit.value
    return Fault(
        "much_wiring" if much else "no_switch", (bank.id, *loads),
        {"wiring_m": wiring_m, "limit_m": limit} if much else {"wiring_m": wiring_m},
        {"bank": named(survey.diagram, bank.batteries), "loads": named(survey.diagram, loads)},
        severity="danger" if inverter or much else "fault")
