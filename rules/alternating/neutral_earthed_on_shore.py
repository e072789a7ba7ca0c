"""What it checks.
What joins neutral and earth aboard while the boat is on shore power.

Why it matters.
Half of the boat's neutral current then flows back over the earth, through hull and water. The
residual-current device trips or is fooled, and swimmers feel it.

Fails when.
A bond that is always there, a generating set bonded at its frame, or an inverter-charger that
bonds its output and passes the shore through, is joined to the neutral and earth of an inlet.

Passes when.
The bond is only there while its own source supplies, or the neutral is switched away from it.

Limits.
An isolating transformer begins a new neutral, which must be bonded. A neutral shared with an
inverter by its output belongs to 9.14.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import ac_sources, fed_from, inlets, neutral_way
from model.diagram import Component
from model.survey import Survey
from rules.neutral_bonds import bond_removed, bonded, switched_away
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Bonded:
    """An inlet, a part that may join its neutral to its earth, and the field that says so.

    `unsaid` holds the fields that would tell whether the neutrals meet; none when they do.
    """

    inlet: Component
    bond: Component
    field: str
    unsaid: tuple[str, ...]


MADE = ("always", "at_frame", "bonded")


def _bonded(survey: Survey) -> Iterator[Bonded]:
    graph = survey.graph
    for inlet in inlets(graph):
        earth = fed_from(graph, inlet.earth)
        for part, field, neutral_end, earth_end in _ends(survey):
            joined, unsaid = neutral_way(graph, inlet.neutral, neutral_end)
            if earth_end in earth and (joined or unsaid):
                yield Bonded(inlet.part, part, field, unsaid)


def _ends(survey: Survey) -> Iterator[tuple[Component, str, int, int]]:
    """Yield what may bond a neutral, the field that tells, and its neutral and earth.

    An inverter-charger that passes shore power through has the shore's neutral on its output.
    """
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind == "neutral_earth_bond":
            yield part, "present_when", graph.number[f"{part.id}.n"], graph.number[f"{part.id}.e"]
        if part.kind == "inverter_charger":
            yield (part, "output_neutral", graph.number[f"{part.id}.inN"],
                   graph.number[f"{part.id}.inE"])
    for source in ac_sources(graph):
        if source.part.kind == "generating_set":
            yield source.part, "neutral_bond", source.neutral, source.earth


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
    sources=("abyc_e11", "iso_ac_earthing"),
    quiet={"relay": "the bond is only there while its own source supplies",
           "transformer": "it is the secondary of an isolating transformer"},
    fix="sometimes",
)


def check(bonded: Bonded, survey: Survey, profile: Profile) -> Answer:
    """Judge one bond."""
    bond, where = bonded.bond, (bonded.bond.id, bonded.inlet.id)
    made = bond.parameters.get(bonded.field)
    if made not in (None, *MADE):
        return None
    asked = (*((f"{bond.id}.{bonded.field}",) if made is None else ()), *bonded.unsaid)
    return Missing(asked, where) if asked else Fault("joined", where, {}, {
        "bond": named(survey.diagram, [bond.id]),
        "inlet": named(survey.diagram, [bonded.inlet.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a relay in place of a bond that is always there, or to switch a set's neutral away."""
    bond = survey.diagram.components[finding.where[0]]
    if bond.kind == "neutral_earth_bond":
        yield bond_removed(survey, bond)
    elif bond.kind == "inverter_charger":
        yield from bonded(survey, bond)
    else:
        inlet = next(one for one in inlets(survey.graph) if one.part.id == finding.where[1])
        neutral = survey.graph.number[f"{bond.id}.N"]
        yield from switched_away(survey, inlet.neutral, neutral)
