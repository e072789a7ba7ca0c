"""What it checks.
Whether the cable is of a type that is marked for use aboard.

Why it matters.
Welding and unmarked cable has insulation that oil and damp attack, and nobody can tell what it may
carry.

Fails when.
The type is recorded as welding or unmarked.

Passes when.
It is marked, or it belongs to the harness of an engine's maker.

Limits.
A type that nobody recorded is not asked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named


def _unmarked(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        if wire.cable_type in ("welding", "unmarked"):
            yield wire


RULE = Rule(
    slug="unmarked_cable",
    number="4.24",
    title="Welding or unmarked cable",
    topic="conductors",
    severity="note",
    looks_at="each conductor whose type is recorded as welding or unmarked",
    subjects=_unmarked,
    messages={"unmarked": "{wire} is {what} cable."},
    remedy="Replace it by marked cable when it is next touched.",
    sources=("survey_lists",),
    quiet={"harness": "it belongs to the harness of an engine's maker"},
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.factory_harness:
        return None
    return Fault("unmarked", (wire.id,), {}, {
        "wire": named(survey.diagram, [wire.id]), "what": str(wire.cable_type)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the marked cable."""
    wire = finding.where[0]
    title = f"Replace {named(survey.diagram, [wire])} by marked cable"
    yield Fix(title, "mechanical", with_fields(
        survey.diagram, title, wire, cable_type="marked"))
