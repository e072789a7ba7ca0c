"""What it checks.
The joints along each conductor and the terminals at its ends.

Why it matters.
A boat shakes for years. Twisted, clamped or only soldered joints work loose, get hot and corrode.

Fails when.
A joint is twist-on, held by solder alone, an open fork, a household connector, or a wing nut on a
heavy conductor; or an end has an open fork.

Passes when.
Joints are crimped. Solder inside heat-shrink with adhesive is passed over.

Limits.
Only recorded joints are judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor, Joint
from model.edits import changed
from model.survey import Survey
from model.units import area_mm2
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

WORDS = {"twist_on": "a twist-on connector", "fork": "an open fork",
         "household": "a household connector", "soldered": "a joint held by solder alone",
         "wing_nut": "a wing nut on a heavy conductor"}


RULE = Rule(
    slug="joint_comes_loose",
    number="4.13",
    title="Joints that come loose",
    topic="conductors",
    severity="fault",
    looks_at="the recorded joints and terminals of each conductor",
    subjects=lambda survey: survey.diagram.conductors.values(),
    messages={
        "loose": "{wire} has {what}.",
        "wing_nut": "{wire} ({size_mm2}) is held by a wing nut; from {limit_mm2} on one does "
                    "not hold.",
    },
    remedy="Crimp tinned terminals and seal them.",
    sources=("abyc_e11_terminals", "survey_lists"),
    quiet={
        "crimped": "it is a crimped splice",
        "heat_shrink": "the solder is held by heat-shrink with adhesive",
        "light": "it is a wing nut on a thin conductor",
    },
    figures=("wing_nut_least_mm2",),
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    found = [_is_loose(joint, wire, profile) for joint in wire.joints]
    what = [WORDS[joint.type] for joint, loose in zip(wire.joints, found, strict=True)
            if loose is True]
    what += [WORDS["fork"] for end in wire.ends() if end.termination == "open_fork"]
    if set(what) == {WORDS["wing_nut"]}:
        assert wire.size is not None
        own_mm2 = area_mm2(wire.size.standard, wire.size.text)
        return Fault(
            "wing_nut", (wire.id,),
            {"size_mm2": round(own_mm2, 2), "limit_mm2": profile["wing_nut_least_mm2"]},
            {"wire": named(survey.diagram, [wire.id])})
    if what:
        return Fault("loose", (wire.id,), {}, {
            "wire": named(survey.diagram, [wire.id]), "what": " and ".join(dict.fromkeys(what))})
    if None not in found:
        return None
    is_nut = any(joint.type == "wing_nut" for joint, loose in zip(wire.joints, found, strict=True)
                 if loose is None)
    return Missing((f"{wire.id}.size" if is_nut else f"{wire.id}.joints",), (wire.id,))


def _is_loose(joint: Joint, wire: Conductor, profile: Profile) -> bool | None:
    """Say whether a joint comes loose; None when a field would tell."""
    if joint.type == "soldered":
        return None if joint.sealed is None else not joint.sealed
    if joint.type == "wing_nut":
        return None if wire.size is None else (
            area_mm2(wire.size.standard, wire.size.text) >= profile.value("wing_nut_least_mm2"))
    return joint.type != "crimped"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer sealed crimps and ring terminals in place of what comes loose."""
    wire = survey.diagram.conductors[finding.where[0]]
    joints = tuple(
        changed(joint, type="crimped", sealed=True) if _is_loose(joint, wire, profile) else joint
        for joint in wire.joints)
    start, finish = (changed(end, termination="ring") if end.termination == "open_fork" else end
                     for end in wire.ends())
    title = f"Crimp and seal the joints of {named(survey.diagram, [wire.id])}"
    yield Fix(title, "mechanical", with_fields(
        survey.diagram, title, wire.id, joints=joints, start=start, finish=finish))
