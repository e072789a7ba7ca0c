"""Conductors of one terminal part at a square tee with one dot."""

from app.drawing.conductors import conductor_marks, full_points
from app.drawing.marks import Circle
from app.drawing.tees import tees
from tests.boat_builder import Boat

POST = (0.0, 0.0)
STRAIGHT = (POST, (0.0, -30.0))
RIGHT = (POST, (0.0, -5.0), (20.0, -5.0), (20.0, 10.0))
LEFT = (POST, (0.0, -5.0), (-20.0, -5.0), (-20.0, 10.0))


def boat():
    return (Boat().battery("G1").fuse("F1").fuse("F2").fuse("F3")
            .wire("W1", "G1.+", "F1.a").wire("W2", "G1.+", "F2.a").wire("W3", "F3.a", "G1.+")
            .wire("N1", "G1.-", "F3.b", cores=("-",))).diagram()


def test_two_that_part_have_one_dot_where_one_turns_off():
    found = tees(boat(), {"W1": STRAIGHT, "W2": RIGHT})
    assert found["W1"].points == found["W2"].points == {(0.0, -5.0)}
    assert [own.dots for own in found.values()] == [{(0.0, -5.0)}, set()]


def test_a_third_at_the_same_tee_adds_no_dot_whatever_its_direction():
    found = tees(boat(), {"W1": STRAIGHT, "W2": RIGHT, "W3": LEFT[::-1]})
    assert sum(len(own.dots) for own in found.values()) == 1


def test_those_that_leave_a_terminal_to_different_sides_have_no_tee():
    assert tees(boat(), {"W1": STRAIGHT, "W2": (POST, (20.0, 0.0))}) == {}


def test_conductors_of_other_terminals_have_no_tee():
    assert tees(boat(), {"W1": STRAIGHT, "N1": RIGHT}) == {}


def test_a_tee_is_square_and_other_corners_are_round():
    points = full_points(RIGHT, (), {(0.0, -5.0)})
    assert (0.0, -5.0) in points and (20.0, -5.0) not in points


def test_the_dot_is_drawn_with_the_conductor():
    diagram = boat()
    marks = conductor_marks(diagram.conductors["W1"], STRAIGHT, (), {(0.0, -5.0)}, [(0.0, -5.0)])
    assert [(mark.x, mark.y) for mark in marks if isinstance(mark, Circle)] == [(0.0, -5.0)]
