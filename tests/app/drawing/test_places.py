import pytest

from app.drawing.marks import Path, Text, bounds
from app.drawing.places import place_marks, place_name, place_sort
from model.diagram import Place

OUTLINE = ((20.0, 20.0), (100.0, 20.0), (100.0, 80.0), (20.0, 80.0))
SORTS = (("engine_space", "engine"), ("accommodation", "dry"), ("deck", "outdoors"),
         ("bilge", "bilge"), (None, "dry"))


def place(environment, **more):
    return Place(id="z", name="Lazarette", environment=environment, outline=OUTLINE, **more)


@pytest.mark.parametrize(("environment", "sort"), SORTS)
def test_a_place_is_tinted_by_what_it_is(environment, sort):
    outline = place_marks(place(environment))[0]
    assert place_sort(place(environment)) == sort
    assert isinstance(outline, Path) and outline.fill == f"{sort}_tint"


def test_the_edge_tells_the_sort_of_place_without_colour():
    looks = set()
    for environment in ("engine_space", "accommodation", "deck", "bilge"):
        marks = place_marks(place(environment))
        looks.add((marks[0].width_mm, marks[0].dash, len(marks) > 2))
    assert len(looks) == 4


@pytest.mark.parametrize(("environment", "face"), [
    ("deck", "oblique"), ("bilge", "oblique"), ("engine_space", "book"), ("galley", "book")])
def test_names_afloat_are_italic_and_ashore_upright(environment, face):
    name = place_name(place(environment))
    assert (name.text, name.face) == ("LAZARETTE", face)


def test_a_name_stands_inside_its_place_unless_moved_by_hand():
    name = place_name(place("bilge"))
    assert 20 < name.x < 100 and 20 < name.y < 80
    assert (place_name(place("bilge", name_at=(50, 70))).x) == 50


def test_ticks_stay_inside_the_place():
    box = bounds(place_marks(place("engine_space")))
    assert box is not None and box.as_tuple() == pytest.approx((20, 20, 100, 80))


def test_a_place_with_an_outline_has_its_name_among_its_marks():
    assert any(isinstance(mark, Text) for mark in place_marks(place("galley")))
