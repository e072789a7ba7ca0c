"""What devices break and must break: their own ratings, classes, and the table by banks."""

from __future__ import annotations

import pytest

from model.analysis.interrupting import interrupts, needed_a
from model.protection_tables import large_bank, needed_interrupt_a
from model.survey import Survey
from tests.boat_builder import Boat

BANK = {"internal_resistance_ohm": 0.005, "rest_v": 12.6}


def survey(battery: dict[str, object], **fuse: object) -> Survey:
    boat = Boat().battery("G1", **{**BANK, **battery}).fuse("F1", 100, **fuse).load("E1")
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.1)
    return Survey(boat.wire("W2", "F1.b", "E1.+", "35 mm2", length_m=1).diagram())


def test_a_rating_for_fewer_volts_tells_nothing() -> None:
    assert interrupts({"interrupt_a": 2000, "interrupt_at_v": 14}, 48) is None
    found = interrupts({"interrupt_a": 2000, "interrupt_at_v": 14}, 12)
    assert found is not None
    assert found.low.value == found.high.value == 2000


def test_a_class_gives_bounds() -> None:
    found = interrupts({"class": "bolted"}, 12)
    assert found is not None
    assert found.low.value < found.high.value


@pytest.mark.parametrize("place", ["main", "branch"])
def test_a_lead_bank_asks_the_table(place: str) -> None:
    asked = survey({"chemistry": "agm", "cranking_a": 700})
    figure = needed_interrupt_a(12, 700, place)  # type: ignore[arg-type]
    assert figure is not None
    assert needed_a(asked, ("G1",), place, 12) == (figure.value, ())  # type: ignore[arg-type]


def test_without_a_cranking_rating_the_table_cannot_be_asked() -> None:
    asked = survey({"chemistry": "agm", "capacity_ah": 100})
    assert needed_a(asked, ("G1",), "main", 12) == (None, ("G1.cranking_a",))


def test_a_large_bank_goes_by_its_makers_figure_and_20_ka_above_10() -> None:
    clause = large_bank()
    above = {"chemistry": "lfp", "capacity_ah": clause.above_ah + 1}
    small = survey({**above, "short_circuit_a": clause.where_above_a})
    assert needed_a(small, ("G1",), "main", 12) == (clause.where_above_a, ())
    large = survey({**above, "short_circuit_a": clause.where_above_a + 1})
    assert needed_a(large, ("G1",), "main", 12) == (clause.suffices_a, ())
    assert needed_a(large, ("G1",), "branch", 12) == (None, ())


def test_the_first_device_is_the_main_and_what_is_behind_it_a_branch() -> None:
    boat = Boat().battery("G1", **BANK).fuse("F1", 100).fuse("F2", 20).load("E1")
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.1)
    boat.wire("W2", "F1.b", "F2.a", "6 mm2", length_m=1)
    boat.wire("W3", "F2.b", "E1.+", "6 mm2", length_m=1)
    found = {one.side.item: one.is_main for one in Survey(boat.diagram()).breakings}
    assert found == {"F1": True, "F2": False}
