"""Parts in line and at even distances, on the grid, their conductors with them."""

from __future__ import annotations

import pytest

from app.drafting.arranging import align_edit, distribute_edit
from app.drafting.wires import reroute_edit
from app.drawing.placing import placed_parts
from model.edits import apply, inverse
from model.storage.save import dumps
from tests.boat_builder import Boat


def scattered():
    diagram = (Boat().battery("G1", at=(60, 60)).fuse("F1", at=(105, 90))
               .switch("Q1", at=(150, 42.5)).load("E1", at=(240, 130))
               .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").diagram())
    return apply(diagram, reroute_edit(diagram, ["W1", "W2"]))


ITEMS = ("G1", "F1", "Q1", "E1")


def done(diagram, edit):
    after = apply(diagram, edit)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    for part in after.components.values():
        assert part.at[0] % 2.5 == 0 and part.at[1] % 2.5 == 0
    return after


@pytest.mark.parametrize(("line", "edge"), [
    ("left", "x0"), ("right", "x1"), ("top", "y0"), ("bottom", "y1")])
def test_edges_come_in_line_as_near_as_the_grid_lets_them(line, edge):
    diagram = scattered()
    bodies = [placed_parts(diagram)[item].body for item in ITEMS]
    far = (min if edge.endswith("0") else max)(getattr(body, edge) for body in bodies)
    after = placed_parts(done(diagram, align_edit(diagram, ITEMS, line)))
    for item in ITEMS:
        assert abs(getattr(after[item].body, edge) - far) < 2.5


@pytest.mark.parametrize(("line", "axis"), [("centre", 0), ("middle", 1)])
def test_middles_come_exactly_on_one_line(line, axis):
    diagram = scattered()
    after = done(diagram, align_edit(diagram, ITEMS, line))
    assert len({after.components[item].at[axis] for item in ITEMS}) == 1


@pytest.mark.parametrize(("direction", "low", "high"), [
    ("across", "x0", "x1"), ("down", "y0", "y1")])
def test_gaps_become_even_and_the_outermost_stay(direction, low, high):
    diagram = scattered()
    after = done(diagram, distribute_edit(diagram, ITEMS, direction))
    before = placed_parts(diagram)
    bodies = sorted((placed_parts(after)[item].body for item in ITEMS),
                    key=lambda body: getattr(body, low))
    gaps = [getattr(b, low) - getattr(a, high) for a, b in zip(bodies, bodies[1:], strict=False)]
    assert max(gaps) - min(gaps) <= 2.5
    first = min(ITEMS, key=lambda item: getattr(before[item].body, low))
    assert after.components[first].at == diagram.components[first].at


def test_conductors_follow():
    diagram = scattered()
    after = done(diagram, align_edit(diagram, ITEMS, "middle"))
    parts = placed_parts(after)
    for wire in after.conductors.values():
        assert wire.path.points[0] == parts[wire.start.component].port(wire.start.terminal).at


def test_what_is_in_line_already_is_no_step():
    diagram = scattered()
    after = done(diagram, align_edit(diagram, ITEMS, "left"))
    assert align_edit(after, ITEMS, "left").is_empty()
