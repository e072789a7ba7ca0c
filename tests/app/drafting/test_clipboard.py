"""Copying parts and pasting them under new ids, here or in another diagram."""

from __future__ import annotations

import json

import pytest

from app.drafting.clipboard import NotParts, copied, paste_edit
from app.drafting.wires import connect_edit
from model.edits import apply, inverse
from model.errors import ModelError
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat


@pytest.fixture
def engine_room():
    """An engine, its alternator fused to a bank, and a panel with a lamp in its second way."""
    diagram = (
        Boat().part("M1", "engine_block", at=(40, 100))
        .part("G2", "alternator", at=(40, 50), driven_by="M1", mounted_on="M1")
        .fuse("F1", 60, at=(110, 50), designation="")
        .battery("G1", at=(180, 50))
        .panel("P1", {}, {}, at=(250, 50))
        .load("E1", row_of="P1.w2", name="Chart lamp")
        .diagram()
    )
    for first, second in ((("G2", "+"), ("F1", "a")), (("F1", "b"), ("G1", "+")),
                          (("P1", "w2"), ("E1", "+"))):
        diagram = apply(diagram, connect_edit(diagram, first, second))
    return diagram


def pasted(diagram, text, shift=(10, 10)):
    edit, ids = paste_edit(diagram, text, shift)
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after, ids


def test_parts_come_under_new_ids_shifted_by_the_step(engine_room):
    after, ids = pasted(engine_room, copied(engine_room, ["F1"]))
    assert ids == ("F2",)
    assert after.components["F2"].at == (120.0, 60.0)
    assert after.components["F2"].parameters == engine_room.components["F1"].parameters


def test_conductors_between_the_parts_come_along_and_others_do_not(engine_room):
    after, ids = pasted(engine_room, copied(engine_room, ["G2", "F1"]))
    wires = {item: after.conductors[item] for item in ids if item in after.conductors}
    assert len(wires) == 1
    (wire,) = wires.values()
    assert {end.component for end in wire.ends()} == {"F2", "G3"}
    assert not {end.component for end in wire.ends()} & set(engine_room.components)


def test_references_lead_to_the_copies_or_nowhere(engine_room):
    after, _ = pasted(engine_room, copied(engine_room, ["M1", "G2"]))
    copy = after.components["G3"]
    assert (copy.parameters["driven_by"], copy.mounted_on) == ("M2", "M2")
    alone, _ = pasted(engine_room, copied(engine_room, ["G2"]))
    assert "driven_by" not in alone.components["G3"].parameters
    assert alone.components["G3"].mounted_on is None


def test_parts_travel_between_diagrams(engine_room):
    other = Boat().battery("G1", at=(50, 50)).diagram()
    after, ids = pasted(other, copied(engine_room, list(engine_room.components)))
    assert len(after.components) == 1 + len(engine_room.components)
    assert len(after.conductors) == len(engine_room.conductors)
    assert "G1" not in ids


def test_a_panel_takes_the_loads_drawn_in_its_rows_along(engine_room):
    after, _ = pasted(engine_room, copied(engine_room, ["P1"]))
    assert after.components["E2"].row_of == "P2.w2"
    assert after.components["E2"].name == "Chart lamp"


def test_pasting_twice_gives_different_ids(engine_room):
    text = copied(engine_room, ["F1", "G1"])
    once, first = pasted(engine_room, text)
    twice, second = pasted(once, text, (20, 20))
    assert not set(first) & set(second)
    assert len(twice.components) == len(engine_room.components) + 4


def test_what_was_copied_may_be_removed_before_pasting(engine_room):
    text = copied(engine_room, ["G2", "F1"])
    after, ids = pasted(Boat().diagram(), text, (0, 0))
    assert set(ids) == {"G1", "F1", "W1"}
    assert after.components["F1"].at == (110.0, 50.0)


GOOD = {"id": "F1", "kind": "fuse", "at": [0, 0]}
WIRE = {"id": "W1", "cores": ["+"], "from": {"component": "F1", "terminal": "a"},
        "to": {"component": "F9", "terminal": "a"}}


@pytest.mark.parametrize("text", [
    "", "hello", "{", "[]", "null", "7", '"x"', "\x00", "{}",
    json.dumps({"loomwright_parts": 2, "components": [GOOD], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": "F1", "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [7], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [GOOD]}),
    json.dumps({"loomwright_parts": 1, "components": [{"id": "F1"}], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [{**GOOD, "x": 1}], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [{**GOOD, "at": [1e300, 0]}],
                "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [{**GOOD, "kind": "fluxer"}],
                "conductors": []}),
    json.dumps({"loomwright_parts": 1, "components": [GOOD], "conductors": [WIRE]}),
    json.dumps({"loomwright_parts": 1, "components": [GOOD, GOOD], "conductors": []}),
    json.dumps({"loomwright_parts": 1, "conductors": [],
                "components": [{**GOOD, "parameters": {"rated_a": "many"}}]}),
    json.dumps({"loomwright_parts": 1, "conductors": [],
                "components": [{"id": "P1", "kind": "panel", "parameters": {"ways": 7}}]}),
    json.dumps({"loomwright_parts": 1, "conductors": [],
                "components": [{"id": "G1", "kind": "alternator",
                                "parameters": {"stops_on": 5, "driven_by": ["x"]}}]}),
    json.dumps({"loomwright_parts": 1, "components": [GOOD], "conductors": [
        {**WIRE, "to": {"component": "F1", "terminal": "q"}}]}),
    "[" * 100_000,
])
def test_garbage_is_refused_with_a_sentence_and_nothing_is_done(small_boat, text):
    with pytest.raises(ModelError) as told:
        edit, _ = paste_edit(small_boat, text, (0, 0))
        apply(small_boat, edit)
    assert told.value.sentence.endswith(".")


def test_no_parts_are_named_as_such(small_boat):
    with pytest.raises(NotParts, match="nothing was pasted"):
        paste_edit(small_boat, "a shopping list", (0, 0))
