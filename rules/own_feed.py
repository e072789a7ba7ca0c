"""A feed of its own for a load that shares a fuse or breaker: on a spare way of the same panel, or
from where that device is fed, with a fuse that suits the load and what leads to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from model.analysis.leads import is_power
from model.analysis.reach import came_from, reach, way_back
from model.kinds import kind_of
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.daily_use import drawn_a
from rules.fixing import freest, inserted, moved, together, with_fields
from rules.free_ways import free_ways
from rules.new_device import fuse_words, largest_rating_a, most_device_a, suitable_fuse
from rules.profiles import Profile
from rules.rewiring import NEAR_M, LeadTo, lead_from, terminal_name
from rules.rule import Fix
from rules.way_labels import label_of
from rules.wording import named

BARS = ("busbar", "stud", "terminal_block")


@dataclass(frozen=True, slots=True)
class Parting:
    """A load that is to leave a device: its lead, the conductors that a new device would guard, and
    the least that device has to carry. [A]"""

    load: str
    lead: LeadTo
    chain: tuple[str, ...]
    least_a: float


def own_feed(survey: Survey, profile: Profile, load: str, device: str) -> Iterator[Fix]:
    """Offer to lead a load past a device that it shares.

    Nothing where its lead does not end on that device's load side, or where no device suits both
    the load and its conductors.
    """
    start = survey.graph.number[f"{load}.+"]
    lead, far = lead_from(survey, start), _supply_side(survey, start, device)
    if lead is None or far is None:
        return
    least_a = (drawn_a(load, survey) or 0.0) / profile.value("continuous_max_ratio")
    parting = Parting(load, lead, _chain(survey, start, lead), least_a)
    yield from _on_spare_way(survey, profile, parting, device)
    yield from _with_fuse(survey, profile, parting, far)


def _supply_side(survey: Survey, start: int, device: str) -> int | None:
    """Return the terminal of a device that is away from a load, None when it does not part it."""
    near = reach(survey.graph, [start], lambda edge, _: (
        edge.role not in ("load", "source") and edge.item != device))
    for edge in survey.graph.edges:
        if edge.item == device and edge.role == "overcurrent" and (edge.a in near) != (
                edge.b in near):
            return edge.b if edge.a in near else edge.a
    return None


def _chain(survey: Survey, start: int, lead: LeadTo) -> tuple[str, ...]:
    """Return the conductors of a lead, from the load to where it ends."""
    came = came_from(survey.graph, [start], lambda edge, _: edge.role not in ("load", "source"))
    last = next(edge for edge in survey.graph.edges_of[lead.conductor] if is_power(
        survey.graph, edge))
    way = max((way_back(came, node) for node in (last.a, last.b)), key=len)
    return tuple(dict.fromkeys(edge.owner for edge in way if edge.role == "conductor"))


def _on_spare_way(
    survey: Survey, profile: Profile, parting: Parting, device: str
) -> Iterator[Fix]:
    """Offer the first way of the same panel that is free and of a rating that suits."""
    diagram, panel = survey.diagram, survey.diagram.components[device.partition(".")[0]]
    most_a = most_device_a(survey, parting.chain, profile)
    for item, way in free_ways(survey, panel) if "." in device else ():
        if parting.least_a <= way["rated_a"] <= most_a:
            title = f"Lead {named(diagram, [parting.load])} to {named(diagram, [item])}, a free way"
            yield Fix(title, "choice", together(
                diagram, title,
                partial(moved, title=title, conductor=parting.lead.conductor,
                        from_=parting.lead.terminal, to=item),
                partial(with_fields, title=title, item=item, spare=False,
                        label=label_of(diagram, [parting.load]))))
            return


def _with_fuse(survey: Survey, profile: Profile, parting: Parting, far: int) -> Iterator[Fix]:
    """Offer a fuse for the load alone, from where its device is fed."""
    diagram = survey.diagram
    found, rated_a = _source(survey, far), _rated_a(survey, profile, parting)
    if found is None or rated_a < parting.least_a or not rated_a:
        return
    source, node = found
    fuse = suitable_fuse(survey, node, rated_a, rated_a, profile)
    words = f"a fuse of {rated_a:g} A" if fuse is None else fuse_words(fuse)
    asked = [] if fuse else ["class"]
    asked += [] if _maker_a(survey, parting) else ["rating"]
    title = (f"Feed {named(diagram, [parting.load])} from {_source_words(survey, source)} with "
             f"{words} of its own" + (f", {' and '.join(asked)} to be confirmed" if asked else ""))
    wire = parting.lead.conductor
    yield Fix(title, "choice", together(
        diagram, title,
        partial(moved, title=title, conductor=wire, from_=parting.lead.terminal, to=source),
        partial(inserted, title=title, conductor=wire, at=source, kind="fuse", length_m=NEAR_M,
                **(fuse or {"rated_a": rated_a}))))


def _rated_a(survey: Survey, profile: Profile, parting: Parting) -> float:
    """Return the rating of a fuse for one load: its maker's, else the largest of what may stay
    live, or what it draws asks for; no more than its conductors allow. [A]
    """
    asked_a = min(a for a in standard_device_ratings_a() if a >= parting.least_a)
    usual_a = max(asked_a, profile.value("always_on_device_a"))
    return largest_rating_a(min(most_device_a(survey, parting.chain, profile),
                                _maker_a(survey, parting) or usual_a))


def _maker_a(survey: Survey, parting: Parting) -> float | None:
    return survey.diagram.components[parting.load].parameters.get("maker_fuse_max_a")


def _source(survey: Survey, far: int) -> tuple[str, int] | None:
    """Return the terminal ("X1.s4") from which a device is fed, and its node: the feed of a panel,
    the bar or battery at the far end of the one conductor to a loose device. None where that comes
    from something else: behind another device a thin conductor would hang on it.
    """
    graph = survey.graph
    part = survey.diagram.components[graph.component_of[far]]
    if kind_of(part).field("ways") is not None:
        return f"{part.id}.in", graph.number[f"{part.id}.in+"]
    feeds = [graph.edges[i] for i in graph.edges_at[far] if is_power(graph, graph.edges[i])]
    if len(feeds) != 1:
        return None
    node = feeds[0].other(far)
    beyond = survey.diagram.components[graph.component_of[node]]
    if beyond.kind == "battery_bank":
        return terminal_name(graph, node), node
    studs = [f"{beyond.id}.{port.id}" for port in kind_of(beyond).ports(beyond.parameters)]
    stud = freest(survey.diagram, studs) if beyond.kind in BARS else None
    return None if stud is None else (stud, node)


def _source_words(survey: Survey, source: str) -> str:
    part = survey.diagram.components[source.partition(".")[0]]
    words = named(survey.diagram, [part.id])
    return f"the feed of {words}" if kind_of(part).field("ways") is not None else words
