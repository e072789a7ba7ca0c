import pytest

from app.drawing.badges import Badge, badge_marks, badge_places, danger_line
from app.drawing.marks import Box, Circle, Path, Rect, Text, bounds

BODY = Box(10, 10, 20, 25)


def shape(severity):
    marks = badge_marks([Badge(severity, 4)], BODY)
    return [(type(mark), mark.fill, len(getattr(mark, "points", ()))) for mark in marks
            if isinstance(mark, Path | Rect | Circle)]


def test_shape_alone_tells_every_severity_from_the_others():
    shapes = [str(shape(s)) for s in ("danger", "fault", "caution", "cannot_tell", "accepted")]
    assert len(set(shapes)) == len(shapes)


@pytest.mark.parametrize("severity", ["danger", "fault", "caution"])
def test_a_badge_carries_its_number(severity):
    marks = badge_marks([Badge(severity, 17)], BODY)
    assert [mark.text for mark in marks if isinstance(mark, Text)] == ["17"]


def test_what_cannot_be_told_carries_a_question_mark():
    marks = badge_marks([Badge("cannot_tell", 3)], BODY)
    assert [mark.text for mark in marks if isinstance(mark, Text)] == ["?"]


def test_at_most_three_badges_stand_side_by_side_and_the_rest_is_counted():
    marks = badge_marks([Badge("caution", n) for n in range(1, 6)], BODY)
    assert [mark.text for mark in marks if isinstance(mark, Text)] == ["1", "2", "3", "+2"]


def test_badges_stand_beside_each_other_and_not_over_each_other():
    many = [Badge("danger", 1), Badge("fault", 2), Badge("caution", 3)]
    boxes = []
    for count in (1, 2, 3):
        before = bounds(badge_marks(many[:count - 1], BODY))
        new = bounds(badge_marks(many[:count], BODY)[len(badge_marks(many[:count - 1], BODY)):])
        assert new is not None and (before is None or not before.meets(new))
        boxes.append(new)
    assert all(a.x1 <= b.x0 for a, b in zip(boxes, boxes[1:], strict=False))


@pytest.mark.parametrize("body", [BODY, Box(0, 0, 1, 1), Box(0, 0, 84, 92)])
def test_the_danger_line_is_a_ring_of_dots_two_millimetres_outside_the_body(body):
    dots = danger_line(body)
    ring = bounds(dots)
    outside = body.grown(2.0)
    assert ring is not None
    assert ring.as_tuple() == pytest.approx(outside.grown(0.27).as_tuple())
    assert not any(body.grown(0.8).holds(dot.x, dot.y) for dot in dots)


def test_the_danger_line_leaves_letters_free():
    letters = Box(8, 26, 22, 29)  # a label close under the body
    dots = danger_line(BODY, [letters])
    assert len(dots) < len(danger_line(BODY))
    assert not any(letters.holds(dot.x, dot.y) for dot in dots)
    assert danger_line(BODY, [Box(40, 40, 50, 43)]) == danger_line(BODY)


def test_badges_may_stand_at_the_sides_where_every_corner_is_taken():
    places = badge_places(BODY, 1)
    assert len(places) == 6
    assert all(not place.meets(BODY) for place in places[4:])


def test_a_note_is_told_from_a_caution_by_having_no_ring():
    (mark,) = badge_marks([Badge("note", 4)], BODY)
    assert mark.text == "4"
