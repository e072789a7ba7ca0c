"""What it checks.
The sum of all that charges a lithium bank at once against what its management or its makers allow,
also with one pack out.

Why it matters.
Above its limit the management opens, at full charging current: the alternator is left alone, and
the boat goes dark.

Fails when.
The sum is above the limit, or above what is left of it when one of several packs is out.

Passes when.
It is below both.

Limits.
Ratings are summed, those behind relays too. A bank is the batteries joined with no contact between;
those side by side share the current. Lead, and lithium without a stated limit, belong to
3.13.
"""

from __future__ import annotations

from model.analysis.charging import charged, outlets
from model.analysis.lithium_banks import LithiumBank, lithium_banks, stated_limit
from model.analysis.management import unit_of
from model.survey import Survey
from rules.charging_output import Output, output_at
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="charge_sum_above_limit",
    number="6.7",
    title="Charging sum above the management limit",
    topic="lithium",
    severity="fault",
    looks_at="each lithium bank with a limit of its own or a management unit",
    subjects=lambda survey: [
        bank for bank in lithium_banks(survey.graph)
        if any("max_charge_a" in b.parameters or unit_of(survey.diagram, b) is not None
               for b in bank.batteries)],
    messages={
        "above": "{sources} can charge {battery} with {given_a} at once; {limit_a} is the limit.",
        "lost": "{sources} can charge {battery} with {given_a} at once; with one pack out "
                "{limit_a} is the limit.",
    },
    remedy="Lower the limits of the sources.",
    sources=("battery_makers",),
    quiet={"limited": "the management unit limits all the sources"},
)


def check(bank: LithiumBank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    given = [output_at(survey, outlet) for outlet in outlets(survey.graph)
             if charged(survey.graph, outlet.node) & set(bank.ids)]
    if {output.source for output in given} <= _held(bank, survey):
        return None
    limit_of = stated_limit(survey.diagram, bank, "max_charge_a", "charge_limit_a")
    limit_a, left_a = bank.limit_a(limit_of), bank.limit_with_one_out_a(limit_of)
    sources = in_order({output.source for output in given})
    where = (*bank.ids, *sources)
    given_a = _sum_a(given)
    for message, most_a in (("above", limit_a), ("lost", left_a)):
        if most_a is not None and given_a > most_a:
            return Fault(message, where, {"given_a": given_a, "limit_a": most_a}, {
                "battery": named(survey.diagram, bank.ids),
                "sources": named(survey.diagram, sources)})
    asked = (*(f"{b.id}.max_charge_a" for b in bank.batteries if limit_of(b) is None),
             *(field for output in given for field in output.missing))
    return Missing(asked, where) if asked else None


def _held(bank: LithiumBank, survey: Survey) -> set[str]:
    """Return the sources that the management of every battery limits."""
    units = (unit_of(survey.diagram, battery) for battery in bank.batteries)
    return set.intersection(*(
        set() if unit is None else set(unit.parameters.get("limits", ())) for unit in units))


def _sum_a(given: list[Output]) -> float:
    """Return what sources give as far as it is known, those of several outputs once. [A]."""
    return sum({o.source: o.amperes for o in given if o.amperes is not None}.values())
