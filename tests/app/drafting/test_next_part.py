"""Drawing on from a part: what a line means, which terminal is taken, where the part stands."""

from __future__ import annotations

import pytest

from app.drafting.many import figures_edit, parts_field_edit, wires_field_edit
from app.drafting.next_part import (
    Figures,
    free_terminals,
    is_length,
    join_next_edit,
    next_part_edit,
    read_line,
)
from app.drafting.wires import NotConnectable
from app.drawing.frame import drawing_area
from app.drawing.placing import placed_parts
from model.diagram import Size
from model.edits import apply, inverse
from model.errors import BadField, QuantityError
from model.kinds import catalogue
from model.kinds.record import Field
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat

MM2_16 = Size(standard="mm2", text="16")


@pytest.mark.parametrize(("line", "words", "size", "length_m"), [
    ("fuse", "fuse", None, None),
    ("battery bank 16 1.2", "battery bank", ("mm2", "16"), 1.2),
    ("battery bank 16 mm2 1,2 m", "battery bank", ("mm2", "16"), 1.2),
    ("navigation light 2/0 4 ft", "navigation light", ("awg", "2/0"), 1.2192),  # 1 ft = 0.3048 m
    ("usb 2.5 m", "usb", None, 2.5),
    ("16", "", ("mm2", "16"), None),
    ("0.75 .5", "", ("mm2", "0.75"), 0.5),
])
def test_a_line_is_a_name_a_size_and_a_length(line, words, size, length_m):
    found, figures = read_line(line)
    assert found == words
    assert (figures.size and (figures.size.standard, figures.size.text)) == size
    assert figures.length_m == (None if length_m is None else pytest.approx(length_m))


@pytest.mark.parametrize("line", ["fuse 16 1.2 3", "fuse 0 1", "fuse 16 nonsense", "16 3 kg",
                                  "fuse 9999"])
def test_a_line_that_means_nothing_is_refused_in_words(line):
    with pytest.raises(QuantityError):
        read_line(line)


def test_only_a_figure_with_a_unit_of_length_is_a_length():
    assert is_length("0.2 m") and is_length("8 in")
    assert not is_length("30") and not is_length("30 A") and not is_length("x")


def bank_and_panel():
    return (Boat().battery("G1", at=(80, 120)).panel("P1", {}, {}, at=(250, 60))
            .load("E1", row_of="P1.w1").wire("W1", "P1.w1", "E1.+").diagram())


def drawn_on(diagram, start, kind, figures=Figures()):  # noqa: B008  figures cannot be changed
    found = next_part_edit(diagram, start, kind, figures)
    after = apply(diagram, found.edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(found.edit))) == dumps(diagram)
    return after, found


def test_the_next_part_is_connected_with_its_figures_in_one_step():
    after, found = drawn_on(bank_and_panel(), ("G1", "+"), "fuse", Figures(MM2_16, 0.2))
    wire = after.conductors[found.wire]
    assert (wire.start.terminal, wire.finish.terminal) == ("+", "a")
    assert (wire.size.text, wire.length_m) == ("16", 0.2)


def test_it_stands_clear_of_the_others_within_the_frame_and_faces_the_terminal():
    diagram = bank_and_panel()
    area = drawing_area(diagram.sheet)
    last = ("G1", "+")
    for _ in range(12):
        diagram, found = drawn_on(diagram, last, "fuse")
        last = (found.part, "b")
    parts = list(placed_parts(diagram).values())
    for number, part in enumerate(parts):
        assert area.holds(part.body.x0, part.body.y0) and area.holds(part.body.x1, part.body.y1)
        assert not any(part.body.meets(other.body) for other in parts[number + 1:])


@pytest.mark.parametrize("kind", ["load", "lamp", "bilge_pump", "socket"])
def test_a_load_on_a_panels_way_is_drawn_in_its_row(kind):
    after, found = drawn_on(bank_and_panel(), ("P1", "w2"), kind)
    assert after.components[found.part].row_of == "P1.w2"


