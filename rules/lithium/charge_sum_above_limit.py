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
Ratings of all sources are summed, those behind relays too: an engine that is run on shore power
gives all at once, and a management unit that then opens unloads the alternator. A bank is the
batteries joined with no contact between; those side by side share the current. Lead, and lithium
without a stated limit, belong to 3.13.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.charging import charged, outlets
from model.analysis.lithium_banks import LithiumBank, lithium_banks, stated_limit
from model.analysis.management import unit_of
from model.survey import Survey
from rules.charging_sum import sum_of_all
from rules.lowered_output import lowered
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
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
    fix="sometimes",
)


def check(bank: LithiumBank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    reaching = [outlet for outlet in outlets(survey.graph)
                if charged(survey.graph, outlet.node) & set(bank.ids)]
    if {outlet.source for outlet in reaching} <= _held(bank, survey):
        return None
    limit_of = stated_limit(survey.diagram, bank, "max_charge_a", "charge_limit_a")
    limit_a, left_a = bank.limit_a(limit_of), bank.limit_with_one_out_a(limit_of)
    given = sum_of_all(survey, reaching)
    where = (*bank.ids, *given.sources)
    for message, most_a in (("above", limit_a), ("lost", left_a)):
        if most_a is not None and given.given_a > most_a:
            return Fault(message, where, {"given_a": given.given_a, "limit_a": most_a}, {
                "battery": named(survey.diagram, bank.ids),
                "sources": named(survey.diagram, given.sources)})
    asked = (*(f"{b.id}.max_charge_a" for b in bank.batteries if limit_of(b) is None),
             *given.missing)
    return Missing(asked, where) if asked else None


def _held(bank: LithiumBank, survey: Survey) -> set[str]:
    """Return the sources that the management of every battery limits."""
    units = (unit_of(survey.diagram, battery) for battery in bank.batteries)
    return set.intersection(*(
        set() if unit is None else set(unit.parameters.get("limits", ())) for unit in units))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lower the limit of a source that has one."""
    def settles(after: Survey) -> bool:
        return not any(isinstance(check(bank, after, profile), Fault)
                       for bank in lithium_banks(after.graph) if bank.ids[0] == finding.where[0])

    over_a = finding.figures["given_a"] - finding.figures["limit_a"]
    sources = (item for item in finding.where
               if survey.diagram.components[item].kind != "battery_bank")
    yield from lowered(survey, sources, over_a, settles)
