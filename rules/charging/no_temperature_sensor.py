"""What it checks.
Strong shore chargers of lead banks: whether they know the battery's temperature.

Why it matters.
A warm lead battery wants fewer volts. Charged hard without a sensor it gasses, dries out, and at
worst runs away thermally.

Fails when.
The charger gives more than a fifth of the bank's ampere-hours and has no sensor at the battery.

Passes when.
It has one, gives less, or the bank is lithium.

Limits.
Only shore chargers are looked at, alone, with the bank they are wired to.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.charging import Outlet, charged_in, is_lithium, outlets
from model.survey import Survey
from rules.charging_output import output_at
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="no_temperature_sensor",
    number="3.20",
    title="No temperature sensor for a lead bank",
    topic="charging",
    severity="note",
    looks_at="each output of a shore charger",
    subjects=lambda survey: [outlet for outlet in outlets(survey.graph) if
                             survey.diagram.components[outlet.source].kind == "shore_charger"],
    messages={
        "blind": "{charger} charges {banks} with {rated_a}, more than {most_percent} of their "
                 "{bank_ah}, and does not know their temperature.",
    },
    remedy="Fit the charger's temperature sensor at the battery.",
    sources=("battery_makers",),
    quiet={
        "lithium": "the bank is lithium",
        "weak": "the charger gives little for the bank",
    },
    figures=("blind_charge_max_percent",),
    fix="always",
)


def check(outlet: Outlet, survey: Survey, profile: Profile) -> Answer:
    """Judge one output by how hard it charges, then by its sensor."""
    batteries = in_order(charged_in(survey.graph, outlet.node, {}, over_relays=False))
    parts = [survey.diagram.components[item] for item in batteries]
    sensor = survey.diagram.components[outlet.source].parameters.get("temperature_sensor")
    if not parts or sensor is True or any(map(is_lithium, parts)):
        return None
    output = output_at(survey, outlet)
    where = (outlet.source, *batteries)
    unknown = [*output.missing, *(f"{part.id}.capacity_ah" for part in parts
                                  if "capacity_ah" not in part.parameters)]
    if unknown:
        return Missing(tuple(unknown), where)
    assert output.amperes is not None
    bank_ah = sum(part.parameters["capacity_ah"] for part in parts)
    most = profile["blind_charge_max_percent"]
    if 100 * output.amperes / bank_ah <= most.value:
        return None
    unsaid = [f"{part.id}.chemistry" for part in parts if is_lithium(part) is None]
    unsaid += [f"{outlet.source}.temperature_sensor"] if sensor is None else []
    if unsaid:
        return Missing(tuple(unsaid), where)
    return Fault("blind", where,
                 {"rated_a": output.amperes, "most_percent": most, "bank_ah": bank_ah},
                 {"charger": named(survey.diagram, [outlet.source]),
                  "banks": named(survey.diagram, batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the sensor."""
    charger = finding.where[0]
    title = f"Fit the temperature sensor of {named(survey.diagram, [charger])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, charger, temperature_sensor=True))
