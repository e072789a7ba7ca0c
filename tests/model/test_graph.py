"""The network of terminals: one edge for each core and link, and both views the same."""

from __future__ import annotations

import random

import pytest

from model.graph import TerminalGraph
from tests.boat_builder import Boat
from tests.model.random_diagrams import grown


@pytest.mark.parametrize("seed", range(40))
def test_the_arrays_and_the_networkx_view_are_the_same_network(seed: int) -> None:
    graph = TerminalGraph(grown(random.Random(seed), 60)[0])
    other = graph.networkx()
    assert sorted(other.nodes) == sorted(graph.names)
    assert sorted((key, *sorted((a, b))) for a, b, key in other.edges(keys=True)) == sorted(
        (e.index, *sorted((graph.names[e.a], graph.names[e.b]))) for e in graph.edges)
    for node, numbers in enumerate(graph.edges_at):
        assert set(numbers) == {e.index for e in graph.edges if node in (e.a, e.b)}


def test_a_cable_of_two_cores_is_two_edges() -> None:
    boat = Boat().battery("G1").load("E1").fuse("F1").wire("W1", "F1.b", "E1.+", cores=("+", "-"))
    graph = TerminalGraph(boat.diagram())
    assert sorted(e.core for e in graph.edges_of["W1"]) == ["+", "-"]


def test_two_parallel_cables_stay_two_edges() -> None:
    boat = Boat().battery("G1").fuse("F1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "G1.+", "F1.a")
    graph = TerminalGraph(boat.diagram())
    assert graph.networkx().number_of_edges("G1.+", "F1.a+") == 2


def test_a_part_on_the_block_returns_through_its_case() -> None:
    boat = Boat().part("M1", "engine_block").part(
        "M2", "starter", mounted_on="M1", return_by="case")
    graph = TerminalGraph(boat.diagram())
    block, minus = graph.number["M1.block"], graph.number["M2.-"]
    assert any({e.a, e.b} == {block, minus} and e.role == "join" for e in graph.edges)


def test_a_panel_way_has_an_id_and_a_handle_of_its_own() -> None:
    graph = TerminalGraph(Boat().panel("P1", {"rated_a": 10}).diagram())
    way = next(e for e in graph.edges if e.role == "overcurrent")
    assert (way.item, way.handle) == ("P1.w1", "P1.w1")
    assert graph.is_closed(way, {})
    assert not graph.is_closed(way, {"P1.w1": "off"})
