"""What it checks.
Whether a lithium battery is kept from being charged when it is cold.

Why it matters.
Charged in the cold a lithium cell plates metal inside. It loses capacity for good, and may short
itself weeks later.

Fails when.
No cut-off for cold is there, the battery is not heated, and the cruising area gets colder than the
figure.

Passes when.
It stops charging when cold, or is heated, or the area never gets so cold.

Limits.
The coldest is that of the cruising area, not of the battery's box.
"""

from __future__ import annotations

from model.analysis.management import lithium_batteries
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="no_cold_charge_protection",
    number="6.9",
    title="No cold-charge protection",
    topic="lithium",
    severity="fault",
    looks_at="each lithium battery",
    subjects=lambda survey: lithium_batteries(survey.diagram),
    messages={"cold": "Nothing keeps {battery} from being charged when it is cold; the area gets "
                      "down to {coldest_c}, and below {limit_c} it must not be charged."},
    remedy="Fit a battery with a cut-off for cold, or heat it.",
    sources=("battery_makers", "abyc_e13"),
    quiet={"warm": "the area never gets that cold", "heated": "the battery is heated"},
    figures=("cold_charge_c",),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    coldest_c, limit = survey.diagram.boat.lowest_temperature_c, profile["cold_charge_c"]
    facts = battery.parameters
    if facts.get("cold_charge_cutoff") is True or facts.get("heated") is True or (
            coldest_c is not None and coldest_c >= limit.value):
        return None
    asked = [f"{battery.id}.{name}" for name in ("cold_charge_cutoff", "heated")
             if name not in facts]
    if coldest_c is None:
        return Missing((*asked[:1], "boat.lowest_temperature_c"), (battery.id,))
    if asked:
        return Missing((asked[0],), (battery.id,))
    return Fault("cold", (battery.id,), {"coldest_c": coldest_c, "limit_c": limit},
                 {"battery": named(survey.diagram, [battery.id])})
