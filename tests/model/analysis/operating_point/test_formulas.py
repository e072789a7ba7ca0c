"""The solver against formulas written out: series, parallel, bridge, maximum power."""

from __future__ import annotations

import math
import random

import networkx
import numpy as np
import pytest

from model.analysis.operating_point.network import Network
from model.analysis.operating_point.solver import solve
from tests.model.analysis.operating_point.balanced import note, solved

E, R = 12.0, 0.5


def source(network: Network, emf: float = E, ohm: float = R) -> tuple[int, int]:
    minus, plus = network.node(0.0), network.node(emf)
    b = network.batteries
    for name, value in (("minus", minus), ("plus", plus), ("emf_v", emf), ("g_s", 1 / ohm),
                        ("accepts_a", 1e9)):
        getattr(b, name).append(value)
    return minus, plus


def resistor(network: Network, a: int, b: int, ohm: float) -> None:
    network.resistors.a.append(a)
    network.resistors.b.append(b)
    network.resistors.g_s.append(1 / ohm)


def power_load(network: Network, a: int, b: int, watts: float, floor_v: float) -> None:
    loads = network.power_loads
    for name, value in (("a", a), ("b", b), ("power_w", watts), ("floor_v", floor_v)):
        getattr(loads, name).append(value)


def test_two_resistors_in_series_share_the_volts():
    network = Network()
    minus, plus = source(network)
    middle = network.node(E)
    resistor(network, plus, middle, 1.0)
    resistor(network, middle, minus, 2.5)
    volts = solved(network).volts
    assert volts[middle] - volts[minus] == pytest.approx(E * 2.5 / (R + 1.0 + 2.5), rel=1e-8)


def test_two_resistors_side_by_side_share_the_current():
    network = Network()
    minus, plus = source(network)
    resistor(network, plus, minus, 3.0)
    resistor(network, plus, minus, 6.0)
    volts = solved(network).volts
    assert volts[plus] - volts[minus] == pytest.approx(E * 2.0 / (R + 2.0), rel=1e-8)


def test_a_balanced_bridge_drives_nothing_across():
    network = Network()
    minus, plus = source(network)
    left, right = network.node(E), network.node(E)
    for a, b, ohm in ((plus, left, 1.0), (left, minus, 2.0), (plus, right, 3.0),
                      (right, minus, 6.0), (left, right, 5.0)):
        resistor(network, a, b, ohm)
    volts = solved(network).volts
    assert volts[left] - volts[right] == pytest.approx(0, abs=1e-8)


def constant_power_volts(watts: float) -> float:
    """The upper root of V^2 - E V + P R = 0."""
    return (E + math.sqrt(E * E - 4 * watts * R)) / 2


@pytest.mark.parametrize("watts", [1, 20, 40, 60, 71.9])
def test_a_constant_power_load_takes_the_upper_of_its_two_answers(watts: float):
    network = Network()
    minus, plus = source(network)
    power_load(network, plus, minus, watts, 5.0)
    volts = solved(network).volts
    assert volts[plus] - volts[minus] == pytest.approx(constant_power_volts(watts), rel=1e-7)


def test_more_than_the_maximum_power_has_only_the_collapsed_answer():
    """P_max = E^2 / 4 R = 72 W; below its floor of 5 V the load is a resistor of V^2 / P."""
    network = Network()
    minus, plus = source(network)
    power_load(network, plus, minus, 100.0, 5.0)
    volts = solved(network).volts
    ohm = 5.0**2 / 100.0
    assert volts[plus] - volts[minus] == pytest.approx(E * ohm / (R + ohm), rel=1e-7)


@pytest.mark.parametrize("seed", range(40))
def test_resistances_agree_with_networkx_resistance_distance(seed: int):
    rng = random.Random(seed)
    graph = networkx.gnm_random_graph(rng.randint(4, 14), 24, seed=seed)
    if not networkx.is_connected(graph):
        graph = networkx.path_graph(8)
    for a, b in graph.edges:
        graph.edges[a, b]["ohm"] = rng.uniform(0.001, 5)
    start, finish = 0, max(graph.nodes)
    network = Network()
    minus, plus = source(network, 1.0, 1.0)
    nodes = {node: network.node(1.0) for node in graph.nodes}
    for a, b in graph.edges:
        resistor(network, nodes[a], nodes[b], graph.edges[a, b]["ohm"])
    resistor(network, plus, nodes[start], 1e-3)
    resistor(network, nodes[finish], minus, 1e-3)
    volts = solved(network).volts
    current = (1.0 - (volts[plus] - volts[minus])) / 1.0
    ours = (volts[nodes[start]] - volts[nodes[finish]]) / current
    theirs = networkx.resistance_distance(graph, start, finish, weight="ohm")
    note("networkx resistance distance, relative", abs(ours - theirs) / theirs)
    assert ours == pytest.approx(theirs, rel=1e-6)


def test_a_supply_holds_its_volts_until_its_limit_and_never_absorbs():
    for set_v, load_ohm, expected in ((14.4, 10.0, 14.4), (14.4, 0.5, 10.0 * 0.5)):
        network = Network()
        minus, plus = network.node(0.0), network.node(14.4)
        s = network.supplies
        for name, value in (("minus", minus), ("plus", plus), ("sense_minus", minus),
                            ("sense_plus", plus), ("set_v", set_v), ("g_s", 1e3),
                            ("most_a", 10.0), ("most_w", 1e9)):
            getattr(s, name).append(value)
        resistor(network, plus, minus, load_ohm)
        volts = solved(network).volts
        assert volts[plus] - volts[minus] == pytest.approx(expected, rel=1e-3)


def test_a_diode_takes_its_drop_and_blocks_backwards():
    for forward in (True, False):
        network = Network()
        minus, plus = source(network, 12.0, 0.01)
        behind = network.node(12.0)
        d = network.diodes
        a, b = (plus, behind) if forward else (behind, plus)
        for name, value in (("a", a), ("b", b), ("drop_v", 0.7), ("g_s", 100.0)):
            getattr(d, name).append(value)
        resistor(network, behind, minus, 10.0)
        volts = solved(network).volts
        expected = 10.0 * (12 - 0.7) / 10.02 if forward else 0.0
        assert volts[behind] - volts[minus] == pytest.approx(expected, abs=1e-6)


def test_a_floating_part_has_an_answer_of_its_own():
    network = Network()
    minus, plus = source(network)
    resistor(network, plus, minus, 3.0)
    a, b = network.node(0.0), network.node(0.0)
    resistor(network, a, b, 1.0)
    volts = solved(network).volts
    assert np.all(np.isfinite(volts)) and volts[a] == volts[b]


def test_the_same_network_gives_the_same_bits():
    network = Network()
    minus, plus = source(network)
    power_load(network, plus, minus, 40, 5)
    assert np.array_equal(solve(network).volts, solve(network).volts)