def test_a_panel_whose_ways_are_taken_gets_one_more():
    diagram = apply(bank_and_panel(),
                    next_part_edit(bank_and_panel(), ("P1", "w2"), "lamp", Figures()).edit)
    assert free_terminals(diagram, "P1")[:2] == ("in", "w3")
    after, found = drawn_on(diagram, ("P1", "w3"), "lamp")
    assert [way["id"] for way in after.components["P1"].parameters["ways"]] == ["w1", "w2", "w3"]
    assert after.components[found.part].row_of == "P1.w3"


def test_a_bar_drawn_from_a_negative_is_negative():
    after, found = drawn_on(bank_and_panel(), ("G1", "-"), "busbar")
    assert after.components[found.part].parameters["pole"] == "-"
    assert after.conductors[found.wire].cores == ("-",)


def test_free_terminals_come_before_taken_and_the_positive_before_the_negative():
    diagram = (Boat().part("T1", "solar_controller").part("G2", "solar_array")
               .wire("W1", "G2.+", "T1.pv+").diagram())
    assert free_terminals(diagram, "T1")[0] == "out+"
    assert free_terminals(diagram, "T1")[-1] in ("pv+", "sense")


def test_parts_with_no_core_in_common_are_not_placed():
    diagram = Boat().part("X1", "shore_inlet", at=(60, 60)).diagram()
    with pytest.raises(NotConnectable):
        next_part_edit(diagram, ("X1", "ac"), "battery_bank", Figures())


def test_a_positive_is_not_led_to_the_engine_block():
    diagram = Boat().battery("G1", at=(60, 60)).part("M1", "engine_block", at=(160, 60)).diagram()
    with pytest.raises(NotConnectable):
        join_next_edit(diagram, ("G1", "+"), "M1", "", Figures())


def test_joining_takes_the_free_terminal_that_fits_or_the_one_that_is_named():
    diagram = (Boat().busbar("X1", pole="-", at=(60, 120)).battery("G1", at=(60, 60)).diagram())
    edit = join_next_edit(diagram, ("X1", "s1"), "G1", "", Figures(MM2_16, 0.6))
    wire = apply(diagram, edit).conductors["W1"]
    assert (wire.finish.terminal, wire.size.text, wire.length_m) == ("-", "16", 0.6)
    named = join_next_edit(diagram, ("G1", "-"), "X1", "s5", Figures())
    assert apply(diagram, named).conductors["W1"].finish.terminal == "s5"


def test_a_field_of_many_parts_is_one_step_and_one_refusal():
    diagram = Boat().fuse("F1", 10).part("F2", "breaker").diagram()
    rated = catalogue()["fuse"].field("rated_a")
    edit = parts_field_edit(diagram, ["F1", "F2"], rated, 30.0, "maker")
    after = apply(diagram, edit)
    assert edit.label == "Set rated current of 2 parts"
    assert {part.parameters["rated_a"] for part in after.components.values()} == {30.0}
    assert {part.known["rated_a"] for part in after.components.values()} == {"maker"}
    unknown = apply(after, parts_field_edit(after, ["F1", "F2"], rated, None))
    assert not any("rated_a" in part.parameters or part.known
                   for part in unknown.components.values())
    with pytest.raises(BadField):
        apply(diagram, parts_field_edit(diagram, ["F1", "F2"], rated, -3.0))


def test_a_field_of_many_conductors_is_one_step():
    diagram = (Boat().battery("G1").load("E1").load("E2").wire("W1", "G1.+", "E1.+")
               .wire("W2", "G1.+", "E2.+", "4 mm2").diagram())
    after = apply(diagram, figures_edit(diagram, ["W1", "W2"], Figures(MM2_16, 2.0)))
    assert {(w.size.text, w.length_m) for w in after.conductors.values()} == {("16", 2.0)}
    field = Field("colour", "Colour", "choice", choices=("red",))
    after = apply(after, wires_field_edit(after, ["W1", "W2"], field, "red"))
    assert {w.colour for w in after.conductors.values()} == {"red"}
