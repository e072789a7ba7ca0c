"""What it checks.
The way home of what draws or gives current: whether it is a proper negative.

Why it matters.
Bonding wires are thin, and end on fittings in the water. Current in them heats the wire and eats
the seacock.

Fails when.
Every way from the minus of a load, source or converter to a battery runs over bonding or an earth
plate. Where no way to a battery is drawn: all that is joined to its minus is such.

Passes when.
It has a negative of its own.

Limits.
The hull as a conductor belongs to 7.7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.ground import WayHome, ways_home
from model.survey import Survey
from rules.fixing import moved, negative_home, together, with_fields
from rules.profiles import Profile
from rules.rewiring import other_end
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

Returned = tuple[str, WayHome]


RULE = Rule(
    slug="bonding_carries_current",
    number="7.3",
    title="Bonding conductor carries load current",
    topic="grounding",
    severity="danger",
    looks_at="each load, source and converter whose return is drawn",
    subjects=lambda survey: ways_home(survey.graph).items(),
    messages={"bonding": "{part} has no way home but {wires}, which is no return conductor."},
    remedy="Run a return conductor to the negative bus.",
    sources=("abyc_e11", "abyc_e2"),
    fix="sometimes",
)


def check(returned: Returned, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    item, way = returned
    return Fault("bonding", (item, *way.over), {}, {
        "part": named(survey.diagram, [item]),
        "wires": named(survey.diagram, way.over)}) if way.by == "bonding" else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lead the conductor at its minus to the negative bus instead."""
    diagram, (part, *items) = survey.diagram, finding.where
    wires = [wire for item in items if (wire := diagram.conductors.get(item)) is not None
             and part in {end.component for end in wire.ends()}]
    home = negative_home(survey, part, wires[0]) if len(wires) == 1 else None
    if home is not None:
        (wire,) = wires
        title = f"Lead {named(diagram, [wire.id])} to {home}"
        yield Fix(title, "choice", together(
            diagram, title,
            lambda d: moved(d, title, wire.id, other_end(wire, f"{part}.-"), home),
            lambda d: with_fields(d, title, wire.id, cores=("-",), purpose="power", colour=None)))
