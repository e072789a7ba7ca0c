"""What it checks.
Where the switch nearest to each battery is, and how long its cable is to it.

Why it matters.
When something burns, the switch must be found and turned within seconds. Behind it in the engine
space, under a bunk or metres away it is no help, and all the cable before it stays live.

Fails when.
The nearest main switch lies in an engine space or cannot be reached at once, or every main switch
is farther from the battery along the cable than the figure.

Passes when.
A switch near the battery can be reached at once, or one is worked from afar.

Limits.
A bank without any switch belongs to 2.1. Only eyes can tell what is in reach: until it is answered
the question stands on the list of what to look at aboard.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.banks import Bank, is_isolating, is_main_switch
from model.analysis.isolation_devices import is_remote_disconnect
from model.analysis.reach import came_from, way_back
from model.analysis.unswitched import posts
from model.graph import Edge
from model.survey import Survey
from rules.places import place_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named, place_name

CLOSED_IN = ("engine_space", "petrol_engine_space", "petrol_tank_space")


@dataclass(frozen=True, slots=True)
class NearestSwitch:
    """The main switch of a bank that fewest parts are before, and the conductors to it."""

    bank: Bank
    switch: str
    conductors: tuple[str, ...]


def _nearest_switches(survey: Survey) -> Iterator[NearestSwitch]:
    graph = survey.graph

    def passes(edge: Edge, node: int) -> bool:
        return edge.role in ("conductor", "join", "overcurrent") and not is_isolating(graph, edge)

    for bank in survey.banks:
        came = came_from(graph, posts(graph, bank), passes)
        for node in came:
            part = graph.component_of[node]
            if is_main_switch(graph, part):
                wires = (e.owner for e in way_back(came, node) if e.role == "conductor")
                yield NearestSwitch(bank, part, tuple(wires))
                break


RULE = Rule(
    slug="disconnect_out_of_reach",
    number="2.11",
    title="Disconnect is out of reach",
    topic="isolation",
    severity="caution",
    looks_at="the main switch nearest to each bank",
    subjects=_nearest_switches,
    messages={
        "engine_space": "{switch}, the switch of {bank}, is inside {place}.",
        "hidden": "{switch}, the switch of {bank}, cannot be reached at once.",
        "far": "{switch}, the nearest switch to {bank}, is {cable_m} away along the cable, more "
               "than {limit_m}.",
    },
    remedy="Move it, or fit a switch that is worked from afar.",
    sources=("abyc_e11_switch",),
    quiet={"remote": "it is worked from the helm or the companionway"},
    figures=("switch_distance_m",),
    questions={
        "within_reach": "{item}: can it be reached and turned at once, without lifting a bunk or "
                        "stores or opening the engine space?",
        "length_m": "{item}: how long is it, on the way from the battery to its switch?",
    },
)


def check(nearest: NearestSwitch, survey: Survey, profile: Profile) -> Answer:
    """Judge the switch of one bank."""
    diagram = survey.diagram
    switch = diagram.components[nearest.switch]
    if is_remote_disconnect(switch) or switch.parameters.get("remote") == "with_override":
        return None
    where = (switch.id, nearest.bank.id)
    names = {"switch": named(diagram, [switch.id]),
             "bank": named(diagram, nearest.bank.batteries)}
    place = place_of(diagram, switch)
    if place is not None and place.environment in CLOSED_IN:
        return Fault("engine_space", where, {}, {**names, "place": place_name(diagram, place.id)})
    in_reach = switch.parameters.get("within_reach")
    if in_reach is None and place is not None:
        in_reach = place.reachable
    if in_reach is False:
        return Fault("hidden", where, {}, names)
    asked = () if in_reach else (f"{switch.id}.within_reach",)
    return _too_far(nearest, where, names, survey, profile, asked)


def _too_far(
    nearest: NearestSwitch, where: tuple[str, ...], names: dict[str, str], survey: Survey,
    profile: Profile, asked: tuple[str, ...],
) -> Answer:
    wires = [survey.diagram.conductors[item] for item in nearest.conductors]
    cable_m = sum(wire.length_m for wire in wires if wire.length_m is not None)
    limit = profile["switch_distance_m"]
    if cable_m > limit.value:
        return Fault("far", where, {"cable_m": round(cable_m, 2), "limit_m": limit}, names)
    unsaid = (*asked, *(f"{wire.id}.length_m" for wire in wires if wire.length_m is None))
    return Missing(unsaid, where) if unsaid else None
