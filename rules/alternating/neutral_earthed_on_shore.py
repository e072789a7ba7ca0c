"""What it checks.
What joins neutral and earth aboard while the boat is on shore power.

Why it matters.
Half of the boat's neutral current then flows back over the earth, through hull and water. The
residual-current device trips or is fooled, and swimmers feel it.

Fails when.
A bond that is always there, or a generating set bonded at its frame, is joined to the neutral and
earth of a shore inlet.

Passes when.
The bond is only there while its own source supplies, or the neutral is switched away from it.

Limits.
An isolating transformer begins a new neutral, which must be bonded. A neutral shared with an
inverter belongs to 9.14.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import AcSource, ac_sources, fed_from, inlets, joined_way
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Bonded:
    """An inlet, and a part that may join its neutral to its earth."""

    inlet: AcSource
    bond: Component


def _bonded(survey: Survey) -> Iterator[Bonded]:
    graph = survey.graph
    ends = [(part, graph.number[f"{part.id}.n"], graph.number[f"{part.id}.e"])
            for part in survey.diagram.components.values() if part.kind == "neutral_earth_bond"]
    ends += [(source.part, source.neutral, source.earth) for source in ac_sources(graph)
             if source.part.kind == "generating_set"]
    for inlet in inlets(graph):
        earth = fed_from(graph, inlet.earth)
        for part, neutral_end, earth_end in ends:
            if earth_end in earth and joined_way(graph, inlet.neutral, neutral_end) is not None:
                yield Bonded(inlet, part)


RULE = Rule(
    slug="neutral_earthed_on_shore",
    number="9.4",
    title="Neutral and earth joined aboard while on shore",
    topic="alternating",
    severity="danger",
    looks_at="each shore inlet with each bond of neutral and earth it is joined to",
    subjects=_bonded,
    messages={"joined": "{bond} joins neutral and earth while {inlet} supplies."},
    remedy="Remove the link, or let a relay make it only while its own source supplies.",
    sources=("abyc_e11",),
    quiet={"relay": "the bond is only there while its own source supplies",
           "transformer": "it is the secondary of an isolating transformer"},
)


def check(bonded: Bonded, survey: Survey, profile: Profile) -> Answer:
    """Judge one bond."""
    bond = bonded.bond
    where = (bond.id, bonded.inlet.part.id)
    field = "present_when" if bond.kind == "neutral_earth_bond" else "neutral_bond"
    made = bond.parameters.get(field)
    if made is None:
        return Missing((f"{bond.id}.{field}",), where)
    return Fault("joined", where, {}, {
        "bond": named(survey.diagram, [bond.id]),
        "inlet": named(survey.diagram, [bonded.inlet.part.id])}) if (
            made in ("always", "at_frame")) else None
