"""Least sets, their steps and notes, on small boats worked out by hand and on the steel cutter.

What to do first, and in which order, is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from importlib.resources import files
from pathlib import Path

import pytest

from model.analysis.isolation_steps import isolation_notes, isolation_steps
from model.diagram import Diagram
from model.errors import MissingReference
from model.storage import load
from model.survey import Survey
from tests.boat_builder import Boat

# What closes by itself on the cutter, taken as closed.
BY_ITSELF = {"S1": "on", "S2": "on", "K2": "on"}


@cache
def cutter() -> Survey:
    return Survey(load(Path(str(files("assets").joinpath("demo", "steel_cutter.loom")))))


def sets_of(boat: Boat, target: str) -> set[tuple[str, ...]]:
    return set(Survey(boat.diagram()).isolation(target).sets)


def steps_of(survey: Survey, target: str) -> tuple[str, ...]:
    return isolation_steps(survey.devices, survey.isolation(target))


def notes_of(boat: Boat, target: str) -> str:
    survey = Survey(boat.diagram())
    return " ".join(isolation_notes(survey.devices, survey.isolation(target)))


def is_live(survey: Survey, target: str, used: Iterable[str]) -> bool:
    devices = [survey.devices.by_id[item] for item in used]
    positions = {d.id: d.position for d in devices if d.position is not None}
    stopped = {d.id: False for d in devices if d.position is None}
    state = survey.live({**BY_ITSELF, **positions}, stopped)
    own = {target} if survey.diagram.components.get(target) and survey.diagram.components[
        target].kind == "battery_bank" else set()
    live = state.components.get(target, frozenset()) | state.conductors.get(target, frozenset())
    return bool(live - own)


def switched_load() -> Boat:
    return (Boat().battery("G1").switch("Q1").fuse("F1", rated_a=10).load("E1")
            .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "F1.a").wire("W3", "F1.b", "E1.+"))


def test_a_switch_comes_before_a_fuse():
    assert sets_of(switched_load(), "E1") == {("Q1",)}


def test_past_the_last_device_the_fuse_is_pulled():
    boat = switched_load().wire("W4", "G1.+", "F1.a")
    assert sets_of(boat, "E1") == {("F1",)}


def test_a_selector_goes_to_the_position_that_opens_both_banks():
    boat = (Boat().battery("G1").battery("G2").switch("Q1", "selector_switch").load("E1")
            .wire("W1", "G1.+", "Q1.1").wire("W2", "G2.+", "Q1.2").wire("W3", "Q1.c", "E1.+"))
    survey = Survey(boat.diagram())
    assert survey.isolation("E1").sets == (("Q1",),)
    assert steps_of(survey, "E1")[0] == "Turn Q1 to 0."


def test_one_handle_that_opens_both_poles_is_one_device_of_an_insulated_system():
    boat = (Boat(earthing="insulated").battery("G1").switch("Q1", poles="both").load("E1")
            .wire("W1", "G1.+", "Q1.a").wire("N1", "G1.-", "Q1.a", cores=("-",))
            .wire("W2", "Q1.b", "E1.+", cores=("+", "-")))
    assert sets_of(boat, "E1") == {("Q1",)}


def test_in_an_insulated_system_opening_the_positive_alone_makes_nothing_dead():
    boat = (Boat(earthing="insulated").battery("G1").switch("Q1").switch("Q2", poles="-")
            .load("E1").wire("W1", "G1.+", "Q1.a").wire("N1", "G1.-", "Q1.a", cores=("-",))
            .wire("W2", "Q1.b", "Q2.a", cores=("+", "-"))
            .wire("W3", "Q2.b", "E1.+", cores=("+", "-")))
    assert sets_of(boat, "E1") == {("Q1", "Q2")}


def test_with_an_earthed_negative_the_switch_in_the_negative_is_no_help():
    boat = (Boat().battery("G1").switch("Q2", poles="-").load("E1")
            .wire("W1", "G1.+", "E1.+").wire("W2", "E1.-", "Q2.a", cores=("-",))
            .wire("W3", "Q2.b", "G1.-", cores=("-",)))
    found = Survey(boat.diagram()).isolation("E1")
    assert found.unavoidable == ("G1",)


def test_stopping_one_engine_kills_all_its_alternators():
    boat = (Boat().part("M1", "engine_block").part("G3", "alternator", driven_by="M1")
            .part("G4", "alternator", driven_by="M1").load("E1")
            .wire("W1", "G3.+", "E1.+").wire("W2", "G4.+", "E1.+"))
    assert sets_of(boat, "E1") == {("M1",)}


def test_a_panel_way_is_dead_past_its_own_breaker_or_the_main():
    boat = (Boat().battery("G1").panel("P1", {}, {}, main=({"id": "main", "device": "breaker"},))
            .wire("W1", "G1.+", "P1.in"))
    assert sets_of(boat, "P1.w2") == {("P1.main",), ("P1.w2",)}


def test_the_least_disturbing_of_equal_sets_comes_first():
    boat = (Boat().battery("G1").panel("P1", {}, {}, main=({"id": "main", "device": "breaker"},))
            .load("E1").load("E2").wire("W1", "G1.+", "P1.in").wire("W2", "P1.w1", "E1.+")
            .wire("W3", "P1.w2", "E2.+"))
    assert Survey(boat.diagram()).isolation("E2").sets == (("P1.w2",), ("P1.main",))


@pytest.mark.parametrize(("kind", "fields", "counts"), [
    ("contactor", {}, False), ("contactor", {"remote": "with_override"}, True),
    ("battery_switch", {"remote": "without"}, False), ("relay", {}, False),
    ("voltage_sensing_relay", {}, False), ("push_button", {}, False),
    ("breaker", {"reset": "automatic"}, False), ("breaker", {}, True),
])
def test_only_what_a_hand_opens_and_leaves_open_counts(kind, fields, counts):
    if kind not in ("breaker", "voltage_sensing_relay", "push_button"):
        fields = {**fields, "normal": "closed"}
    boat = (Boat().battery("G1").part("K1", kind, **fields).load("E1")
            .wire("W1", "G1.+", "K1.a").wire("W2", "K1.b", "E1.+"))
    found = Survey(boat.diagram()).isolation("E1")
    assert found.sets == ((("K1",),) if counts else ((),))
    assert found.unavoidable == (() if counts else ("G1",))


def test_a_float_switch_that_may_close_does_not_make_a_pump_dead():
    boat = (Boat().battery("G1").fuse("F1").part("S1", "float_switch").load("M1", "bilge_pump")
            .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "S1.a").wire("W3", "S1.b", "M1.+"))
    assert sets_of(boat, "M1") == {("F1",)}
    assert "close by themselves" in notes_of(boat, "M1")


def test_without_a_device_the_answer_is_to_lift_a_terminal_of_that_battery():
    boat = Boat().battery("G1", name="House").load("E1").wire("W1", "G1.+", "E1.+")
    assert notes_of(boat, "E1") == (
        "None: lift a battery terminal. G1 (House) reaches E1 with no device between.")
    assert "Take the lead off a terminal of G1 (House)" in steps_of(
        Survey(boat.diagram()), "E1")[0]


def test_a_wind_generator_without_a_brake_is_named():
    boat = (Boat().part("G7", "wind_generator", stop_by="none").load("E1")
            .wire("W1", "G7.+", "E1.+"))
    assert "has no brake" in notes_of(boat, "E1")


def test_the_posts_of_a_battery_stay_live():
    boat = switched_load()
    assert "posts of G1 stay live" in notes_of(boat, "G1")


def test_what_no_source_reaches_needs_nothing():
    boat = switched_load().load("E2")
    assert sets_of(boat, "E2") == {()}
    assert "no source reaches E2" in notes_of(boat, "E2")


def test_an_open_switch_that_would_make_it_live_again_is_to_be_left():
    boat = (switched_load().battery("G2").switch("Q5", "emergency_link")
            .wire("W5", "G2.+", "Q5.a").wire("W6", "Q5.b", "F1.a"))
    assert any(step.startswith("Leave Q5") for step in steps_of(Survey(boat.diagram()), "E1"))


def test_a_running_alternator_is_stopped_before_its_battery_is_switched_off():
    boat = (Boat().battery("G1").switch("Q1").part("X1", "busbar").fuse("F1").part(
            "M1", "engine_block").part("G3", "alternator", driven_by="M1").load("E1").switch("Q3")
            .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "X1.s1").wire("W3", "X1.s2", "E1.+")
            .wire("W4", "G3.+", "Q3.a").wire("W5", "Q3.b", "X1.s3"))
    found = Survey(boat.diagram()).isolation("E1")
    assert found.sets == (("M1", "Q1"), ("Q1", "Q3"))
    survey = Survey(boat.diagram())
    assert isolation_steps(survey.devices, found, 1)[0] == (
        "Before anything is opened, stop M1: G3 would run on without its battery.")


def test_no_more_than_twenty_sets_are_listed():
    boat = Boat().load("E1")
    for chain in range(3):
        boat.battery(f"G{chain}").switch(f"Q{chain}0").switch(f"Q{chain}1").switch(f"Q{chain}2")
        ends = [f"G{chain}.+", *(f"Q{chain}{n}.{side}" for n in range(3) for side in "ab"), "E1.+"]
        for number in range(0, len(ends), 2):
            boat.wire(f"W{chain}{number}", ends[number], ends[number + 1])
    found = Survey(boat.diagram()).isolation("E1")
    assert len(found.sets) == len(set(found.sets)) == 20 and found.has_more
    assert "more least sets than these 20" in notes_of(boat, "E1")


def test_an_unknown_target_is_named():
    with pytest.raises(MissingReference, match="P1.w9"):
        Survey(switched_load().diagram()).isolation("P1.w9")


def test_the_cutters_panel_has_exactly_these_least_sets():
    """Worked out on the drawing: house bank, engine, wind, sun and shore each by one device."""
    expected = {frozenset({"M1", "Q1", wind, sun, shore})
                for wind in ("G7", "Q4") for sun in ("F4", "Q3") for shore in ("X9", "Q10")}
    assert {frozenset(chosen) for chosen in cutter().isolation("P1").sets} == expected


def every_target(diagram: Diagram) -> list[str]:
    return [*diagram.components, *diagram.conductors]


def test_every_set_of_every_part_of_the_cutter_is_enough_and_none_of_it_can_be_left_out():
    survey = cutter()
    for target in every_target(survey.diagram):
        found = survey.isolation(target)
        if found.unavoidable:
            continue
        for chosen in found.sets:
            assert not is_live(survey, target, chosen), (target, chosen)
            for left_out in chosen:
                assert is_live(survey, target, [d for d in chosen if d != left_out]), (
                    target, chosen, left_out)


def test_the_steps_go_from_sources_to_switches_and_end_with_the_proof_and_the_keys():
    steps = steps_of(cutter(), "P1")
    starts = ["Stop M1", "Brake G7", "Unplug the shore lead at X9", "Turn F4", "Turn Q1",
              "Test for dead", "Batteries stay live at their posts", "Arrays stay live in daylight",
              "Capacitors in T1", "Lock or label"]
    assert len(steps) == len(starts)
    assert all(step.startswith(start) for step, start in zip(steps, starts, strict=True))


def test_fuses_come_after_switches_and_covers_last():
    boat = (switched_load().part("G6", "solar_array").battery("G2").fuse("F2")
            .wire("W5", "G6.+", "F1.a").wire("W6", "G2.+", "F2.a").wire("W7", "F2.b", "E1.-"))
    survey = Survey(boat.wire("W8", "G6.+", "E1.+").diagram())
    words = [step.split()[0] for step in steps_of(survey, "E1")[:4]]
    assert words == ["Turn", "Pull", "Cover", "Test"]
