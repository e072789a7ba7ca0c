"""On the marks of both demo boats nothing lies on anything: computed with shapely's geometry."""

from __future__ import annotations

import itertools
from importlib.resources import files

import pytest
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from app.drawing.fonts import text_box
from app.drawing.frame import drawing_area
from app.drawing.places import place_name
from app.drawing.sheet import SheetDrawing, sheet_drawing
from model.diagram import Diagram
from model.storage import load

DEMOS = ("weekend_sloop", "steel_cutter")
SPEAKS_INSIDE = ("panel", "fuse_block", "ac_panel", "engine_block")
TOUCH_MM2, TOUCH_MM = 0.01, 0.05


@pytest.fixture(params=DEMOS, scope="module")
def demo(request: pytest.FixtureRequest) -> tuple[Diagram, SheetDrawing]:
    diagram = load(str(files("assets").joinpath("demo", f"{request.param}.loom")))
    return diagram, sheet_drawing(diagram)


def lettering(diagram: Diagram, drawing: SheetDrawing) -> list[tuple[str, BaseGeometry]]:
    texts = [(item, box(*b.as_tuple())) for item, label in drawing.labels.items()
             for b in label.boxes()]
    places = [(place.id, box(*text_box(place_name(place)).as_tuple()))
              for place in diagram.places.values() if place.outline]
    return texts + places


def bodies(drawing: SheetDrawing) -> dict[str, BaseGeometry]:
    return {item: box(*part.body.as_tuple()) for item, part in drawing.parts.items()}


def test_no_lettering_lies_on_lettering(demo):
    texts = lettering(*demo)
    clashes = [(a[0], b[0]) for a, b in itertools.combinations(texts, 2)
               if a[0] != b[0] and a[1].intersection(b[1]).area > TOUCH_MM2]
    assert clashes == []


def test_no_lettering_lies_on_a_part(demo):
    diagram, drawing = demo
    clashes = [
        (item, part) for item, text in lettering(diagram, drawing)
        for part, body in bodies(drawing).items()
        if text.intersection(body).area > TOUCH_MM2
        and not (item == part and diagram.components[part].kind in SPEAKS_INSIDE)
    ]
    assert clashes == []


def test_no_lettering_lies_on_a_conductor(demo):
    diagram, drawing = demo
    clashes = [(item, wire) for item, text in lettering(diagram, drawing)
               for wire, path in drawing.paths.items() if LineString(path).intersects(text)]
    assert clashes == []


def test_no_conductor_runs_through_a_part_that_is_not_its_own(demo):
    diagram, drawing = demo
    clashes = []
    for wire, path in drawing.paths.items():
        own = {end.component for end in diagram.conductors[wire].ends()}
        for part, body in bodies(drawing).items():
            inside = LineString(path).intersection(body.buffer(-0.3)).length
            if part not in own and inside > TOUCH_MM:
                clashes.append((wire, part))
    assert clashes == []


def test_nothing_lies_outside_the_frame(demo):
    diagram, drawing = demo
    area = box(*drawing_area(diagram.sheet).as_tuple())
    shapes = [*lettering(diagram, drawing), *bodies(drawing).items(),
              *((wire, LineString(path)) for wire, path in drawing.paths.items())]
    assert [item for item, shape in shapes if not area.covers(shape)] == []


def test_both_demos_have_every_label_a_part_needs(demo):
    diagram, drawing = demo
    silent = [item for item, part in drawing.parts.items()
              if item not in drawing.labels and part.component.kind != "stud"]
    assert silent == []
