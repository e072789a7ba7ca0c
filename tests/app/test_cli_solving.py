"""`solve`, `fault` and `sizes` on both demo boats: their form, their options, what they refuse."""

from __future__ import annotations

import json
from importlib.resources import files

import pytest

from app.cli import main
from model.diagram import Diagram
from model.storage import loads

CUTTER, SLOOP = (str(files("assets").joinpath("demo", f"{name}.loom"))
                 for name in ("steel_cutter", "weekend_sloop"))
LOAD = "E1"  # a cabin light of the sloop
DEMOS = pytest.mark.parametrize("demo", [CUTTER, SLOOP])


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(arguments)
    said = capsys.readouterr()
    return code, said.out, said.err


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict:
    code, out, err = run(capsys, *arguments)
    assert code == 0 and err == ""
    return json.loads(out)


def drawn(demo: str) -> Diagram:
    with open(demo, encoding="utf-8") as file:
        return loads(file.read())


@DEMOS
def test_solve_prints_json_of_the_stated_form_in_every_mode(capsys, demo):
    diagram = drawn(demo)
    for mode in diagram.modes:
        found = answer(capsys, "solve", demo, "--mode", mode)
        assert {"mode", "terminals", "conductors", "components", "problems"} <= set(found)
        assert found["mode"] == mode
        assert all(set(entry) == {"v", "live_from"} for entry in found["terminals"].values())
        assert all(set(entry) == {"a", "drop_v"} for entry in found["conductors"].values())
        assert all({"a", "w", "state"} <= set(entry) for entry in found["components"].values())
        assert all(set(entry) == {"kind", "ids", "message"} for entry in found["problems"])
        assert set(found["conductors"]) <= set(diagram.conductors)
        assert set(found["components"]) <= set(diagram.components)


@DEMOS
def test_solve_without_a_mode_says_so_and_names_live_sources(capsys, demo):
    found = answer(capsys, "solve", demo)
    assert found["mode"] is None
    assert "G1" in found["terminals"]["G1.+"]["live_from"]


@DEMOS
def test_solve_as_text_lists_parts_conductors_and_problems(capsys, demo):
    code, out, _ = run(capsys, "solve", demo, "--format", "text")
    assert code == 0
    assert out.startswith("Parts\n") and "\nConductors\n" in out and "\nProblems" in out


def test_solve_with_a_switch_off_leaves_its_conductor_without_current(capsys):
    on = answer(capsys, "solve", SLOOP, "--set", "Q1=1")
    off = answer(capsys, "solve", SLOOP, "--set", "Q1=0")
    assert on["components"][LOAD]["state"] == "runs"
    assert sum(abs(w["a"]) for w in off["conductors"].values()) < sum(
        abs(w["a"]) for w in on["conductors"].values())


@pytest.mark.parametrize(("demo", "load"), [(CUTTER, "E31"), (SLOOP, LOAD)])
def test_solve_without_a_part_leaves_it_out(capsys, demo, load):
    assert load in answer(capsys, "solve", demo)["components"]
    assert load not in answer(capsys, "solve", demo, "--absent", load)["components"]


def test_solve_takes_the_current_of_a_load_with_its_unit(capsys):
    for text in ("3.5", "3500 mA", "3,5 A"):
        found = answer(capsys, "solve", SLOOP, "--set", "Q1=1", "--load", f"{LOAD}={text}")
        assert found["components"][LOAD]["a"] == pytest.approx(3.5, rel=1e-3)


@DEMOS
def test_fault_prints_json_of_the_stated_form(capsys, demo):
    found = answer(capsys, "fault", demo, "--at", "G1.+")
    assert {"at", "i_max_a", "i_min_a", "through"} <= set(found)
    assert found["at"] == "G1.+" and found["i_max_a"] > found["i_min_a"] > 100
    assert set(found["through"]) <= set(drawn(demo).conductors)


@DEMOS
def test_fault_to_a_named_return_is_the_same_as_to_the_batterys_own(capsys, demo):
    own = answer(capsys, "fault", demo, "--at", "G1.+")
    named = answer(capsys, "fault", demo, "--at", "G1.+", "--return", "G1.-")
    assert named["i_max_a"] == pytest.approx(own["i_max_a"], rel=1e-6)


def test_fault_far_away_is_smaller_and_names_the_way(capsys):
    far = answer(capsys, "fault", CUTTER, "--at", "P1.in")
    near = answer(capsys, "fault", CUTTER, "--at", "G1.+")
    assert 0 < far["i_max_a"] < near["i_max_a"] and far["through"]


@DEMOS
def test_sizes_prints_json_with_a_row_for_each_conductor_that_carries_direct_current(capsys, demo):
    found = answer(capsys, "sizes", demo, "--format", "json")
    assert {"profile", "cases", "conductors", "loads", "problems"} <= set(found)
    direct = {w.id for w in drawn(demo).conductors.values() if set(w.cores) <= {"+", "-"}}
    assert set(found["conductors"]) == direct
    for row in found["conductors"].values():
        assert row["design_a"] >= 0 and row["drop_v"] >= 0 and row["case"] in found["cases"]
        assert {"ampacity_a", "drop_formula_v", "device_from_a", "device_to_a"} <= set(row)


@DEMOS
def test_sizes_as_text_and_by_the_other_rule_set(capsys, demo):
    code, out, _ = run(capsys, "sizes", demo)
    assert code == 0 and "design" in out.splitlines()[0] and "W1 " in out
    by_rules = [answer(capsys, "sizes", demo, "--format", "json", "--profile", profile)
                for profile in ("us", "iso")]
    assert [found["profile"] for found in by_rules] == ["us", "iso"]


@pytest.mark.parametrize(("arguments", "named"), [
    (("solve", "--mode", "nowhere"), "nowhere"),
    (("solve", "--absent", "ZZ9"), "ZZ9"),
    (("solve", "--load", "ZZ9=3"), "ZZ9"),
    (("solve", "--load", "G1=3"), "G1 is not a load"),
    (("solve", "--load", "W1=3"), "W1 is not a load"),
    (("solve", "--set", "ZZ9=on"), "ZZ9"),
    (("solve", "--set", "Q1=sideways"), "sideways"),
    (("solve", "--set", "Q1"), "ID=VALUE expected"),
    (("fault", "--at", "ZZ9.+"), "ZZ9.+"),
    (("fault", "--at", "G1.+", "--return", "ZZ9.-"), "ZZ9.-"),
])
@DEMOS
def test_what_is_not_there_is_told_in_one_sentence(capsys, demo, arguments, named):
    command, *rest = arguments
    code, out, err = run(capsys, command, demo, *rest)
    assert code == 2 and out == ""
    assert named in err and err.count("\n") == 1 and "Traceback" not in err


@pytest.mark.parametrize("text", ["abc", "3 V", "nan", "inf", "1e999", "1,200", "-5"])
def test_a_bad_number_is_told_in_one_sentence(capsys, text):
    code, _, err = run(capsys, "solve", SLOOP, "--load", f"{LOAD}={text}")
    assert code == 2 and err.startswith("loomwright: ") and err.count("\n") == 1


@pytest.mark.parametrize("command", [("solve",), ("fault", "--at", "G1.+"), ("sizes",)])
def test_a_file_that_is_not_there_is_told_in_one_sentence(capsys, command):
    code, _, err = run(capsys, command[0], "nowhere.loom", *command[1:])
    assert code == 2 and "nowhere.loom" in err and err.count("\n") == 1
