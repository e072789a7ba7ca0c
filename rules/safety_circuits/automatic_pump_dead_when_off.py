"""What it checks.
Whether an automatic bilge pump has power with every main switch off.

Why it matters.
Boats sink at the mooring, with the owner at home and everything switched off.

Fails when.
An automatic bilge pump is dead with the main switches open, and so is every other one.

Passes when.
One automatic pump stays live from a battery.

Limits.
Float switches count as closed: they will be, and so do the switches of single circuits, which are
no main switches; relays that volts work are open, and one that a drawn switch works is open while
its coil is dead. Where a minus is drawn it must lead home as well. A pump of unstated role counts
neither way: its role is asked. Whether the battery lasts belongs to 10.4.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_supply import batteries_at_will, has_power_when_off
from model.survey import Survey
from rules.always_fed import from_battery
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named

Pumps = tuple[str, ...]


def _pumps_together(survey: Survey) -> Iterator[Pumps]:
    """Yield the automatic pumps that have power with everything on, all at once."""
    fed = in_order(pump for pump in pumps(survey, "bilge_pump_automatic")
                   if batteries_at_will(survey.graph, pump))
    if fed:
        yield tuple(fed)


RULE = Rule(
    slug="automatic_pump_dead_when_off",
    number="10.1",
    title="Automatic bilge pump dies with the main switch",
    topic="safety_circuits",
    severity="danger",
    looks_at="the automatic bilge pumps together",
    subjects=_pumps_together,
    messages={"dead": "With every main switch off no automatic bilge pump has power: {pumps}."},
    remedy="Feed the automatic side from the battery with its own fuse.",
    sources=("yard_manuals", "iso_switch"),
    quiet={
        "trailer": "the boat is kept on a trailer or ashore",
        "second": "a second automatic pump is live",
    },
    fix="sometimes",
    follows=True,
)


def check(together: Pumps, survey: Survey, profile: Profile) -> Answer:
    """Judge the pumps of the boat."""
    parts, kept = survey.diagram.components, survey.diagram.boat.kept
    live = [pump for pump in together if has_power_when_off(survey.graph, pump)]
    stated = [pump for pump in together if "role" in parts[pump].parameters]
    if set(live) & set(stated) or len(live) == len(together) or kept not in (None, "afloat"):
        return None
    unsaid = live or ([] if stated else together)
    asked = (*(("boat.kept",) if kept is None else ()), *(f"{pump}.role" for pump in unsaid))
    return Missing(asked, together) if asked else Fault(
        "dead", together, {}, {"pumps": named(survey.diagram, together)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed each from a battery that feeds it now, with a fuse of its own."""
    for pump in finding.where:
        yield from from_battery(survey, profile, pump)
