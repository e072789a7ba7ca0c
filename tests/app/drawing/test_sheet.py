"""The whole sheet of a small boat: layout, rows of panels, labels, live looks, badges."""

import itertools

import pytest

from app.drawing.badges import Badge
from app.drawing.bands import LiveLook
from app.drawing.fonts import text_box
from app.drawing.frame import drawing_area
from app.drawing.laid_out import laid_out
from app.drawing.lettering import part_lines
from app.drawing.marks import Path, Text, flat
from app.drawing.placing import own_positions, placed_part
from app.drawing.sheet import BADGES, SheetLook, framed_marks, sheet_drawing
from model.diagram import Place
from tests.boat_builder import Boat


def boat():
    return (
        Boat()
        .battery("G1", capacity_ah=100, chemistry="agm", name="House")
        .fuse("F1", rated_a=150, **{"class": "class_t"})
        .switch("Q1", rated_continuous_a=300)
        .busbar("X1", stud_count=4)
        .busbar("X2", stud_count=4, pole="-")
        .panel("P1", {"id": "w1", "rated_a": 10}, {"id": "w2", "rated_a": 5}, name="Main panel")
        .load("E1", "lamp", name="Cabin lights", row_of="P1.w1")
        .load("E2", "pump", name="Water pump", current_a=6)
        .wire("W1", "G1.+", "F1.a", "50 mm2", length_m=0.2)
        .wire("W2", "F1.b", "Q1.a", "50 mm2", length_m=0.3)
        .wire("W3", "Q1.b", "X1.s1", "50 mm2", length_m=0.5)
        .wire("W4", "X1.s3", "P1.in", "16 mm2", length_m=1.5)
        .wire("W5", "P1.w1", "E1.+", "2.5 mm2", length_m=7.5, cores=("+", "-"))
        .wire("W6", "P1.w2", "E2.+", "2.5 mm2", length_m=4)
        .wire("W7", "G1.-", "X2.s1", "50 mm2", length_m=0.5, cores=("-",))
    ).diagram()


@pytest.fixture(scope="module")
def diagram():
    return laid_out(boat())


@pytest.fixture(scope="module")
def drawing(diagram):
    return sheet_drawing(diagram)


def words(marks):
    return [mark.text for mark in flat(marks) if isinstance(mark, Text)]


def test_parts_without_a_place_are_laid_out_apart_from_each_other_inside_the_frame(
    diagram, drawing
):
    area = drawing_area(diagram.sheet)
    assert set(drawing.parts) == set(diagram.components) - {"E1", "E2"}
    for part in drawing.parts.values():
        assert area.joined(part.body) == area, part.component.id
    for one, other in itertools.combinations(drawing.parts.values(), 2):
        assert not one.body.meets(other.body)


def test_every_conductor_between_drawn_parts_joins_its_two_ports(diagram, drawing):
    assert set(drawing.paths) == set(diagram.conductors) - {"W5", "W6"}
    for item, path in drawing.paths.items():
        start, finish = diagram.conductors[item].ends()
        assert path[0] == drawing.parts[start.component].port(start.terminal).at
        assert path[-1] == drawing.parts[finish.component].port(finish.terminal).at


def test_a_load_in_a_row_is_written_with_size_and_length_of_its_feed(drawing):
    said = words(drawing.items["part:P1"].marks)
    assert {"w1", "10 A", "2.5 mm² 7.5 m", "Cabin lights"} <= set(said)


def test_lettering_lies_on_no_part_and_on_no_other_lettering(drawing):
    boxes = [(label.item, box) for label in drawing.labels.values() for box in label.boxes()]
    for (one, box), (other, another) in itertools.combinations(boxes, 2):
        assert not box.grown(-0.2).meets(another), (one, other)
    for item, box in boxes:
        for part in drawing.parts.values():
            if part.component.id != item:
                assert not box.meets(part.body), (item, part.component.id)


def test_a_part_says_designation_rating_and_name(drawing):
    said = [text.text for row in part_lines(drawing.parts["G1"]) for text in row]
    assert said == ["G1", "12 V 100 Ah AGM", "House"]


def test_a_label_keeps_off_the_name_of_a_place(diagram):
    part = sheet_drawing(diagram).parts["G1"]
    outline = ((0.0, 0.0), (400.0, 0.0), (400.0, 280.0), (0.0, 280.0))
    first = sheet_drawing(diagram).labels["G1"].texts[0]
    place = Place(id="z", name="Locker", outline=outline, name_at=(first.x, first.y))
    named = diagram.replaced(places={"z": place})
    moved = sheet_drawing(named).labels["G1"]
    name = next(mark for mark in sheet_drawing(named).marks()
                if isinstance(mark, Text) and mark.text == "LOCKER")
    assert part.body == sheet_drawing(named).parts["G1"].body
    assert not any(text_box(name).meets(box) for box in moved.boxes())


def test_an_open_switch_is_drawn_open(diagram):
    closed = sheet_drawing(diagram).items["part:Q1"]
    opened = sheet_drawing(diagram, SheetLook(positions={"Q1": "off"})).items["part:Q1"]
    assert opened.marks != closed.marks


def test_a_way_of_a_panel_stands_as_told_by_the_whole_diagrams_positions(diagram):
    own = own_positions(diagram.components["P1"], {"P1.w2": "off"})
    assert own == {"w1": "on", "w2": "off"}


def test_what_is_dead_is_drawn_grey_and_what_is_live_lies_in_a_band(diagram):
    live = {"W1": LiveLook("H"), "W2": LiveLook("")}
    drawn = sheet_drawing(diagram, SheetLook(live=live)).items
    band = drawn["band:W1"].marks[0]
    assert isinstance(band, Path) and band.role == "band_H" and band.width_mm == 2.4
    assert "band:W2" not in drawn
    shown = [mark for mark in drawn["wire:W2"].marks if hasattr(mark, "role")]
    assert {mark.role for mark in shown} == {"dead"}


def test_a_notice_stands_at_its_part_above_everything_else(diagram):
    look = SheetLook(badges={"F1": (Badge("danger", 1),)})
    badge = sheet_drawing(diagram, look).items["badge:F1"]
    assert badge.layer == BADGES and words(badge.marks) == ["1"]
    assert sheet_drawing(diagram, look).marks()[-1] in badge.marks


def test_a_printed_sheet_has_frame_title_block_and_diagram(diagram, drawing):
    said = words(framed_marks(diagram, drawing, danger=2))
    assert {"UNNAMED BOAT", "CONDUCTORS", "G1", "Main panel"} <= set(said)


def test_a_part_in_a_row_or_without_a_place_is_not_placed(diagram):
    assert placed_part(diagram.components["E1"]) is None
    assert placed_part(boat().components["G1"]) is None
