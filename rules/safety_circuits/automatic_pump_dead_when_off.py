"""What it checks.
Whether an automatic bilge pump has power with every main switch off.

Why it matters.
Boats sink at the mooring, with the owner at home and everything switched off.

Fails when.
An automatic bilge pump is dead with the main switches open, and so is every other one.

Passes when.
One automatic pump stays live from a battery.

Limits.
Float switches count as closed: they will be. Whether the battery lasts belongs to 10.4.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_supply import live_when_off, live_when_on
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named

Pumps = tuple[str, ...]


def _pumps_together(survey: Survey) -> Iterator[Pumps]:
    """Yield the automatic pumps that have power with everything on, all at once."""
    graph = survey.graph
    fed = in_order(pump for pump in pumps(survey, "bilge_pump_automatic")
                   if graph.number[f"{pump}.+"] in live_when_on(graph))
    if fed:
        yield tuple(fed)


RULE = Rule(
    slug="automatic_pump_dead_when_off",
    number="10.1",
    title="Automatic bilge pump dies with the main switch",
    topic="safety_circuits",
    severity="danger",
    looks_at="the automatic bilge pumps together",
    subjects=_pumps_together,
    messages={"dead": "With every main switch off no automatic bilge pump has power: {pumps}."},
    remedy="Feed the automatic side from the battery with its own fuse.",
    sources=("yard_manuals", "iso_switch"),
    quiet={
        "trailer": "the boat is kept on a trailer or ashore",
        "second": "a second automatic pump is live",
    },
)


def check(together: Pumps, survey: Survey, profile: Profile) -> Answer:
    """Judge the pumps of the boat."""
    graph, kept = survey.graph, survey.diagram.boat.kept
    if any(graph.number[f"{pump}.+"] in live_when_off(graph) for pump in together):
        return None
    if kept is None:
        return Missing(("boat.kept",), together)
    return Fault("dead", together, {}, {"pumps": named(survey.diagram, together)}) if (
        kept == "afloat") else None
