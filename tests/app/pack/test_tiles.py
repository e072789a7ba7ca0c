"""Tiling: the fewest sheets that stay readable, all of the diagram on them, neighbours alike."""

from __future__ import annotations

import pytest

from app.drawing.fonts import text_box
from app.drawing.marks import Box, Path, Text
from app.pack.tiles import OVERLAP_MM, READABLE_SCALE, match_marks, on_tile, tiling

A3_GROUND = Box(22, 12, 408, 248)


def test_a_small_diagram_stays_on_one_sheet_at_its_own_size():
    plan = tiling(Box(100, 50, 250, 150), "A4")
    assert (plan.count, plan.scale) == (1, 1.0)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_full_a3_diagram_goes_over_two_sheets_and_stays_readable(paper: str):
    plan = tiling(A3_GROUND, paper)
    assert plan.count == 2
    assert plan.scale >= READABLE_SCALE


@pytest.mark.parametrize("content", [A3_GROUND, Box(22, 12, 582, 371)])
def test_every_point_of_the_diagram_falls_on_a_sheet(content: Box):
    plan = tiling(content, "A4")
    for i in range(11):
        for j in range(11):
            x, y = content.x0 + content.w * i / 10, content.y0 + content.h * j / 10
            on = [n for n in range(plan.count) if plan.ground.grown(0.01).holds(
                x * plan.scale + plan.shift(n)[0], y * plan.scale + plan.shift(n)[1])]
            assert on, (x, y)


def test_neighbours_show_the_same_strip():
    plan = tiling(A3_GROUND, "A4")
    step = plan.shift(0)[0] - plan.shift(1)[0]
    assert step == pytest.approx(plan.ground.w - OVERLAP_MM)


def test_short_lettering_is_never_cut_at_the_edge():
    ground = Box(0, 0, 100, 100)
    cut, whole = Text(97, 50, "F20 10 A"), Text(50, 50, "F20 10 A")
    assert on_tile([cut, whole], ground) == [whole]


def test_a_match_line_stops_for_lettering():
    plan = tiling(A3_GROUND, "A4")
    x = plan.ground.x1 - OVERLAP_MM / 2
    word = Text(x - 3, plan.ground.y0 + 50, "F20 10 A")
    box = text_box(word)
    assert len([m for m in match_marks(plan, 0) if isinstance(m, Path) and not m.fill]) == 1
    lines = [m for m in match_marks(plan, 0, [word]) if isinstance(m, Path) and not m.fill]
    assert len(lines) == 2
    for upright in lines:
        ys = [y for _, y in upright.points]
        assert max(ys) < box.y0 or min(ys) > box.y1
