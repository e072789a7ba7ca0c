"""What it checks.
What uses the hull or the rig as a conductor.

Why it matters.
Current in a metal hull leaves it where the water is, and takes the hull with it.

Fails when.
Every way from the minus of a load, source or converter to a battery runs over the hull, by a wire
or by its mounting.

Passes when.
It has two wires.

Limits.
Senders on the engine block are left alone.
"""

from __future__ import annotations

from model.analysis.ground import ways_home
from model.diagram import Component
from model.graph import METAL
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

MACHINES = ("alternator", "starter")  # 7.12 asks what these are bolted to


def _by_hull(survey: Survey) -> list[Component]:
    """Return what returns by the hull, and the loads of which nobody said what they stand on."""
    parts = survey.diagram.components
    return [parts[item] for item, way in ways_home(survey.graph).items()
            if way.by == "hull" or _is_somewhere(parts[item])]


def _is_somewhere(part: Component) -> bool:
    return part.kind not in MACHINES and part.return_by == "case" and part.mounted_on is None


RULE = Rule(
    slug="hull_as_conductor",
    number="7.7",
    title="Hull or rig used as a conductor",
    topic="grounding",
    severity="danger",
    looks_at="each load, source and converter whose current comes home by the hull",
    subjects=_by_hull,
    messages={"hull": "{part} uses the hull as a conductor."},
    remedy="Run two wires.",
    sources=("iso_earthing", "abyc_e11"),
    quiet={"engine": "it is a sender on the engine block"},
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    hull = survey.diagram.boat.hull
    if _is_somewhere(part):
        return Missing((f"{part.id}.mounted_on",), (part.id,))
    if hull is None:
        return Missing(("boat.hull",), (part.id,))
    return Fault("hull", (part.id,), {}, {"part": named(survey.diagram, [part.id])},
                 severity="danger" if hull in METAL else "fault")
