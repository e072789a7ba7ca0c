"""Fixes that lead a conductor elsewhere: where a lead ends, what is fitted on the way."""

from __future__ import annotations

from model.edits import apply
from model.survey import Survey
from rules.profiles import profile
from rules.rewiring import (
    LeadTo,
    far_side,
    lead_from,
    other_end,
    switch_in_feed,
    switched_point,
    taken_out,
    terminal_name,
    to_post,
)
from tests.boat_builder import Boat
from tests.rules.bases import BASES


def tidy() -> Survey:
    return Survey(BASES["tidy"]())


def test_a_lead_ends_at_the_first_bus_panel_or_battery() -> None:
    survey = tidy()
    assert lead_from(survey, survey.graph.number["E1.+"]) == LeadTo("W4", "X1.s2", True)
    assert lead_from(survey, survey.graph.number["E2.+"]) == LeadTo("W7", "P1.w1", False)
    assert lead_from(survey, survey.graph.number["G5.+"]) == LeadTo("W33", "G1.+", True)


def test_a_terminal_without_a_conductor_has_no_lead() -> None:
    survey = Survey(Boat().load("E1").diagram())
    assert lead_from(survey, survey.graph.number["E1.+"]) is None


def test_a_lead_taken_elsewhere_gets_a_fuse_unless_it_has_one() -> None:
    survey = tidy()
    bare = to_post(survey, profile("us"), "case", LeadTo("W7", "P1.w1", False), "G1.+")
    after = apply(survey.diagram, bare)
    (fuse,) = set(after.components) - set(survey.diagram.components)
    assert after.components[fuse].kind == "fuse"
    assert after.conductors["W7"].start.component == fuse
    guarded = to_post(survey, profile("us"), "case", LeadTo("W4", "X1.s2", True), "G1.+")
    moved = apply(survey.diagram, guarded)
    assert set(moved.components) == set(survey.diagram.components)
    assert moved.conductors["W4"].start.component == "G1"


def test_a_part_taken_out_leaves_one_conductor_of_both_lengths() -> None:
    survey = tidy()
    edit = taken_out(survey.diagram, "case", "Q1")
    assert edit is None, "Q1.b has two conductors"
    edit = taken_out(survey.diagram, "case", "F2")
    assert edit is not None
    after = apply(survey.diagram, edit)
    wire = after.conductors["W4"]
    assert "W5" not in after.conductors
    assert {end.component for end in wire.ends()} == {"X1", "E1"}
    assert wire.length_m == 3.1


def test_a_switch_goes_where_one_conductor_feeds_all_behind_the_fuse() -> None:
    loads = Survey(Boat().battery("G1").fuse("F1").load("E1").load("E2").wire(
        "W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+").wire("W3", "E1.+", "E2.+").diagram())
    edit = switch_in_feed(loads, "case", loads.banks[0], ["E1", "E2"])
    assert edit is not None
    after = apply(loads.diagram, edit)
    assert after.conductors["W2"].start.component not in ("F1", "G1")
    apart = Survey(Boat().battery("G1").load("E1").load("E2").wire("W1", "G1.+", "E1.+").wire(
        "W2", "G1.+", "E2.+").diagram())
    assert switch_in_feed(apart, "case", apart.banks[0], ["E1", "E2"]) is None


def test_the_far_side_of_a_banks_switch_is_away_from_the_bank() -> None:
    survey = tidy()
    bank = next(b for b in survey.banks if b.id == "G2")
    node = far_side(survey, bank)
    assert node is not None
    assert terminal_name(survey.graph, node) == "Q2.b"
    assert switched_point(survey, bank) == "Q2.b"
    assert other_end(survey.diagram.conductors["W30"], "G2.+") == "Q2.a"
