"""Protection seen from an end, against every simple way enumerated by networkx."""

from __future__ import annotations

import random
from collections.abc import Iterator

import networkx
import pytest

from model.analysis.protection import NO_DEVICE, UNKNOWN_RATING, is_positive_core
from model.diagram import Diagram
from model.errors import ModelError
from model.graph import Edge, TerminalGraph
from model.survey import Survey
from tests.boat_builder import Boat

RATINGS = (10, 50, 100, None)


def random_boat(seed: int) -> Diagram:
    """Return a small boat of batteries, fuses, switches and studs, with rings in it."""
    rng = random.Random(seed)
    boat = Boat().battery("G1").battery("G2")
    for number in range(rng.randint(2, 4)):
        boat.fuse(f"F{number}", rng.choice(RATINGS))
    boat.switch("Q1").part("X1", "stud").part("X2", "stud").load("E1")
    ends = ["G1.+", "G2.+", "Q1.a", "Q1.b", "X1.s", "X1.s", "X2.s", "E1.+"]
    fuses = [item for item in boat.diagram().components if item.startswith("F")]
    ends += [f"{item}.{side}" for item in fuses for side in "ab"]
    for number in range(rng.randint(5, 9)):
        try:
            boat.wire(f"W{number}", *rng.sample(ends, 2)).diagram()
        except ModelError:
            boat._items["conductors"].pop(f"W{number}")
    return boat.diagram()


def by_every_way(graph: TerminalGraph, battery: str, edge: Edge, node: int) -> float | None:
    """Return the largest of the smallest ratings on each simple way that avoids the edge."""
    network = networkx.MultiGraph()
    network.add_nodes_from(range(len(graph.names)))
    for other in graph.edges:
        if other.index != edge.index and other.role not in ("load", "source"):
            network.add_edge(other.a, other.b, key=other.index)
    start = graph.number[f"{battery}.+"]
    if start == node:
        return NO_DEVICE
    widths = [min((rating(graph.edges[key]) for _, _, key in way), default=NO_DEVICE)
              for way in networkx.all_simple_edge_paths(network, start, node)]
    return max(widths, default=None)


def rating(edge: Edge) -> float:
    if edge.role != "overcurrent":
        return NO_DEVICE
    return UNKNOWN_RATING if edge.device.get("rated_a") is None else edge.device["rated_a"]


def ends_of_cores(graph: TerminalGraph) -> Iterator[tuple[Edge, int]]:
    for edge in graph.edges:
        if is_positive_core(edge):
            yield edge, edge.a
            yield edge, edge.b


@pytest.mark.parametrize("seed", range(80))
def test_the_worst_device_is_that_of_the_worst_of_all_ways(seed: int) -> None:
    survey = Survey(random_boat(seed))
    for edge, node in ends_of_cores(survey.graph):
        feeds = {feed.battery: feed.rated_a
                 for feed in survey.protection.feeds.get((edge.index, node), ())}
        for battery in ("G1", "G2"):
            assert feeds.get(battery) == by_every_way(survey.graph, battery, edge, node)


def test_the_limiting_device_is_named() -> None:
    boat = Boat().battery("G1").fuse("F1", 100).fuse("F2", 40).load("E1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "F2.a").wire("W3", "F2.b", "E1.+")
    survey = Survey(boat.diagram())
    edge = next(e for e in survey.graph.edges if e.owner == "W3")
    feed = survey.protection.worst(edge, edge.a)
    assert feed is not None
    assert (feed.device, feed.rated_a) == ("F2", 40)


def test_a_way_over_an_emergency_link_is_not_counted() -> None:
    boat = Boat().battery("G1").battery("G2").fuse("F1", 50).fuse("F2", 100).load("E1")
    boat.switch("Q9", "emergency_link").part("X1", "stud")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "X1.s").wire("W3", "X1.s", "E1.+")
    boat.wire("W4", "G2.+", "F2.a").wire("W5", "F2.b", "Q9.a").wire("W6", "Q9.b", "X1.s")
    survey = Survey(boat.diagram())
    graph = survey.graph
    edge = next(edge for edge in graph.edges if edge.owner == "W3")
    feeds = survey.protection.feeds[edge.index, graph.number["X1.s"]]
    assert [(feed.battery, feed.rated_a, feed.device) for feed in feeds] == [("G1", 50, "F1")]
    first = next(edge for edge in graph.edges if edge.owner == "F1")
    assert survey.protection.downstream[first.index] == {graph.number["F1.b+"]}
