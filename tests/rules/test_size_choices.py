"""What each size would mean, against the tables' rows and the network solved with that size."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from model.edits import apply
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import profile
from rules.size_choices import SizeChoice, size_choices
from tests.boat_builder import Boat

TABLES = Path(__file__).parents[2] / "assets" / "tables"


def boat(**wire):
    """A bank, a 30 A fuse, and a load of 10 A behind W2."""
    fields = {"length_m": 5.0, "insulation_c": 105, "engine_space_m": 0.0, "bundle_count": 1,
              **wire}
    size = fields.pop("size", "4 mm2")
    return (Boat("iso").battery("G1", capacity_ah=200, chemistry="flooded")
            .fuse("F1", rated_a=30).load("E1", current_a=10)
            .wire("W1", "G1.+", "F1.a", "16 mm2", length_m=0.2)
            .wire("W2", "F1.b", "E1.+", size, **fields).diagram())


def choices(diagram, rule_set="iso"):
    found = size_choices(Survey(diagram), "W2", profile(rule_set))
    return {choice.size.text: choice for choice in found}


def test_what_a_size_carries_is_the_row_of_iso_13297_annex_a():
    with (TABLES / "ampacity_iso13297.csv").open() as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    column = next(name for name in rows[0] if "insulation_105" in name)
    area = next(name for name in rows[0] if "area" in name)
    found = choices(boat())
    for row in rows:
        assert found[f"{float(row[area]):g}"].carries_a == float(row[column])


def test_the_drop_of_each_size_is_what_the_network_gives_with_that_size():
    diagram = boat()
    for text, choice in choices(diagram).items():
        survey = Survey(apply(diagram, with_fields(diagram, "", "W2", size=choice.size)))
        (drop,) = (d for d in survey.drops if d.item == "E1")
        assert choice.drop_percent == pytest.approx(drop.percent, abs=0.02), text


def test_a_conductor_without_a_size_is_told_of_all_the_same():
    sized, unsized = choices(boat()), choices(boat(size=None))
    for text, choice in unsized.items():
        assert choice.drop_percent == pytest.approx(sized[text].drop_percent, abs=0.02)
        assert choice.carries_a == sized[text].carries_a


def test_without_a_length_there_is_no_drop_to_tell():
    assert all(choice.drop_percent is None for choice in choices(boat(length_m=None)).values())


def test_a_size_suits_from_where_it_suits_the_device_before_it():
    found = choices(boat(length_m=0.5))
    assert {c.guard_a for c in found.values()} == {30.0}
    suits = [text for text, choice in found.items() if choice.suits]
    assert suits == [text for text, c in found.items() if c.device_a and c.device_a >= 30]


def test_with_a_long_run_the_drop_decides():
    found = choices(boat(length_m=14.0))
    assert not found["2.5"].suits
    assert found["2.5"].device_a >= 30
    assert found["2.5"].drop_percent > found["2.5"].limit_percent


def test_us_boats_without_a_size_are_offered_american_sizes():
    found = size_choices(Survey(boat(size=None)), "W2", profile("us"))
    assert {choice.size.standard for choice in found} == {"awg"}


def test_what_is_not_known_suits_nothing():
    size = next(iter(choices(boat()).values())).size
    assert not SizeChoice(size, None, None, needs_a=5.0).suits
    assert not SizeChoice(size, 20.0, 20.0).suits
    assert SizeChoice(size, 20.0, 20.0, needs_a=20.0).suits
    assert not SizeChoice(size, 20.0, 20.0, needs_a=20.1).suits


def test_a_nearer_device_of_unknown_rating_is_named():
    diagram = (Boat("iso").battery("G1", capacity_ah=200, chemistry="flooded")
               .fuse("F1", rated_a=100).fuse("F2").load("E1", current_a=10)
               .wire("W1", "G1.+", "F1.a", "16 mm2", length_m=0.2)
               .wire("W3", "F1.b", "F2.a", "16 mm2", length_m=0.2)
               .wire("W2", "F2.b", "E1.+", "4 mm2", length_m=5.0).diagram())
    first = choices(diagram)["4"]
    assert (first.guard_a, first.unrated) == (100, ("F2",))
    assert choices(boat())["4"].unrated == ()
