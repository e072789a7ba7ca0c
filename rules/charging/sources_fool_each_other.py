"""What it checks.
Alternator regulators that step by themselves, on banks that sun or wind charge too.

Why it matters.
The sun holds the bank at its float volts. The regulator sees a full battery, goes back to float
itself, and the engine runs for hours while the bank is half empty.

Fails when.
The regulator has a float stage, a solar or wind controller charges the same bank, and they share
neither sense nor data.

Passes when.
They share a battery sense or a data link, or the regulator has no float stage.

Limits.
Regulators inside alternators hold one voltage and are not fooled.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.charging import charged, outlets, regulator_of
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

BY_NATURE = ("solar_controller", "wind_controller", "wind_generator")

RULE = Rule(
    slug="sources_fool_each_other",
    number="3.25",
    title="Two sources fight or fool each other",
    topic="charging",
    severity="note",
    looks_at="each alternator with an external regulator",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "alternator"],
    messages={
        "fooled": "{others} can hold the bank at float volts; {regulator} then takes it for full "
                  "and goes back to float.",
    },
    remedy="Switch the sun off while the engine charges, or let them share a sense or a data link.",
    sources=("solar_installers",),
    quiet={
        "shared": "the regulators share a battery sense or a data link",
        "one_voltage": "the regulator has no float stage",
    },
    fix="always",
)


def check(alternator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator by its regulator and by what else charges its banks."""
    graph = survey.graph
    regulator = regulator_of(survey.diagram, alternator)
    if regulator is None:
        return None
    batteries = charged(graph, graph.number[f"{alternator.id}.+"])
    others = in_order(o.source for o in outlets(graph)
                      if survey.diagram.components[o.source].kind in BY_NATURE
                      and batteries & charged(graph, o.node))
    p = regulator.parameters
    if not others or p.get("float_v") == 0 or p.get("shares_control") is True:
        return None
    unknown = tuple(f"{regulator.id}.{name}" for name in ("float_v", "shares_control")
                    if name not in p)
    where = (regulator.id, alternator.id, *others)
    if unknown:
        return Missing(unknown, where)
    return Fault("fooled", where, {}, {"regulator": named(survey.diagram, [regulator.id]),
                                       "others": named(survey.diagram, others)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to let them share their sense or data."""
    regulator = finding.where[0]
    title = f"Let {named(survey.diagram, [regulator])} share sense or data with the others"
    yield Fix(title, "choice", with_fields(survey.diagram, title, regulator, shares_control=True))
