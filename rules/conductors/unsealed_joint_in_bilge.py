"""What it checks.
Joints that lie in the bilge: whether they are sealed.

Why it matters.
Under water an open joint corrodes within weeks, and stray current eats the metal around it. It is
mostly the bilge pump's.

Fails when.
A joint in a place that is bilge is not of a sealed type.

Passes when.
It is sealed, or lies elsewhere.

Limits.
Only recorded joints with a recorded place are judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor, Joint
from model.edits import changed
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, place_name


def _with_wet_joints(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        if any(_is_wet(joint, survey) for joint in wire.joints):
            yield wire


def _is_wet(joint: Joint, survey: Survey) -> bool:
    return joint.place in {place.id for place in survey.diagram.places.values()
                           if place.environment == "bilge"}


RULE = Rule(
    slug="unsealed_joint_in_bilge",
    number="4.22",
    title="Connection below the expected water level",
    topic="conductors",
    severity="caution",
    looks_at="each conductor with a joint in the bilge",
    subjects=_with_wet_joints,
    messages={"open": "{wire} has a joint in {place} that is not sealed."},
    remedy="Raise it, or seal it with heat-shrink and adhesive.",
    sources=("abyc_e11_terminals", "survey_lists"),
    quiet={"sealed": "it is of a sealed type", "elsewhere": "it is not recorded in the bilge"},
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    wet = [joint for joint in wire.joints if _is_wet(joint, survey)]
    bare = [joint for joint in wet if joint.sealed is False]
    if bare:
        return Fault("open", (wire.id,), {}, {
            "wire": named(survey.diagram, [wire.id]),
            "place": place_name(survey.diagram, str(bare[0].place))})
    unsaid = any(joint.sealed is None for joint in wet)
    return Missing((f"{wire.id}.joints",), (wire.id,)) if unsaid else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to seal it."""
    wire = survey.diagram.conductors[finding.where[0]]
    joints = tuple(changed(joint, sealed=True) if _is_wet(joint, survey) else joint
                   for joint in wire.joints)
    title = f"Seal the joint of {named(survey.diagram, [wire.id])}"
    yield Fix(title, "mechanical", with_fields(survey.diagram, title, wire.id, joints=joints))
