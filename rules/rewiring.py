"""Fixes that lead a conductor elsewhere: to a battery's post with its own fuse, past a switch.

A new device near an end is drawn a hand's breadth from it; the owner measures the true length.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from model.analysis.banks import Bank, is_isolating, is_main_switch
from model.analysis.leads import is_power
from model.analysis.reach import reach
from model.analysis.unswitched import common_conductors, posts
from model.diagram import Conductor, Diagram
from model.edits import Change, Edit, changed, put
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of
from model.survey import Survey
from rules.allowance import largest_device_a
from rules.distance import MM_PER_M
from rules.fixing import inserted, moved, together
from rules.profiles import Profile

NEAR_M = 0.1  # where the new device is drawn until somebody measures: a hand's breadth
PASSED = ("protection", "switch", "measuring")


@dataclass(frozen=True, slots=True)
class LeadTo:
    """Where the lead of a part ends: its last conductor, the terminal there ("X1.s5"), whether
    that conductor begins at an overcurrent device."""

    conductor: str
    terminal: str
    has_device: bool


def lead_from(survey: Survey, node: int, over_mains: bool = False) -> LeadTo | None:
    """Return where the lead that begins at a part's terminal ends: at the first branch, bus, panel,
    main switch or battery; with `over_mains` not at a switch. None when there is no lead, or more
    than one, or it is a cable of several cores: its negative would have to go elsewhere.
    """
    graph = survey.graph
    found: LeadTo | None = None
    passed: set[str] = set()
    while True:
        cores, device = _onward(graph, node, passed)
        if len(cores) != 1:
            return found
        edge, here = cores[0]
        if not is_single(survey.diagram.conductors[edge.owner]):
            return None
        passed.add(edge.owner)
        node = edge.other(here)
        found = LeadTo(edge.owner, _end_at(survey.diagram, edge.owner, graph.component_of[node]),
                       device)
        part = graph.component_of[node]
        is_end = is_main_switch(graph, part) and not over_mains
        if is_end or graph.kinds[part].role not in PASSED:
            return found


def is_single(wire: Conductor) -> bool:
    """Say whether a conductor is one positive core, whose end can go to any positive terminal."""
    return tuple(wire.cores) == ("+",)


def _onward(
    graph: TerminalGraph, start: int, passed: set[str]
) -> tuple[list[tuple[Edge, int]], bool]:
    """Return the conductors that go on from a terminal through its part, and if a device does."""
    seen, stack, cores, device = {start}, [start], [], False
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if is_power(graph, edge) and edge.owner not in passed:
                cores.append((edge, here))
            elif edge.role in ("join", "contact", "overcurrent") and edge.other(here) not in seen:
                device = device or edge.role == "overcurrent"
                seen.add(edge.other(here))
                stack.append(edge.other(here))
    return cores, device


def _end_at(diagram: Diagram, conductor: str, component: str) -> str:
    end = next(e for e in diagram.conductors[conductor].ends() if e.component == component)
    return f"{end.component}.{end.terminal}"


def to_post(
    survey: Survey, profile: Profile, title: str, lead: LeadTo, target: str
) -> Edit:
    """Return the edit that takes a lead's end to a terminal, with a fuse of its own there unless
    one is as near as it may be.

    The fuse suits the conductor when its ampacity is known, else its rating stays open.
    """
    wire = survey.diagram.conductors[lead.conductor]
    near_m = profile.value("unsheathed_max_mm") / MM_PER_M
    guarded = lead.has_device and (wire.length_m or 0.0) <= near_m
    makers = [lambda d: moved(d, title, lead.conductor, lead.terminal, target)]
    if not guarded:
        rated_a = fitting_a(survey, wire, profile)
        makers.append(lambda d: inserted(
            d, title, lead.conductor, target, "fuse", NEAR_M, rated_a=rated_a))
    return together(survey.diagram, title, *makers)


def fitting_a(survey: Survey, wire: Conductor, profile: Profile) -> float | None:
    """Return the largest standard device that suits a conductor, None when that is unknown. [A]"""
    ampacity = survey.ampacity_range(wire, profile.ampacity_table)
    return largest_device_a(ampacity.low_a or 0.0, profile) or None


def terminal_name(graph: TerminalGraph, node: int) -> str:
    """Return the port ("Q1.a") by which a conductor ends at a terminal."""
    component = graph.diagram.components[graph.component_of[node]]
    own = graph.names[node].partition(".")[2]
    for port in kind_of(component).ports(component.parameters):
        if own in port.poles.values():
            return f"{component.id}.{port.id}"
    return graph.names[node]


def taken_out(diagram: Diagram, title: str, part: str) -> Edit | None:
    """Return the edit that takes an in-line part away and joins its two conductors into one.

    None when it has not exactly one conductor on each side.
    """
    sides: dict[str, list[Conductor]] = {}
    for wire in diagram.conductors.values():
        for end in wire.ends():
            if end.component == part:
                sides.setdefault(end.terminal, []).append(wire)
    if sorted(len(wires) for wires in sides.values()) != [1, 1]:
        return None
    (kept,), (gone,) = sides.values()
    far = next(e for e in gone.ends() if e.component != part)
    side = "start" if kept.start.component == part else "finish"
    lengths = (kept.length_m, gone.length_m)
    whole_m = None if None in lengths else round(sum(x or 0.0 for x in lengths), 3)
    joined = changed(kept, **{side: far}, length_m=whole_m, path=None, label_at=None)
    return Edit(title, _removal(diagram, joined, gone.id, part))


def _removal(diagram: Diagram, joined: Conductor, gone: str, part: str) -> tuple[Change, ...]:
    return (put(diagram, "conductors", joined.id, joined), put(diagram, "conductors", gone, None),
            put(diagram, "components", part, None))


def other_end(wire: Conductor, terminal: str) -> str:
    """Return the far end ("F1.a") of a conductor seen from one of its ends."""
    names = [f"{end.component}.{end.terminal}" for end in wire.ends()]
    return names[1] if names[0] == terminal else names[0]


def switch_in_feed(
    survey: Survey, title: str, bank: Bank, loads: Iterable[str]
) -> Edit | None:
    """Return the edit that fits a battery switch where one conductor feeds all these loads.

    Behind the first device when one is on the way, so that no length before it grows. None when
    the loads leave the bank on several ways.
    """
    graph = survey.graph
    common = common_conductors(graph, bank, loads)
    guarded = [(wire, at) for wire, at in common if any(
        graph.edges[i].role == "overcurrent" for i in graph.edges_at[at])]
    for wire, at in guarded or common[-1:]:
        near = _end_at(survey.diagram, wire, graph.component_of[at])
        return inserted(survey.diagram, title, wire, near, "battery_switch", NEAR_M)
    return None


def far_side(survey: Survey, bank: Bank) -> int | None:
    """Return the terminal of the bank's main switch that is away from the bank."""
    graph = survey.graph
    near = reach(graph, posts(graph, bank), lambda e, _: (
        e.role in ("conductor", "join", "overcurrent") and not is_isolating(graph, e)))
    for edge in graph.edges:
        if edge.role == "contact" and is_main_switch(graph, edge.owner) and (
                (edge.a in near) != (edge.b in near)):
            return edge.b if edge.a in near else edge.a
    return None


def switched_point(survey: Survey, bank: Bank) -> str:
    """Return the terminal ("Q2.b") behind a bank's main switch, else the bank's post."""
    far = far_side(survey, bank)
    return f"{bank.id}.+" if far is None else terminal_name(survey.graph, far)
