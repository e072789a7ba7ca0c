"""Bad input is answered by name: missing, contradictory, short, or beyond what can be had."""

from __future__ import annotations

import math

import pytest

from model.analysis.operating_point import OperatingPoint
from model.survey import Survey
from tests.boat_builder import Boat

DRAWN = {"returns": "drawn"}


def battery(boat: Boat, item: str = "G1", volts: float = 12.6, **fields: object) -> Boat:
    return boat.battery(item, internal_resistance_ohm=0.01, rest_v=volts, **fields)


def lamp(boat: Boat, **wire: object) -> Boat:
    return boat.load("E1", current_a=5, nominal_v=12).wire("W12", "G1.+", "E1.+", **wire)


def solve(boat: Boat, **state: object) -> OperatingPoint:
    survey = Survey(boat.diagram())
    found = survey.operating_point(survey.state(**state))
    assert found.settled
    figures = [*found.terminals.values(), *found.conductors.values(), *found.drops_v.values(),
               *(x for part in found.parts.values() for x in (part.current_a, part.power_w))]
    assert all(math.isfinite(figure) for figure in figures)
    for problem in found.problems:
        assert problem.kind and problem.ids and problem.sentence
    return found


def said(found: OperatingPoint) -> list[str]:
    return [problem.sentence for problem in found.problems]


@pytest.mark.parametrize(("wire", "sentence"), [
    ({"wire_size": "6 mm2"}, "cannot tell: length of W12 missing"),
    ({"wire_size": "6 mm2", "length_m": 0}, "cannot tell: length of W12 is zero"),
    ({"length_m": 3}, "cannot tell: size of W12 missing"),
])
def test_a_missing_or_zero_figure_of_a_conductor_is_named(wire, sentence):
    found = solve(lamp(battery(Boat()), **wire))
    assert said(found) == [sentence]
    assert found.problems[0].kind == "cannot_tell" and found.problems[0].ids == ("W12",)


@pytest.mark.parametrize(("fields", "sentence"), [
    ({"block_nominal_v": None}, "cannot tell: volts of G1 missing"),
    ({"block_nominal_v": 0}, "cannot tell: volts of G1 missing"),
    ({}, "G1: internal resistance unknown, taken as 0.01 ohm"),
    ({"cranking_a": 0, "short_circuit_a": 0, "capacity_ah": 0},
     "G1: internal resistance unknown, taken as 0.01 ohm"),
])
def test_a_battery_without_its_figures_says_what_is_missing(fields, sentence):
    given = {k: v for k, v in {"block_nominal_v": 12, **fields}.items() if v is not None}
    boat = Boat().part("G1", "battery_bank", **given)
    assert sentence in said(solve(lamp(boat, wire_size="6 mm2", length_m=1)))


@pytest.mark.parametrize("accepts", [{}, {"max_charge_a": 30}])
@pytest.mark.parametrize("returns", ["implied", "drawn"])
def test_a_24_volt_and_a_12_volt_bank_tied_by_copper_are_named(accepts, returns):
    boat = battery(battery(Boat(returns=returns), **accepts), "G2", 25.2, series_count=2)
    boat.wire("W3", "G1.+", "G2.+", "50 mm2", length_m=1)
    if returns == "drawn":
        boat.wire("W4", "G1.-", "G2.-", "50 mm2", cores=("-",), length_m=1)
    tied = [p for p in solve(boat).problems if p.kind == "tied"]
    assert [p.ids for p in tied] == [("G1", "G2")]
    assert tied[0].sentence.startswith("unequal banks are joined: G1 takes ")
    assert tied[0].sentence.endswith(" A from G2")


def test_banks_of_two_chemistries_tied_by_copper_are_unequal():
    boat = (
        Boat().battery("G1", chemistry="agm", capacity_ah=100)
        .battery("G2", chemistry="lfp", capacity_ah=200)
        .wire("W3", "G1.+", "G2.+", "50 mm2", length_m=1)
    )
    assert [p.kind for p in solve(boat).problems] == ["tied"]


def test_equal_banks_in_parallel_and_a_series_string_are_no_problem():
    boat = battery(battery(Boat()), "G2").wire("W3", "G1.+", "G2.+", "50 mm2", length_m=1)
    assert said(solve(boat)) == []
    string = battery(battery(Boat(nominal_v=24, **DRAWN)), "G2").wire(
        "W3", "G1.-", "G2.+", "50 mm2", cores=("-",), length_m=1)
    assert said(solve(string)) == []


def test_a_bank_charged_from_another_through_a_converter_is_not_tied():
    boat = (
        battery(battery(Boat()), "G2", 12.2, max_charge_a=10)
        .part("T1", "dc_dc_charger", rated_output_a=30, input_v=12, absorption_v=14.4)
        .wire("W1", "G1.+", "T1.in+", "10 mm2", length_m=1)
        .wire("W2", "T1.out+", "G2.+", "10 mm2", length_m=1)
    )
    assert said(solve(boat)) == []


