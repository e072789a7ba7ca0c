import pytest

from app.drawing.fonts import text_box
from app.drawing.frame import (
    BLOCK_H,
    drawing_area,
    frame_box,
    frame_marks,
    rose,
    sheet_size_mm,
)
from app.drawing.marks import Box, Rect, Text, bounds
from model.diagram import BoatInfo, Sheet

SIZES = ("A4", "A3", "A2", "Letter", "Tabloid")
BOAT = BoatInfo(name="Ternholm", type_text="steel cutter, 12.5 m", number="TH-E-101", edition="3",
                date="2031-04-18", drawn_by="owner", approved_by="the yard's electrician")
LONG = BoatInfo(name="The Very Long Name of a Small Boat", type_text="gaff cutter with a bowsprit",
                title="Electrical system of the after cabin, as found in spring", date="2031-04-18",
                drawn_by="owner and the whole crew together", approved_by="nobody as yet",
                number="A-VERY-LONG-NUMBER-OF-A-DRAWING-0001")
COUNTS = {"danger": 1, "fault": 2, "caution": 3}


def texts(marks):
    return [mark for mark in marks if isinstance(mark, Text) and mark.text]


@pytest.mark.parametrize("size", SIZES)
def test_the_frame_has_the_margins_of_iso_5457(size):
    width, height = sheet_size_mm(size)
    assert frame_box(size) == Box(20, 10, width - 10, height - 10)


@pytest.mark.parametrize("size", SIZES)
def test_the_ground_for_the_diagram_ends_above_the_title_block(size):
    area, frame = drawing_area(Sheet(size=size)), frame_box(size)
    assert frame.grown(-1).joined(area) == frame.grown(-1)
    assert area.y1 <= frame.y1 - BLOCK_H


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("boat", [BOAT, LONG, BoatInfo()], ids=["usual", "long", "empty"])
def test_all_of_the_frame_lies_on_the_paper_and_no_lettering_on_other_lettering(size, boat):
    marks = frame_marks(Sheet(size=size), boat, COUNTS)
    width, height = sheet_size_mm(size)
    paper, drawn = Box(0, 0, width, height), bounds(marks)
    assert drawn is not None and paper.joined(drawn) == paper
    boxes = [(text_box(text), text.text) for text in texts(marks)]
    for number, (box, words) in enumerate(boxes):
        assert paper.joined(box) == paper, words
        for other, other_words in boxes[number + 1:]:
            assert not box.grown(-0.1).meets(other), (words, other_words)


@pytest.mark.parametrize("size", SIZES)
def test_lettering_of_title_block_and_legend_stays_inside_the_frame(size):
    frame = frame_box(size)
    for text in texts(frame_marks(Sheet(size=size), LONG, COUNTS)):
        if text.size_mm > 2.05 or frame.holds(text.x, text.y):
            assert frame.joined(text_box(text)) == frame, text.text


def test_small_paper_keeps_its_ground_and_leaves_the_legend_out():
    words = [text.text for text in texts(frame_marks(Sheet(size="A4"), BOAT, COUNTS))]
    assert "CONDUCTORS" not in words and "TERNHOLM" in words


def test_the_legend_can_be_left_out():
    marks = frame_marks(Sheet(size="A3", legend=False), BOAT, COUNTS)
    assert "CAUTION" not in [text.text for text in texts(marks)]


def test_the_legend_counts_the_notices_in_magenta():
    said = [text for text in texts(frame_marks(Sheet(), BOAT, COUNTS)) if "open" in text.text]
    assert any("1 danger, 2 fault, 3 caution" in text.text for text in said)


def test_no_lettering_is_smaller_than_two_millimetres():
    assert min(text.size_mm for text in texts(frame_marks(Sheet(), BOAT, COUNTS))) >= 2.0


def test_the_border_is_graduated_in_bars_of_five_millimetres():
    bars = [mark for mark in frame_marks(Sheet(), BOAT, {})
            if isinstance(mark, Rect) and mark.fill == "ink" and mark.role is None]
    assert len(bars) > 100
    assert all(min(bar.w, bar.h) <= 1.2 and max(bar.w, bar.h) <= 5.0 for bar in bars)


@pytest.mark.parametrize("diameter", [20, 29])
def test_the_rose_is_as_wide_as_asked(diameter):
    box = bounds(rose(diameter))
    assert box is not None
    assert (box.w, box.h) == pytest.approx((diameter, diameter), abs=0.1)
