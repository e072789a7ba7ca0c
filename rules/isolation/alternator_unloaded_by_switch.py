"""What it checks.
Each alternator with each manual switch between it and the batteries in every position.

Why it matters.
An alternator that runs and loses its battery jumps to many times its voltage within a moment. That
destroys its diodes and the electronics joined to it.

Fails when.
In some usual state one position of one switch leaves the alternator joined to no battery.

Passes when.
The alternator stays joined to a battery whatever one hand does.

Limits.
One switch is moved at a time. Fuses, breakers that are no main switch and contacts that only a coil
works are not tried: 6.2 looks at management units. Any off position of a selector counts, also one
that nobody means to use, and a passage through it with it.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import handle_of, is_isolating, is_main_switch
from model.analysis.reach import leads_to, stiff_reach, stiff_ways
from model.analysis.usual_states import usual_states
from model.diagram import Component
from model.graph import Edge, TerminalGraph
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import lead_from, to_post
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

SPOKEN = {"0": "off"}

RULE = Rule(
    slug="alternator_unloaded_by_switch",
    number="2.6",
    title="A switch can unload a running alternator",
    topic="isolation",
    severity="danger",
    looks_at="each alternator",
    subjects=lambda survey: [
        c for c in survey.diagram.components.values() if c.kind == "alternator"],
    messages={
        "unloads": "Turning {switches} leaves {alternator} without any battery while it runs.",
    },
    remedy="Take the alternator's output straight to the house bank with its own fuse; label the "
           "switch until then.",
    sources=("engine_makers", "common_practice"),
    quiet={
        "direct": "the alternator is wired straight to a bank with its own fuse or breaker",
        "field_cutout": "the selector makes before it breaks, its field contacts are wired to this "
                        "alternator, and only off unloads it",
        "stops": "the switch stops the alternator's field first",
    },
    fix="sometimes",
)


def check(alternator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator by what each switch leaves it."""
    unloading = _unloading(alternator, survey)
    excused = {item: _is_excused(item, positions, alternator, survey)
               for item, positions in unloading.items()}
    switches = in_order(item for item, excuse in excused.items() if excuse is False)
    unsure = in_order(item for item, excuse in excused.items() if excuse is None)
    if not switches:
        return Missing(tuple(f"{item}.make_before_break" for item in unsure),
                       (alternator.id, *unsure)) if unsure else None
    spoken = [f"{named(survey.diagram, [item])} to {_spoken(unloading[item])}"
              for item in switches]
    return Fault(
        "unloads", (alternator.id, *switches), {},
        {"switches": " or ".join(spoken), "alternator": named(survey.diagram, [alternator.id])},
        severity="caution" if alternator.parameters.get("surge_protected") is True else "danger")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the output to the post of a battery it charges now, the house bank's first."""
    graph, diagram = survey.graph, survey.diagram
    alternator = finding.where[0]
    start = graph.number[f"{alternator}.+"]
    joined = stiff_reach(graph, [start], {})
    posts = [item for item in _batteries(graph) if graph.number[f"{item}.+"] in joined]
    posts.sort(key=lambda item: diagram.components[item].parameters.get("duty") != "house")
    lead = lead_from(survey, start)
    if posts and lead is not None:
        title = f"Take {named(diagram, [alternator])} to {named(diagram, posts[:1])} with its fuse"
        yield Fix(title, "choice", to_post(survey, profile, title, lead, f"{posts[0]}.+"))


def _batteries(graph: TerminalGraph) -> list[str]:
    return in_order(c.id for c in graph.diagram.components.values() if c.kind == "battery_bank")


def _unloading(alternator: Component, survey: Survey) -> dict[str, set[str]]:
    """Return the switches that part it from its last battery, and in which positions."""
    graph = survey.graph
    start = graph.number[f"{alternator.id}.+"]
    posts = {graph.number[f"{item}.+"] for item in _batteries(graph)}
    found: dict[str, set[str]] = {}
    switches = [edge for edge in graph.edges if _is_switch(graph, edge)]
    for state in usual_states(survey.diagram):
        joined = stiff_reach(graph, [start], state.positions)
        for edge in switches:
            if joined.isdisjoint((edge.a, edge.b)):
                continue
            positions = handle_of(graph, edge).positions
            lost = {position for position in positions if not leads_to(
                stiff_ways(graph, {**state.positions, str(edge.handle): position}),
                [start], posts)}
            if len(lost) < len(positions):
                found.setdefault(edge.owner, set()).update(lost)
    return {item: lost for item, lost in found.items() if lost}


def _is_switch(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a hand works it as a switch; a breaker of the lead's own is its protection."""
    return is_isolating(graph, edge) and (
        edge.role == "contact" or is_main_switch(graph, edge.owner))


def _is_excused(
    item: str, positions: set[str], alternator: Component, survey: Survey
) -> bool | None:
    """Say whether a switch may unload it; None when it depends on what is not stated."""
    if item in alternator.parameters.get("stops_on", ()):
        return True
    switch = survey.diagram.components[item].parameters
    wired = switch.get("field_contacts_wired_to")
    stops_field = wired is not None and wired in (
        alternator.id, alternator.parameters.get("regulator"))
    if not stops_field or len(positions) > 1:
        return False
    makes: bool | None = switch.get("make_before_break")
    return makes


def _spoken(positions: set[str]) -> str:
    return " or ".join(SPOKEN.get(position, position) for position in sorted(positions))
