"""Ids for new things."""

from __future__ import annotations

from model.naming import fresh_ids
from tests.boat_builder import Boat


def test_the_number_after_the_highest_is_given():
    diagram = Boat().fuse("F2").fuse("F9").diagram()
    assert fresh_ids(["F"], diagram) == ["F10"]


def test_no_id_is_given_twice_in_one_go():
    assert fresh_ids(["F", "F", "G"], Boat().diagram()) == ["F1", "F2", "G1"]


def test_a_fuse_in_the_row_of_a_panel_has_its_name_too():
    diagram = Boat().fuse("F2").part("P1", "panel", ways=({"id": "F3"}, {"id": "F4"})).diagram()
    assert fresh_ids(["F"], diagram) == ["F5"]


def test_an_id_of_another_collection_is_taken_too():
    diagram = Boat().battery("G1").load("E1").wire("F1", "G1.+", "E1.+").diagram()
    assert fresh_ids(["F"], diagram) == ["F2"]
