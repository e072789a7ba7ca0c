"""What it checks.
What stays on while the boat lies idle, against what its bank may lose in that time.

Why it matters.
A tenth of an ampere for two months flattens a battery, and a lead battery that stays flat is dead.

Fails when.
What stays live takes more than the figure's share of the bank in the weeks that the boat lies idle.

Passes when.
It takes less, or the sun or the shore charges the bank with its main switch off.

Limits.
Bilge pumps are judged by 10.4. What switched-off gear draws counts where it is written down.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.circuit_switches import loads_in_use
from model.analysis.load_supply import live_when_off
from model.survey import Survey
from rules.always_on import is_always_on
from rules.daily_use import drawn_a
from rules.left_alone import capacity_ah, is_charged
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import role_of
from rules.wording import named

RULE = Rule(
    slug="drained_while_laid_up",
    number="5.13",
    title="Laid-up drain",
    topic="batteries",
    severity="caution",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={"drained": "What stays on takes {taken_ah} from {bank} in the weeks that the boat "
                         "lies idle; {limit_ah} of it may be lost."},
    remedy="Fit a small panel, or a switch for what stays on.",
    sources=("common_practice",),
    quiet={"charged": "the sun charges the bank, or the boat is left on shore power"},
    figures=("idle_loss_ratio", "week_h"),
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    drains = _drains(bank, survey)
    drawn_a = sum(amps for amps in drains.values() if amps is not None)
    unsaid = [f"{item}.current_a" for item, amps in drains.items() if amps is None]
    if not (drawn_a or unsaid) or is_charged(bank.batteries, survey):
        return None
    weeks = survey.diagram.boat.weeks_idle
    parts = [survey.diagram.components[item] for item in bank.batteries]
    asked = [f"{part.id}.capacity_ah" for part in parts if "capacity_ah" not in part.parameters]
    if weeks is None or asked:
        return Missing((*(["boat.weeks_idle"] if weeks is None else []), *asked), bank.batteries)
    taken_ah = round(drawn_a * weeks * profile.value("week_h"), 1)
    limit_ah = round(capacity_ah(bank.batteries, survey) * profile.value("idle_loss_ratio"), 1)
    if taken_ah > limit_ah:
        return Fault("drained", bank.batteries, {"taken_ah": taken_ah, "limit_ah": limit_ah},
                     {"bank": named(survey.diagram, bank.batteries)})
    return Missing(tuple(unsaid), bank.batteries) if unsaid else None


def _drains(bank: Bank, survey: Survey) -> dict[str, float | None]:
    """Return what each load that stays live takes from a bank, pumps apart. [A]."""
    found = {}
    for item in loads_in_use(survey.graph, bank.batteries):
        load = survey.diagram.components[item]
        if survey.graph.number[f"{item}.+"] not in live_when_off(survey.graph):
            continue
        if is_always_on(load) and not role_of(load).startswith("bilge_pump"):
            found[item] = drawn_a(item, survey)
        else:
            found[item] = load.parameters.get("standby_a", 0.0)
    return found
