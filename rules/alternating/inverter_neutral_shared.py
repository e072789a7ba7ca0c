"""What it checks.
Whether the neutral of an inverter's circuits is joined to the neutral of the shore.

Why it matters.
The loads moved to the inverter, their neutrals stayed: current of one source returns over the
other, devices trip without reason or do not trip at all, and neutrals taken for dead are live.

Fails when.
The inverter's neutral can be reached from a shore inlet's while their live sides are apart.

Passes when.
The inverter's circuits have a neutral bar of their own, or the change-over takes the neutral along.

Limits.
Where the live sides can be joined as well, 9.6 speaks.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import AcSource, ac_sources, inlets, joined_way, neutral_way
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class Beside:
    """An inverter on a boat with a shore inlet."""

    inverter: AcSource
    inlet: AcSource


def _beside(survey: Survey) -> Iterator[Beside]:
    for inlet in inlets(survey.graph):
        yield from (Beside(source, inlet) for source in ac_sources(survey.graph)
                    if source.part.kind in INVERTERS)


RULE = Rule(
    slug="inverter_neutral_shared",
    number="9.14",
    title="Inverter neutral shared with shore neutral",
    topic="alternating",
    severity="danger",
    looks_at="each inverter with each shore inlet",
    subjects=_beside,
    messages={"shared": "The neutral of {inverter} is joined to that of {inlet}, and their live "
                        "sides are not."},
    remedy="Give the inverter's circuits a neutral bar of their own.",
    sources=("installers",),
    quiet={"own_bus": "the inverter's circuits have a separate neutral bar"},
)


def check(beside: Beside, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    graph, inverter, inlet = survey.graph, beside.inverter, beside.inlet
    if joined_way(graph, inverter.live, inlet.live) is not None:
        return None
    where = (inverter.part.id, inlet.part.id)
    joined, unsaid = neutral_way(graph, inverter.neutral, inlet.neutral)
    if joined:
        return Fault("shared", where, {}, {
            "inverter": named(survey.diagram, [inverter.part.id]),
            "inlet": named(survey.diagram, [inlet.part.id])})
    return Missing(unsaid, where) if unsaid else None
