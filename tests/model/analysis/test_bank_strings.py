"""What batteries give together: summed side by side, the weakest of each string."""

from __future__ import annotations

import pytest

from model.analysis.bank_strings import below, feet, over_strings
from model.graph import TerminalGraph
from tests.boat_builder import Boat

Links = tuple[tuple[str, str], ...]
TWO_STRINGS: Links = (("G3.-", "G1.+"), ("G4.-", "G2.+"), ("G3.+", "G4.+"), ("G1.-", "G2.-"))
LADDER: Links = (*TWO_STRINGS, ("G1.+", "G2.+"))


def network(links: Links) -> TerminalGraph:
    boat = Boat()
    for item in ("G1", "G2", "G3", "G4"):
        boat.battery(item)
    for n, (one, other) in enumerate(links):
        boat.wire(f"W{n}", one, other, "50 mm2")
    return TerminalGraph(boat.diagram())


# By hand: two strings of 80 and 60 (their weakest), or two rows of 80 + 100 and 120 + 60.
@pytest.mark.parametrize(("links", "ah"), [
    (TWO_STRINGS, 80 + 60), (LADDER, 180), ((), 360), (TWO_STRINGS[:1], 80 + 100 + 60)])
def test_strings_are_added_and_series_is_not(links: Links, ah: float) -> None:
    each = {"G1": 80, "G2": 100, "G3": 120, "G4": 60}
    assert over_strings(network(links), each, each) == ah


def test_the_foot_of_a_string_is_its_lowest_battery() -> None:
    assert feet(network(TWO_STRINGS), "G3") == {"G1"}
    assert feet(network(LADDER), "G3") == {"G1", "G2"}
    assert feet(network((("G1.-", "G2.+"), ("G2.-", "G3.+"))), "G1") == {"G3"}
    assert feet(network(()), "G1") == {"G1"}


def test_a_ring_of_batteries_gives_an_answer() -> None:
    graph = network((("G1.-", "G2.+"), ("G2.-", "G1.+"), ("G3.-", "G1.+")))
    assert below(graph, "G3") == {"G1"}
    assert over_strings(graph, ["G1", "G2", "G3"], {"G1": 80, "G2": 100, "G3": 60}) == 60


def test_a_ring_without_a_top_gives_what_its_weakest_gives() -> None:
    graph = network((("G1.-", "G2.+"), ("G2.-", "G1.+")))
    assert over_strings(graph, ["G1", "G2"], {"G1": 80, "G2": 100}) == 80
    assert over_strings(graph, [], {}) == 0