@pytest.mark.parametrize("returns", ["implied", "drawn"])
@pytest.mark.parametrize(("wire_size", "length_m"), [("35 mm2", 1), ("1.5 mm2", 10)])
def test_a_short_drawn_across_a_bank_is_named_however_thin(returns, wire_size, length_m):
    boat = battery(Boat(returns=returns)).wire(
        "W3", "G1.+", "G1.-", wire_size, length_m=length_m)
    short, = solve(boat).problems
    assert short.kind == "short" and short.ids == ("G1", "W3")
    assert short.sentence.startswith("short circuit through W3: G1 drives ")


def test_the_whole_way_of_a_short_is_named_and_no_load_beside_it():
    boat = (
        battery(Boat(**DRAWN)).fuse("F1", 100)
        .busbar("X1", pole="+", stud_count=4).busbar("X2", pole="-", stud_count=4)
        .load("E1", resistance_ohm=0.1)
        .wire("W1", "G1.+", "F1.a", "35 mm2", length_m=1)
        .wire("W2", "F1.b", "X1.s1", "35 mm2", length_m=1)
        .wire("W3", "X1.s2", "X2.s2", "35 mm2", length_m=1)
        .wire("W4", "X2.s1", "G1.-", "35 mm2", cores=("-",), length_m=1)
        .wire("W5", "X1.s3", "E1.+", "6 mm2", length_m=1)
        .wire("W6", "X2.s3", "E1.-", "6 mm2", cores=("-",), length_m=1)
    )
    short = next(p for p in solve(boat).problems if p.kind == "short")
    assert short.ids[0] == "G1" and sorted(short.ids[1:]) == ["W1", "W2", "W3", "W4"]


def test_two_batteries_joined_plus_to_minus_short_each_other():
    boat = battery(battery(Boat(**DRAWN)), "G2")
    boat.wire("W3", "G1.+", "G2.-", "50 mm2", length_m=1)
    boat.wire("W4", "G1.-", "G2.+", "50 mm2", cores=("-",), length_m=1)
    assert [p.ids for p in solve(boat).problems if p.kind == "short"] == [
        ("G1", "W3", "W4"), ("G2", "W3", "W4")]


def test_a_starter_that_cranks_a_battery_low_is_no_short():
    boat = (
        battery(Boat()).part("M1", "engine_block")
        .part("M2", "starter", cranking_a=600, mounted_on="M1", return_by="case")
        .wire("W1", "G1.+", "M2.+", "70 mm2", length_m=1)
        .wire("W2", "M1.n1", "G1.-", "70 mm2", cores=("-",), length_m=2)
    )
    found = solve(boat, short_time=["M2"])
    assert found.terminals["G1.+"] - found.terminals["G1.-"] < 0.6 * 12.6
    assert "short" not in {p.kind for p in found.problems}


def test_a_load_beyond_what_the_battery_can_give_cannot_run_and_is_no_short():
    boat = battery(Boat()).load("M3", power_w=20000, nominal_v=12).wire(
        "W1", "G1.+", "M3.+", "6 mm2", length_m=1)
    found = solve(boat)
    assert [p.kind for p in found.problems] == ["cannot_run"]
    assert said(found)[0].startswith("this load cannot run: M3 has ")
    assert said(found)[0].endswith(" V and needs at least 6 V")


@pytest.mark.parametrize("draw", [{"current_a": 5}, {"power_w": 60}, {"resistance_ohm": 3}])
def test_a_load_without_a_source_has_no_supply(draw):
    boat = Boat().load("E1", nominal_v=12, **draw).busbar("X1", pole="+", stud_count=2).wire(
        "W1", "X1.s1", "E1.+", "6 mm2", length_m=1)
    found = solve(boat)
    assert said(found) == ["E1 has no supply"] and found.parts["E1"].state == "no supply"


def test_a_load_the_wrong_way_round_is_named():
    boat = battery(Boat(**DRAWN)).load("E1", resistance_ohm=3)
    boat.wire("W1", "G1.+", "E1.-", "6 mm2", cores=("-",), length_m=1)
    boat.wire("W2", "G1.-", "E1.+", "6 mm2", cores=("+",), length_m=1)
    assert said(solve(boat))[0].startswith("E1 is fed the wrong way round: -12.")


def test_a_bank_at_0_percent_is_empty_and_still_has_figures():
    boat = lamp(Boat().battery("G1", chemistry="agm", capacity_ah=100), wire_size="6 mm2",
                length_m=1).mode("M1", state_of_charge={"G1": 0.0})
    assert said(solve(boat, mode_id="M1")) == ["G1 is empty: 0 % charge"]


