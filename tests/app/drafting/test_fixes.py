"""A fix finds room on the sheet: on the line it is fitted into, and conductors get their paths."""

from __future__ import annotations

from app.drafting.fixes import drawn_edit
from app.drawing.placing import placed_parts
from model.edits import apply, inverse
from model.storage.save import dumps
from rules.fixing import connected, inserted
from tests.boat_builder import Boat


def drawn(*, level: bool = False):
    far = (160.0, 60.0) if level else (60.0, 160.0)
    boat = Boat("us").battery("G1", at=(60, 60), designation="G1").load("E1", at=far)
    path = {"points": [(60.0, 60.0), far]}
    diagram = boat.wire("W1", "G1.+", "E1.+", "6 mm2", length_m=3, path=path).diagram()
    start = placed_parts(diagram)["G1"].ports["+"].at
    finish = placed_parts(diagram)["E1"].ports["+"].at
    wire = diagram.conductors["W1"].changed(path={"points": [start, finish]})
    return diagram.replaced(conductors=diagram.conductors.with_item("W1", wire))


def fused(diagram):
    return inserted(diagram, "Fit a fuse", "W1", "G1.+", "fuse", 0.15, rated_a=30)


def test_a_device_stands_on_its_line_and_both_pieces_have_paths():
    diagram = drawn()
    after = apply(diagram, drawn_edit(diagram, fused(diagram)))
    assert after.components["F1"].at is not None
    assert all(wire.path is not None for wire in after.conductors.values())
    ends = {wire.id: (wire.path.points[0], wire.path.points[-1])
            for wire in after.conductors.values()}
    parts = placed_parts(after)
    assert ends["W2"] == (parts["G1"].ports["+"].at, parts["F1"].ports["a"].at)
    assert ends["W1"] == (parts["F1"].ports["b"].at, parts["E1"].ports["+"].at)


def test_no_new_part_stands_on_another():
    for level in (False, True):
        diagram = drawn(level=level)
        parts = placed_parts(apply(diagram, drawn_edit(diagram, fused(diagram))))
        bodies = [part.body for part in parts.values()]
        for number, one in enumerate(bodies):
            for other in bodies[number + 1:]:
                assert (one.x1 <= other.x0 or other.x1 <= one.x0
                        or one.y1 <= other.y0 or other.y1 <= one.y0)


def test_the_drawn_edit_is_one_step_and_can_be_taken_back():
    diagram = drawn()
    edit = drawn_edit(diagram, fused(diagram))
    assert edit.label == "Fit a fuse"
    assert dumps(apply(apply(diagram, edit), inverse(edit))) == dumps(diagram)


def test_a_new_conductor_is_routed():
    diagram = drawn()
    edit = drawn_edit(diagram, connected(diagram, "Add", "E1.-", "G1.-", cores=("-",)))
    assert apply(diagram, edit).conductors["W2"].path is not None


def test_a_boat_without_places_stays_without():
    diagram = Boat("us").battery("G1").load("E1").wire("W1", "G1.+", "E1.+").diagram()
    assert drawn_edit(diagram, fused(diagram)) == fused(diagram)
