"""The sheet laid out whole: power falls, buses are straight, nothing but the drawing changes."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon
from shapely.geometry import box as shape

from app.drawing.frame import ground_box
from app.drawing.layout import layout_edit, tidy_edit
from app.drawing.marks import Box
from app.drawing.placing import placed_parts
from app.drawing.sheet import sheet_drawing
from model.diagram import Diagram
from model.edits import apply, changed, inverse
from model.kinds import kind_of
from tests.boat_builder import Boat
from tests.boats import BOATS
from tests.overlaps import overlaps
from tests.tidied import DEMOS, as_drawn, tidied

DRAWN_ONLY = ("at", "turn", "label_at", "row_of")
STUDS_ONLY = ("stud_at_mm", "length_mm")


def small() -> Diagram:
    """A bank below its bus, an array above, two loads, a starter on its engine."""
    boat = (
        Boat(returns="drawn")
        .battery("G1").fuse("F1", rated_a=100).switch("Q1").busbar("X1", pole="+", stud_count=5)
        .busbar("X2", pole="-", stud_count=5)
        .part("G4", "solar_array").part("T1", "solar_controller").fuse("F2", rated_a=20)
        .fuse("F3", rated_a=10).load("E1", "lamp").fuse("F4", rated_a=10).load("E2", "pump")
        .wire("W1", "G1.+", "F1.a", "35 mm2").wire("W2", "F1.b", "Q1.a", "35 mm2")
        .wire("W3", "Q1.b", "X1.s1", "35 mm2").wire("W4", "G4.+", "T1.pv+", "4 mm2")
        .wire("W5", "T1.out+", "F2.b", "6 mm2").wire("W6", "F2.a", "X1.s2", "6 mm2")
        .wire("W7", "X1.s3", "F3.a", "2.5 mm2").wire("W8", "F3.b", "E1.+", "2.5 mm2")
        .wire("W9", "X1.s4", "F4.a", "2.5 mm2").wire("W10", "F4.b", "E2.+", "2.5 mm2"))
    for number, end in enumerate(("G1.-", "E1.-", "E2.-"), start=1):
        boat.wire(f"N{number}", end, f"X2.s{number}", "4 mm2", cores=("-",))
    return boat.diagram()


def laid(name: str) -> Diagram:
    if name != "small":
        return tidied(name)
    edit = tidy_edit(small())
    assert edit is not None
    return apply(small(), edit)


def bodies(diagram: Diagram) -> dict[str, Box]:
    return {item: part.body for item, part in placed_parts(diagram).items()}


def test_power_falls_from_the_array_over_the_bus_to_battery_and_loads() -> None:
    body = bodies(laid("small"))
    for upper, lower in (("G4", "T1"), ("T1", "F2"), ("F2", "X1"), ("X1", "Q1"), ("Q1", "F1"),
                         ("F1", "G1"), ("G1", "X2"), ("X1", "F3"), ("F3", "E1"), ("E1", "X2")):
        assert body[upper].y1 < body[lower].y0, (upper, lower)


def test_every_conductor_of_a_small_boat_is_one_straight_line() -> None:
    diagram = laid("small")
    bent = [wire.id for wire in diagram.conductors.values()
            if wire.path is None or len(wire.path.points) != 2]
    assert bent == []


def test_a_device_is_turned_so_that_its_ends_face_what_they_are_joined_to() -> None:
    diagram = laid("small")
    assert diagram.components["F1"].turn == 180  # its end a leads to the battery, below it
    assert diagram.components["F3"].turn == 0


@pytest.mark.parametrize("boat", ("marrowby", "tidewright", "steel_cutter"))
def test_sources_stand_above_the_main_bus(boat: str) -> None:
    diagram = tidied(boat)
    body = bodies(diagram)
    assert all(body[item].y1 < body["X1"].y0 for item, c in diagram.components.items()
               if c.kind in ("solar_array", "wind_generator", "shore_inlet"))


@pytest.mark.parametrize("boat", [*BOATS, *DEMOS])
def test_only_the_drawing_changes(boat: str) -> None:
    before = as_drawn(boat)
    after = tidied(boat)
    for item, part in before.components.items():
        now = after.components[item]
        same = {name: getattr(part, name) for name in DRAWN_ONLY}
        studs = {name: part.parameters.get(name) for name in STUDS_ONLY}
        parameters = now.parameters
        for name, value in studs.items():
            parameters = parameters.with_item(name, value)
        assert changed(now, parameters=parameters, **same) == part
    for item, wire in before.conductors.items():
        assert changed(after.conductors[item], path=wire.path, label_at=wire.label_at) == wire


@pytest.mark.parametrize("boat", ("small", "harrowmere"))
def test_tidying_twice_changes_nothing_more(boat: str) -> None:
    once = laid(boat)
    again = tidy_edit(once)
    assert again is not None
    twice = apply(once, again)
    assert twice.components == once.components and twice.conductors == once.conductors


def test_one_step_back_restores_every_byte() -> None:
    diagram = as_drawn("steel_cutter")
    edit = tidy_edit(diagram)
    assert edit is not None
    assert edit.label == "Tidy the sheet"
    assert apply(apply(diagram, edit), inverse(edit)) == diagram


def test_everything_stands_on_the_grid() -> None:
    diagram = tidied("marrowby")
    off = [item for item, c in diagram.components.items()
           if c.at is not None and (c.at[0] % 2.5 or c.at[1] % 2.5)]
    assert off == []


def test_larger_paper_is_taken_only_where_it_must_be() -> None:
    assert laid("small").sheet.size == "A3"
    assert tidied("marrowby").sheet.size == "A2"


def test_loads_on_nothing_but_a_panels_way_stand_in_its_row() -> None:
    diagram = tidied("marrowby")
    assert diagram.components["E4"].row_of == "P1.w4"
    assert diagram.components["E30"].row_of is None


def test_nothing_to_tidy_is_no_edit() -> None:
    assert tidy_edit(Diagram()) is None
    assert layout_edit(Diagram()) is None


@pytest.mark.parametrize("boat", DEMOS)
def test_an_outline_holds_the_parts_of_its_place_and_no_others(boat: str) -> None:
    diagram = tidied(boat)
    body = bodies(diagram)
    kept = [place for place in diagram.places.values() if place.outline]
    assert kept
    for place in kept:
        inside = {item for item, box in body.items() if _holds(place.outline, box)}
        own = {item for item, c in diagram.components.items()
               if c.place == place.id and item in body}
        nested = {item for other in kept if other is not place
                  and all(_holds(place.outline, Box(x, y, x, y)) for x, y in other.outline)
                  for item in body if diagram.components[item].place == other.id}
        assert inside == own | nested


def _holds(outline: tuple[tuple[float, float], ...], box: Box) -> bool:
    return bool(Polygon(outline).buffer(0.01).covers(shape(*box.as_tuple())))


def test_the_small_demo_keeps_all_its_places() -> None:
    assert all(place.outline for place in tidied("weekend_sloop").places.values())


def test_a_few_parts_are_placed_among_the_others_which_stay() -> None:
    whole = laid("small")
    loose = [changed(whole.components[item], at=None) for item in ("F4", "E2")]
    paths = [changed(whole.conductors[item], path=None) for item in ("W9", "W10", "N3")]
    diagram = whole.replaced(
        components=whole.components.with_items((c.id, c) for c in loose),
        conductors=whole.conductors.with_items((w.id, w) for w in paths))
    edit = layout_edit(diagram)
    assert edit is not None
    assert {change.id for change in edit.changes} == {"F4", "E2", "W9", "W10", "N3"}
    after = apply(diagram, edit)
    assert overlaps(after, sheet_drawing(after)) == []
    body = bodies(after)
    assert body["X1"].y1 < body["F4"].y0 < body["E2"].y0


def test_a_lone_part_joined_to_nothing_finds_free_ground() -> None:
    whole = laid("small")
    tank = Boat().part("X9", "fuel_tank").diagram().components["X9"]
    diagram = whole.replaced(components=whole.components.with_items([("X9", tank)]))
    edit = layout_edit(diagram)
    assert edit is not None
    body = bodies(apply(diagram, edit))
    ground = ground_box(diagram.sheet.size)
    assert ground.joined(body["X9"]) == ground
    assert not any(body["X9"].meets(box) for item, box in body.items() if item != "X9")


def test_a_bar_is_drawn_over_all_its_studs_each_in_its_own_place() -> None:
    diagram = tidied("marrowby")
    for component in diagram.components.values():
        if kind_of(component).slug == "busbar":
            places = component.parameters["stud_at_mm"]
            assert len(set(places)) == component.parameters["stud_count"]
