"""Both systems of measures: what a size is in the other one, and lengths typed in feet."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel

from app.drafting.wires import connect_edit
from app.panels.both_systems import nearest, other_system
from model.diagram import Size
from model.edits import changed, setting
from tests.app.hand import Hand


def size(text: str, standard: str = "mm2") -> Size:
    return Size.read({"standard": standard, "text": text})


# ASTM B258: 2 AWG is 0.2576 in and 1 AWG 0.2893 in across, 33.6 and 42.4 mm².
@pytest.mark.parametrize(("given", "words"), [
    (size("35"), "between 2 AWG (33.6 mm²) and 1 AWG (42.4 mm²); nearest 2 AWG, smaller"),
    (size("2", "awg"), "33.6 mm²: between 25 mm² and 35 mm²; nearest 35 mm², larger"),
    (size("0.5"), "below 18 AWG (0.823 mm²)"),
    (size("400"), "above 4/0 AWG (107 mm²)"),
])
def test_a_size_is_told_in_the_other_system(given, words):
    assert other_system(given) == words


def test_the_list_says_whether_the_nearest_is_larger_or_smaller():
    assert nearest(size("10")) == "nearest 8 AWG, smaller"
    assert nearest(size("6", "awg")) == "nearest 16 mm², larger"


def in_feet(hand: Hand) -> str:
    window = hand.window
    diagram = window.workspace.diagram
    window.desk.do(setting(diagram, "Lengths in feet", changed(
        diagram.boat, length_unit="ft")))
    window.desk.do(connect_edit(window.workspace.diagram, ("G1", "+"), ("F1", "a")))
    window.desk.choose({"W1"})
    return "W1"


def test_lengths_of_a_boat_in_feet_are_shown_and_typed_in_feet(four_parts: Hand):
    hand = four_parts
    wire = in_feet(hand)
    row = hand.field("length_m")
    assert row.field.unit == "ft"
    hand.type_over(row.editor, "12")
    # The international foot: 0.3048 m.
    assert hand.window.workspace.diagram.conductors[wire].length_m == pytest.approx(3.6576)
    assert hand.field("length_m").editor.text() == "12"
    hand.type_over(hand.field("length_m").editor, "3.5 m")
    assert hand.window.workspace.diagram.conductors[wire].length_m == pytest.approx(3.5)
    assert hand.field("length_m").editor.text() == "11.48"


def test_saying_how_a_length_is_known_keeps_the_length_as_it_was(four_parts: Hand):
    hand = four_parts
    wire = in_feet(hand)
    hand.type_over(hand.field("length_m").editor, "3.5 m")
    row = hand.field("length_m")
    row._how("measured")
    after = hand.window.workspace.diagram.conductors[wire]
    assert after.length_m == pytest.approx(3.5, abs=1e-9)
    assert after.known["length_m"] == "measured"


def test_the_form_of_a_conductor_says_its_size_in_the_other_system(four_parts: Hand):
    hand = four_parts
    in_feet(hand)
    hand.type_over(hand.field("size").editor, "35")
    hand.field("size")
    words = [label.text() for label in hand.window.particulars.findChildren(QLabel)]
    assert any(text.startswith("between 2 AWG") for text in words)
