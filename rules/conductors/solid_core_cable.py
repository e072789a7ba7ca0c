"""What it checks.
Whether the copper of each conductor is stranded.

Why it matters.
Solid copper, as in house wiring, hardens as the boat works and breaks at the terminal.

Fails when.
The construction is recorded as solid.

Passes when.
It is stranded, or the conductor is a bonding strip or a lightning conductor.

Limits.
A construction that nobody recorded is not asked for: marine cable is stranded.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

QUIET = frozenset({"bonding", "lightning"})


def _solid(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        if wire.construction == "solid":
            yield wire


RULE = Rule(
    slug="solid_core_cable",
    number="4.14",
    title="Solid-core or household cable",
    topic="conductors",
    severity="fault",
    looks_at="each conductor whose construction is recorded as solid",
    subjects=_solid,
    messages={"solid": "{wire} is of solid copper."},
    remedy="Use stranded, tinned marine cable.",
    sources=("abyc_e11", "cfr_conductors"),
    quiet={
        "bonding": "it is a bonding strip",
        "lightning": "it is a lightning conductor",
    },
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.purpose in QUIET:
        return None
    return Fault("solid", (wire.id,), {}, {"wire": named(survey.diagram, [wire.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the stranded cable."""
    wire = finding.where[0]
    title = f"Replace {named(survey.diagram, [wire])} by stranded, tinned cable"
    yield Fix(title, "mechanical", with_fields(
        survey.diagram, title, wire, construction="stranded", tinned=True))
