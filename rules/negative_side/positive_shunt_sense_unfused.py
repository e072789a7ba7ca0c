"""What it checks.
The sense leads of each shunt that sits in a positive.

Why it matters.
Such a lead is live from the bank and as thin as a hair: chafed through, it burns from end to end.

Fails when.
A sense lead does not go to a fuse of its own at the shunt.

Passes when.
The shunt sits in the negative, or each lead begins with a fuse.

Limits.
Other sense and meter leads belong to 1.16. How far the fuse may be is not measured here: it stands
first on the lead.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.fixing import inserted
from rules.profiles import Profile
from rules.rewiring import NEAR_M, other_end
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

FUSES = ("fuse", "breaker", "fuse_block")


def _leads(survey: Survey) -> list[tuple[Conductor, str]]:
    """Return the conductors at the sense terminal of shunts in a positive, with that shunt."""
    found = []
    for wire in survey.diagram.conductors.values():
        for end in wire.ends():
            part = survey.diagram.components[end.component]
            if end.terminal == "sense" and part.parameters.get("poles") == "+":
                found.append((wire, part.id))
    return found


RULE = Rule(
    slug="positive_shunt_sense_unfused",
    number="8.4",
    title="Positive-side shunt sense leads unfused",
    topic="negative_side",
    severity="fault",
    looks_at="each sense lead of a shunt in a positive",
    subjects=_leads,
    messages={
        "unfused": "{lead} leaves {shunt} in the positive without a fuse: it goes straight to "
                   "{far}.",
    },
    remedy="Fuse both sense leads at the shunt.",
    sources=("monitor_makers", "common_practice"),
    quiet={"negative": "the shunt sits in the negative"},
    fix="sometimes",
)


def check(lead: tuple[Conductor, str], survey: Survey, profile: Profile) -> Answer:
    """Judge one sense lead by what is at its far end."""
    wire, shunt = lead
    far = other_end(wire, f"{shunt}.sense").partition(".")[0]
    if survey.diagram.components[far].kind in FUSES:
        return None
    return Fault("unfused", (wire.id, shunt), {}, {
        "lead": named(survey.diagram, [wire.id]), "shunt": named(survey.diagram, [shunt]),
        "far": named(survey.diagram, [far])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the shunt, the smallest there is, where the lead is drawn as a positive."""
    wire, shunt = finding.where
    if tuple(survey.diagram.conductors[wire].cores) != ("+",):
        return
    title = f"Fit a fuse in {named(survey.diagram, [wire])} at {named(survey.diagram, [shunt])}"
    yield Fix(title, "choice", inserted(
        survey.diagram, title, wire, f"{shunt}.sense", "fuse", NEAR_M,
        rated_a=min(standard_device_ratings_a())))