@pytest.mark.parametrize("way", [{}, {"rated_a": 0}])
def test_a_panel_rated_nothing_still_feeds_its_loads(way):
    boat = (
        battery(Boat()).panel("P1", way).load("E1", current_a=5, nominal_v=12)
        .wire("W1", "G1.+", "P1.in", "6 mm2", length_m=1)
        .wire("W2", "P1.w1", "E1.+", "6 mm2", length_m=1)
    )
    assert solve(boat).conductors["W2"] == pytest.approx(5)


@pytest.mark.parametrize(("fields", "sentence"), [
    ({}, "cannot tell: output voltage of T1 missing"),
    ({"output_v": 0, "input_v": 0, "efficiency": 0},
     "cannot tell: output voltage of T1 missing"),
    ({"output_v": 24}, "cannot tell: rated output of T1 missing"),
    ({"output_v": 24, "rated_output_a": 10, "efficiency": 0},
     "cannot tell: efficiency of T1 is zero"),
])
def test_a_converter_without_its_figures_says_what_is_missing(fields, sentence):
    boat = (
        battery(Boat()).part("T1", "dc_dc_converter", **fields)
        .load("E1", current_a=5, nominal_v=24)
        .wire("W1", "G1.+", "T1.in+", "6 mm2", length_m=1)
        .wire("W2", "T1.out+", "E1.+", "6 mm2", length_m=1)
    )
    assert sentence in said(solve(boat))


@pytest.mark.parametrize(("kind", "fields", "sentence"), [
    ("solar_array", {}, "cannot tell: power and voltage of G2 missing"),
    ("solar_array", {"panel_w": 0, "panel_vmp_v": 0},
     "cannot tell: power and voltage of G2 missing"),
    ("alternator", {"nominal_v": 0}, "cannot tell: rated output of G2 missing"),
    ("wind_generator", {}, "cannot tell: rated output of G2 missing"),
])
def test_a_source_rated_nothing_says_what_is_missing(kind, fields, sentence):
    boat = battery(Boat()).part("G2", kind, **fields).wire(
        "W1", "G2.+", "G1.+", "6 mm2", length_m=1)
    assert sentence in said(solve(boat, sources={"G2": True}))


def test_a_bare_minus_among_drawn_returns_is_a_missing_conductor():
    found = solve(lamp(battery(Boat(**DRAWN)), wire_size="6 mm2", length_m=1))
    assert said(found) == ["E1 has no return: its minus is bare", "E1 has no supply"]


def test_a_voltage_sensing_relay_without_its_negative_never_closes():
    boat = (
        battery(battery(Boat(**DRAWN), volts=14.0), "G2", 12.2, max_charge_a=15)
        .part("K1", "voltage_sensing_relay")
        .wire("W1", "G1.+", "K1.a", "6 mm2", length_m=1)
        .wire("W2", "K1.b", "G2.+", "6 mm2", length_m=1)
        .wire("W3", "G1.-", "G2.-", "6 mm2", cores=("-",), length_m=1)
    )
    found = solve(boat)
    assert "K1 has no return: its minus is bare" in said(found)
    assert found.conductors["W2"] == pytest.approx(0, abs=1e-3)
    boat.wire("W4", "K1.-", "G1.-", "1.5 mm2", cores=("-",), length_m=1)
    assert found.conductors["W2"] != pytest.approx(solve(boat).conductors["W2"], abs=1)


def test_several_systems_each_have_their_own_volts():
    boat = (
        battery(battery(Boat().system("S2", 24)), "G2", 25.2, series_count=2)
        .load("E1", current_a=5, nominal_v=12).load("E2", current_a=3, nominal_v=24)
        .wire("W1", "G1.+", "E1.+", "6 mm2", length_m=1)
        .wire("W2", "G2.+", "E2.+", "6 mm2", length_m=1)
    )
    found = solve(boat)
    assert said(found) == []
    assert found.parts["E1"].state == found.parts["E2"].state == "runs"


def test_of_two_systems_only_the_one_with_implied_returns_has_them_implied():
    boat = (
        battery(battery(Boat(**DRAWN).system("S2", 24)), "G2", 25.2, series_count=2)
        .load("E1", current_a=5, nominal_v=12).load("E2", current_a=3, nominal_v=24)
        .wire("W1", "G1.+", "E1.+", "6 mm2", length_m=1)
        .wire("W2", "G2.+", "E2.+", "6 mm2", length_m=1)
    )
    found = solve(boat)
    assert said(found) == ["E1 has no return: its minus is bare", "E1 has no supply"]
    assert found.parts["E2"].state == "runs"


def test_an_empty_diagram_has_an_empty_answer():
    found = solve(Boat())
    assert not found.terminals and not found.problems
