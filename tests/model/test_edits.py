"""Edits are done whole or not at all, and taking one back gives the same bytes."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.diagram import Component, Conductor, Diagram, End
from model.edits import Edit, apply, changed, inverse, merge, put, setting
from model.errors import (
    BadField,
    MissingPole,
    MissingReference,
    MissingTerminal,
    SelfJoined,
    SelfReference,
    StaleEdit,
    UnknownField,
    UnknownKind,
    WrongId,
)
from model.storage import dumps
from model.validity import check_diagram
from tests.model.random_diagrams import grown


def part(item: str, kind: str = "fuse", **parameters: object) -> Component:
    return Component(id=item, kind=kind, parameters=parameters)


def wire(item: str, start: str, finish: str, cores: tuple[str, ...] = ("+",)) -> Conductor:
    (a, at_a), (b, at_b) = (end.split(".") for end in (start, finish))
    ends = {"from": End(component=a, terminal=at_a), "to": End(component=b, terminal=at_b)}
    return Conductor.read({"id": item, "cores": cores, **ends})


def with_parts(*parts: Component) -> Diagram:
    return apply(Diagram(), setting(Diagram(), "Start", *parts))


@settings(max_examples=120, deadline=None)
@given(st.integers(0, 2**32))
def test_random_edits_undone_to_the_start_give_the_same_bytes(seed: int) -> None:
    diagram, done = grown(random.Random(seed), 25)
    check_diagram(diagram)
    after = dumps(diagram)
    for edit in reversed(done):
        diagram = apply(diagram, inverse(edit))
    assert dumps(diagram) == dumps(Diagram())
    for edit in done:
        diagram = apply(diagram, edit)
    assert dumps(diagram) == after


def test_an_edit_with_one_bad_value_does_nothing_at_all() -> None:
    before = with_parts(part("F1"))
    text = dumps(before)
    with pytest.raises(BadField):
        apply(before, setting(before, "Two", part("F2"), part("F3", rated_a=-5)))
    assert dumps(before) == text


def test_an_edit_made_for_another_state_is_refused() -> None:
    before = with_parts(part("F1"))
    edit = setting(before, "Rate", part("F1", rated_a=10))
    with pytest.raises(StaleEdit):
        apply(apply(before, edit), setting(before, "Rate", part("F1", rated_a=20)))


@pytest.mark.parametrize(
    ("value", "error"),
    [
        (part("X1", "no_such_kind"), UnknownKind),
        (part("X1", ratedd_a=10), UnknownField),
        (part("X1", rated_a="ten"), BadField),
        (part("X1", "alternator", driven_by="M9"), MissingReference),
        (Component(id="X1", kind="fuse", place="nowhere"), MissingReference),
        (Component(id="X1", kind="fuse", mounted_on="X1"), SelfReference),
        (wire("W1", "F1.a", "F9.b"), MissingReference),
        (wire("W1", "F1.a", "G1.top"), MissingTerminal),
        (wire("W1", "F1.a", "G1.+", ("L",)), MissingPole),
        (wire("W1", "F1.a", "G1.+", ("+", "-")), MissingPole),
        (wire("W1", "F1.a", "F1.a"), SelfJoined),
    ],
)
def test_a_value_that_does_not_fit_is_named(value: object, error: type[Exception]) -> None:
    before = with_parts(part("F1"), part("G1", "battery_bank"))
    with pytest.raises(error) as caught:
        apply(before, setting(before, "Bad", value))  # type: ignore[arg-type]
    assert value.id in caught.value.sentence  # type: ignore[attr-defined]


def test_a_series_link_joins_a_minus_to_a_plus() -> None:
    before = with_parts(part("G1", "battery_bank"), part("G2", "battery_bank"))
    apply(before, setting(before, "Link", wire("W1", "G1.-", "G2.+")))


def test_removing_a_part_that_a_conductor_needs_is_refused() -> None:
    before = with_parts(part("F1"), part("F2"))
    joined = apply(before, setting(before, "Join", wire("W1", "F1.b", "F2.a")))
    with pytest.raises(MissingReference):
        apply(joined, Edit("Delete", (put(joined, "components", "F1", None),)))


def test_taking_away_a_panel_way_that_is_wired_is_refused() -> None:
    panel = part("P1", "panel", ways=[{"id": "w1"}, {"id": "w2"}])
    before = with_parts(panel, part("E1", "lamp"))
    wired = apply(before, setting(before, "Wire", wire("W1", "P1.w2", "E1.+")))
    fewer = changed(panel, parameters={"ways": [{"id": "w1"}]})
    with pytest.raises(MissingTerminal):
        apply(wired, setting(wired, "Fewer ways", fewer))


def test_a_value_under_another_id_is_refused() -> None:
    edit = Edit("Wrong", (put(Diagram(), "components", "F2", part("F1")),))
    with pytest.raises(WrongId):
        apply(Diagram(), edit)


def test_merged_edits_do_what_both_did() -> None:
    start = with_parts(part("F1"))
    first = setting(start, "Rate", part("F1", rated_a=1), merge_key="k")
    middle = apply(start, first)
    second = setting(middle, "Rate", part("F1", rated_a=10), merge_key="k")
    both = merge(first, second)
    assert apply(start, both) == apply(middle, second)
    assert apply(apply(start, both), inverse(both)) == start


def test_a_diagram_cannot_be_changed_in_place() -> None:
    diagram = with_parts(part("P1", "panel", ways=[{"id": "w1"}]))
    with pytest.raises(TypeError):
        diagram.components["F9"] = part("F9")
    with pytest.raises(TypeError):
        diagram.components["P1"].parameters["ways"][0]["id"] = "w9"
