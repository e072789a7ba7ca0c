"""The fuse that suits a place: a lead bank and a lithium bank ask for different classes."""

from __future__ import annotations

from typing import Any

from model.survey import Survey
from rules.new_device import suitable_fuse
from rules.profiles import profile
from tests.boat_builder import Boat
from tests.rules.bases import BASES

WIDE = (0.0, 1000.0)


def fitted(survey: Survey, terminal: str, fault_a: float | None = None) -> dict[str, Any]:
    fuse = suitable_fuse(survey, survey.graph.number[terminal], *WIDE, profile("us"), fault_a)
    assert fuse is not None
    return fuse


def test_the_class_follows_the_fault_and_the_volts() -> None:
    lead, lithium = Survey(BASES["tidy"]()), Survey(BASES["tidy_48"]())
    assert fitted(lead, "G1.+", 900)["class"] == "blade"
    assert fitted(lead, "G1.+", 1900)["class"] == "bolted"
    assert fitted(lead, "G1.+")["class"] == "terminal"
    assert fitted(lithium, "G1.+")["class"] == "class_t"


def test_it_stands_the_highest_charging_volts() -> None:
    assert fitted(Survey(BASES["tidy_48"]()), "G1.+")["rated_dc_v"] >= 58


def test_it_breaks_the_fault_there_or_has_what_suffices_for_a_large_bank() -> None:
    boat = Boat().battery("G1", chemistry="lfp", capacity_ah=900)
    survey = Survey(boat.fuse("F1").wire("W1", "G1.+", "F1.a", "70 mm2", length_m=0.1).diagram())
    fuse = fitted(survey, "G1.+")
    assert fuse["class"] == "class_t"
    assert survey.faults.strong.fault(survey.graph.number["G1.+"]).current_a > fuse["interrupt_a"]


def test_there_is_none_where_no_class_has_the_rating() -> None:
    survey = Survey(BASES["tidy_48"]())
    node = survey.graph.number["G1.+"]
    assert suitable_fuse(survey, node, 1.0, 5.0, profile("us")) is None
