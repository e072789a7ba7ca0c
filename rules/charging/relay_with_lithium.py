"""What it checks.
Voltage-sensing relays between a lithium bank and a lead bank.

Why it matters.
A lithium bank rests at volts that a relay takes for charging. It never opens: the lithium bank
feeds the lead one day and night, and holds it at volts that are not its own.

Fails when.
Volts work the relay, and the lithium bank rests above the volts at which it opens.

Passes when.
A run signal alone works it, it opens above the lithium bank's rest volts, or both sides are of one
family.

Limits.
The rest volts are the stated ones, else those usual for the cells. Switches and selector positions
that join lithium and lead belong to 6.15. That the lead battery is charged as lithium wants it
while the relay is closed is not told apart.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import is_lithium
from model.analysis.charging_profile import stated_v
from model.analysis.relays_between_banks import RelayBetween, Side, relays_between, side_v
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="relay_with_lithium",
    number="3.10",
    title="Voltage-sensing relay with lithium on one side",
    topic="charging",
    severity="fault",
    looks_at="each voltage-sensing relay between two banks",
    subjects=lambda survey: relays_between(survey.graph),
    messages={
        "never_opens": "{relay} opens below {open_v}, and {lithium} rests at {rest_v}: it stays "
                       "closed and feeds {lead}.",
    },
    remedy="Fit a converter in its place, or drive the relay from the engine-run signal.",
    sources=("lithium_installers",),
    quiet={
        "signal": "the relay is worked by the engine-run signal",
        "opens": "the relay opens above the volts at which the lithium bank rests",
    },
    figures=("lithium_rest_v",),
    fix="always",
)


def check(between: RelayBetween, survey: Survey, profile: Profile) -> Answer:
    """Judge one relay by what stands on its sides."""
    relay = between.relay
    p = relay.parameters
    unsaid = tuple(f"{item}.chemistry" for side in between.sides
                   for item in in_order(side.batteries)
                   if is_lithium(survey.diagram.components[item]) is None)
    if p.get("run_signal_only") is True:
        return None
    if unsaid:
        return Missing(unsaid, (relay.id,))
    one, other = between.sides
    if _has_lithium(one, survey) == _has_lithium(other, survey):
        return None
    lithium, lead = (one, other) if _has_lithium(one, survey) else (other, one)
    rest_v, open_v = _rest_v(lithium, survey, profile), p.get("open_below_v")
    if open_v is None:
        fields = [name for name in ("open_below_v", "run_signal_only") if name not in p]
        return Missing(tuple(f"{relay.id}.{name}" for name in fields), (relay.id,))
    if open_v >= rest_v:
        return None
    return Fault("never_opens",
                 (relay.id, *in_order(lithium.batteries), *in_order(lead.batteries)),
                 {"rest_v": rest_v, "open_v": open_v},
                 {"relay": named(survey.diagram, [relay.id]),
                  "lithium": named(survey.diagram, in_order(lithium.batteries)),
                  "lead": named(survey.diagram, in_order(lead.batteries))})


def _has_lithium(side: Side, survey: Survey) -> bool:
    return any(is_lithium(survey.diagram.components[item]) for item in side.batteries)


def _rest_v(side: Side, survey: Survey, profile: Profile) -> float:
    """Return at how many volts a lithium side rests: as stated, else as is usual. [V]"""
    stated = [stated_v(survey.graph, item, "rest_v") for item in side.batteries]
    known = [volts for volts in stated if volts is not None]
    usual_v = profile.value("lithium_rest_v") * side_v(survey.graph, side) / BLOCK_V
    return round(min(known, default=usual_v), 3)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to work the relay by the run signal alone."""
    relay = finding.where[0]
    title = f"Drive {named(survey.diagram, [relay])} from the engine-run signal"
    yield Fix(title, "choice", with_fields(survey.diagram, title, relay, run_signal_only=True))
