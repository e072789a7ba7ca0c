import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.drawing.marks import (
    Arc,
    Box,
    Circle,
    Group,
    Path,
    Rect,
    Target,
    Text,
    arc_points,
    bounds,
    flat,
    line,
    moved,
    turned,
    turned_box,
    turned_point,
)

SHAPES = (
    Path(((0, 0), (3, 1), (2, 5))), Circle(1, 2, 3), Rect(1, 2, 4, 6), Arc(1, 1, 2, 20, 65),
)
TURNS = st.sampled_from((0, 90, 180, 270))


@pytest.mark.parametrize("mark", SHAPES)
@given(turn=TURNS, mirrored=st.booleans())
def test_the_bounds_of_a_turned_shape_are_the_turned_bounds(mark, turn, mirrored):
    box = bounds([mark])
    after = bounds([turned(mark, turn, mirrored)])
    assert box is not None and after is not None
    assert after.as_tuple() == pytest.approx(turned_box(box, turn, mirrored).as_tuple())


@given(turn=TURNS, mirrored=st.booleans())
def test_an_arc_turns_point_by_point(turn, mirrored):
    arc = Arc(1, 2, 3, 10, 100)
    there = arc_points(turned(arc, turn, mirrored), 6)
    for point, expected in zip(there, arc_points(arc, 6), strict=True):
        assert point == pytest.approx(turned_point(*expected, turn, mirrored))


@given(turn=TURNS, mirrored=st.booleans())
def test_lettering_moves_with_its_symbol_but_stays_upright(turn, mirrored):
    text = Text(4, 1, "G", 4.0, anchor="middle")
    after = turned(text, turn, mirrored)
    half = 0.729 * 4.0 / 2
    assert (after.x, after.y - half) == pytest.approx(turned_point(4, 1 - half, turn, mirrored))
    assert (after.text, after.upward, after.anchor) == ("G", False, "middle")


def test_four_quarter_turns_bring_a_shape_back():
    mark = line(1, 2, 3, 4)
    for _ in range(4):
        mark = turned(mark, 90)
    assert mark == line(1, 2, 3, 4)


def test_a_group_is_resolved_where_it_stands():
    group = Group((Circle(0, 0, 1), Group((Circle(1, 0, 1),), 10, 0)), 5, 7)
    assert [(mark.x, mark.y) for mark in flat([group])] == [(5, 7), (16, 7)]
    assert bounds([group]) == Box(4, 6, 17, 8)


def test_a_group_is_moved_and_never_turned():
    group = Group((Circle(0, 0, 1),), 5, 7)
    assert moved(group, 1, 1) == Group(group.marks, 6, 8)
    with pytest.raises(TypeError):
        turned(group, 90)


def test_a_target_moves_with_its_box_and_takes_up_no_ground():
    target = Target(Box(0, 0, 2, 1), name="here")
    assert moved(target, 3, 4).box == Box(3, 4, 5, 5)
    assert turned(target, 90).box == Box(-1, 0, 0, 2)
    assert bounds([target]) is None


def test_boxes_meet_only_when_their_insides_overlap():
    assert Box(0, 0, 2, 2).meets(Box(1, 1, 3, 3))
    assert not Box(0, 0, 2, 2).meets(Box(2, 0, 4, 2))
