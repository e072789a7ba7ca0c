"""New boats on their sheets: nothing lies on anything, by the same geometry as the demo boats."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from shapely.geometry import Polygon, box

from app.drawing.frame import drawing_area
from app.drawing.sheet import SheetDrawing, sheet_drawing
from app.new_boat.answers import Answers
from app.new_boat.boat import boat_of
from model.diagram import Diagram
from tests.app.new_boat.covering import covering_boats
from tests.app.new_boat.judged import clashes
from tests.overlaps import overlaps

BOATS = {
    "usual": Answers(),
    "usual in feet": Answers(rule_set="us", shore_v=120),
    "smallest": Answers(length_m=6, engines=0, shore_v=0, windlass=False),
    "no engine, wind": Answers(engines=0, wind=True, inverter=True),
    "other volts": Answers(house_v=24, wind=True, heater=True),
    "lithium with all": Answers(house_v=24, chemistry="lfp", wind=True, thruster=True,
                                bow_bank=True, shore_unit="inverter_charger"),
    "twins": Answers(engines=2, fuel="petrol", shore_v=120, rule_set="us", wind=True),
    "twins with heavy motors": Answers(engines=2, wind=True, thruster=True, inverter=True),
    "all negatives": Answers(negatives=True),
    "negatives of an inverter-charger": Answers(negatives=True, shore_unit="inverter_charger"),
}
Drawn = tuple[Diagram, SheetDrawing]


@pytest.fixture(params=BOATS, scope="module")
def drawn(request: pytest.FixtureRequest) -> Drawn:
    diagram = boat_of(BOATS[request.param])
    return diagram, sheet_drawing(diagram)


def test_nothing_lies_on_anything_or_outside_the_frame(drawn: Drawn):
    assert overlaps(*drawn) == []


def test_places_lie_inside_the_frame(drawn: Drawn):
    area = box(*drawing_area(drawn[0].sheet).as_tuple())
    assert [place.id for place in drawn[0].places.values() if place.outline
            and not area.covers(Polygon(place.outline))] == []


def test_every_part_has_a_place(drawn: Drawn):
    assert [part.id for part in drawn[0].components.values()
            if part.at is None and part.row_of is None] == []


def test_sources_stand_over_the_bus_and_banks_below_it(drawn: Drawn):
    diagram = drawn[0]
    bus = next(p for p in diagram.components.values() if p.name.startswith("Battery bus, "))
    for part in diagram.components.values():
        assert bus.at is not None
        if part.kind in ("solar_array", "wind_generator", "shore_inlet"):
            assert part.at is not None and part.at[1] < bus.at[1]
        if part.name == "House bank":
            assert part.at is not None and part.at[1] > bus.at[1]


def test_the_usual_boat_stands_on_a3_and_a_fuller_one_on_a2():
    assert boat_of(Answers()).sheet.size == "A3"
    assert boat_of(replace(Answers(), engines=2)).sheet.size == "A2"


def test_nothing_lies_on_anything_where_any_two_answers_come_together():
    assert [line for answers in covering_boats(2) for line in clashes(answers)] == []


@pytest.mark.parametrize("engines", [1, 2])
@pytest.mark.parametrize("shore_unit", ["charger", "inverter_charger"])
@pytest.mark.parametrize(("chemistry", "house_v"), [("agm", 12), ("lfp", 24)])
def test_the_fullest_boats_stand_on_a2(engines, shore_unit, chemistry, house_v):
    full = Answers(engines=engines, shore_unit=shore_unit, chemistry=chemistry, house_v=house_v,
                   capacity_ah=600, wind=True, thruster=True, bow_bank=True, inverter=True,
                   heater=True, negatives=True)
    assert boat_of(full).sheet.size == "A2"
    assert clashes(full) == []


def test_every_conductor_has_its_path_and_no_edit_looks_for_one():
    diagram = boat_of(Answers(negatives=True))
    drawn = sheet_drawing(diagram).paths
    for wire in diagram.conductors.values():
        assert (wire.path is not None) == (wire.id in drawn)
        assert wire.path is None or wire.path.points == drawn[wire.id]
