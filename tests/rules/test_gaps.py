"""A half-drawn boat: one line a topic, the fields that settle most first."""

from __future__ import annotations

from rules.engine import report_on
from rules.gaps import gaps
from rules.rule import CannotTell
from tests.boat_builder import Boat


def half_drawn() -> Boat:
    boat = Boat("us").battery("G1").fuse("F1").load("E1")
    return boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+")


def unjudged(rule: str, topic: str, *missing: str) -> CannotTell:
    return CannotTell(rule, "1.1", topic, "Title", "Message.", (), missing)


def test_there_is_one_line_a_topic_and_it_names_fields():
    diagram = half_drawn().diagram()
    found = gaps(report_on(diagram).cannot_tell, diagram)
    topics = [gap.topic for gap in found]
    assert "overcurrent" in topics and len(topics) == len(set(topics))
    for gap in found:
        assert gap.fields and gap.message.endswith(".") and "{" not in gap.message


def test_the_field_that_settles_most_comes_first():
    diagram = half_drawn().diagram()
    found = gaps([unjudged("one", "overcurrent", "W2.size", "W1.length_m"),
                  unjudged("two", "overcurrent", "W1.length_m"),
                  unjudged("three", "isolation", "W1.size")], diagram)
    assert [gap.topic for gap in found] == ["overcurrent", "isolation"]
    assert found[0].fields == ("W1.length_m", "W2.size")
    assert found[0].checks == 2
    assert found[0].message == (
        "Overcurrent: 2 checks could not judge everything. What would settle most: "
        "the length of W1; the size of W2.")


def test_many_fields_are_counted_not_listed():
    diagram = half_drawn().diagram()
    (gap,) = gaps([unjudged("one", "overcurrent", *(f"W{n}.size" for n in range(1, 8)))], diagram)
    assert gap.message.endswith("the size of W1, W2 and 5 more.")
    sorts = ("size", "length_m", "colour", "sheath", "insulation_c", "joints")
    (gap,) = gaps([unjudged("one", "overcurrent", *(f"W1.{sort}" for sort in sorts))], diagram)
    assert gap.message.endswith("the length of W1; and 2 more.")
