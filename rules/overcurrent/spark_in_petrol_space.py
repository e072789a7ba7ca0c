"""What it checks.
Parts that make sparks in ordinary use, standing in a space with a petrol engine or petrol tank.

Why it matters.
Petrol vapour is heavier than air and gathers low. A relay or pump that sparks in it is all that an
explosion needs.

Fails when.
A switch, relay, fuse, breaker, pump, motor or charger stands in such a space and is not marked as
ignition protected.

Passes when.
The part is marked as ignition protected.

Limits.
Where no place is recorded for a part, nothing is said of it. Sealed solid joints, bars and studs
make no sparks.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Component, Place
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, with_name

PETROL_SPACES = frozenset({"petrol_engine_space", "petrol_tank_space"})
SPARKING_ROLES = frozenset({"switch", "protection"})
SPARKING_KINDS = frozenset({
    "panel", "fuse_block", "ac_panel", "pump", "bilge_pump", "motor", "windlass", "thruster",
    "starter", "alternator", "shore_charger", "inverter", "inverter_charger", "generating_set",
    "socket", "ac_socket", "refrigerator", "heater"})


def _subjects(survey: Survey) -> Iterator[tuple[Component, Place]]:
    """Yield the parts that make sparks and stand in a petrol space, with that place."""
    for part in survey.diagram.components.values():
        sparks = kind_of(part).role in SPARKING_ROLES or part.kind in SPARKING_KINDS
        if sparks and part.place is not None:
            place = survey.diagram.places[part.place]
            if _is_petrol_space(place, survey):
                yield part, place


def _is_petrol_space(place: Place, survey: Survey) -> bool:
    """Say whether a place holds petrol: by its name, or by the engine or tank in it."""
    if place.environment in PETROL_SPACES:
        return True
    return place.environment == "engine_space" and any(
        other.place == place.id and other.parameters.get("fuel") == "petrol"
        and other.parameters.get("type") != "outboard"
        for other in survey.diagram.components.values())


RULE = Rule(
    slug="spark_in_petrol_space",
    number="1.23",
    title="Spark-making device in a petrol space",
    topic="overcurrent",
    severity="danger",
    looks_at="each part that makes sparks and stands in a petrol space",
    subjects=_subjects,
    messages={
        "sparks": "{part} stands in {place}, where petrol vapour may gather, and is not ignition "
                  "protected.",
    },
    remedy="Move it out of the space, or fit an ignition-protected part.",
    sources=("cfr_ignition", "iso_ignition"),
    quiet={
        "diesel": "the boat has diesel only",
        "sealed": "it is a sealed solid connection, a bar or a stud",
        "protected": "it is marked as ignition protected",
        "elsewhere": "no petrol engine or tank is in that engine space: it stands elsewhere, or is "
                     "an outboard",
    },
    fix="always",
)


def check(subject: tuple[Component, Place], survey: Survey, profile: Profile) -> Answer:
    """Judge one part by its marking."""
    part, place = subject
    marked = part.ignition_protected
    if marked is None:
        marked = part.parameters.get("ignition_protected")
    if marked is None:
        return Missing((f"{part.id}.ignition_protected",), (part.id,))
    return None if marked else Fault("sparks", (part.id,), {}, {
        "part": with_name(survey.diagram, part.id), "place": place.name or place.id})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer an ignition-protected part in its stead."""
    (item,) = finding.where
    title = f"Fit an ignition-protected part as {named(survey.diagram, [item])}"
    yield Fix(title, "choice",
              with_fields(survey.diagram, title, item, ignition_protected=True))
