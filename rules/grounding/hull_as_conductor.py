"""What it checks.
Loads that use the hull or the rig as a conductor.

Why it matters.
Current in a metal hull leaves it where the water is, and takes the hull with it.

Fails when.
A load's negative ends at the hull, or its case is mounted on it and returns by it.

Passes when.
It has two wires.

Limits.
Senders on the engine block are left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

METAL = ("steel", "aluminium")


def _by_hull(survey: Survey) -> Iterator[Component]:
    parts = survey.diagram.components
    hulls = {part.id for part in parts.values() if part.kind == "hull_bond"}
    wired = {here.component for wire in survey.diagram.conductors.values()
             for here, there in (wire.ends(), wire.ends()[::-1])
             if there.component in hulls}
    for part in parts.values():
        by_case = part.return_by == "case" and part.mounted_on in hulls
        if kind_of(part).role == "load" and (part.id in wired or by_case):
            yield part


RULE = Rule(
    slug="hull_as_conductor",
    number="7.7",
    title="Hull or rig used as a conductor",
    topic="grounding",
    severity="danger",
    looks_at="each load that is joined to the hull",
    subjects=_by_hull,
    messages={"hull": "{load} uses the hull as a conductor."},
    remedy="Run two wires.",
    sources=("iso_earthing", "abyc_e11"),
    quiet={"engine": "it is a sender on the engine block"},
)


def check(load: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one load."""
    hull = survey.diagram.boat.hull
    if hull is None:
        return Missing(("boat.hull",), (load.id,))
    return Fault("hull", (load.id,), {}, {"load": named(survey.diagram, [load.id])},
                 severity="danger" if hull in METAL else "fault")
