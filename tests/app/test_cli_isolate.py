"""`isolate`, and what `live --off` adds."""

from __future__ import annotations

import json
from importlib.resources import files

import pytest

from app.cli import main

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))
BY_SUN = ("--source", "M1=off", "--source", "G7=off", "--source", "X9=off")


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(arguments)
    said = capsys.readouterr()
    return code, said.out, said.err


def test_isolate_prints_json_of_the_stated_form(capsys):
    code, out, _ = run(capsys, "isolate", DEMO, "P1")
    answer = json.loads(out)
    assert code == 0 and set(answer) == {"target", "sets", "steps"}
    assert answer["target"] == "P1" and len(answer["sets"]) == 8
    assert answer["steps"][0] == "Stop M1 (Diesel engine 38 kW) and see that nobody starts it."


def test_a_set_handed_to_live_leaves_the_target_dead(capsys):
    answer = json.loads(run(capsys, "isolate", DEMO, "P1")[1])
    for chosen in answer["sets"]:
        sources = [item for item in chosen if item in ("M1", "G7", "X9")]
        used = [part for item in chosen for part in (
            ("--source", f"{item}=off") if item in sources else ("--off", item))]
        state = json.loads(run(capsys, "live", DEMO, *used)[1])
        assert state["components"]["P1"]["live_from"] == []


def test_isolate_of_a_panels_way(capsys):
    assert json.loads(run(capsys, "isolate", DEMO, "P1.F33")[1])["sets"] == [
        ["P1.F33"], ["P1.main"]]


def test_without_a_device_there_is_no_set_but_a_note(capsys):
    answer = json.loads(run(capsys, "isolate", DEMO, "F1")[1])
    assert answer["sets"] == []
    assert answer["note"].startswith("None: lift a battery terminal. G1 (House bank)")


def test_isolate_as_text(capsys):
    _, out, _ = run(capsys, "isolate", DEMO, "P1", "--format", "text")
    assert out.startswith("To make P1 (Main panel) dead")
    assert "  1. Stop M1" in out and "Any of these does the same:" in out


def test_a_target_that_is_not_there_is_told_in_one_sentence(capsys):
    code, _, err = run(capsys, "isolate", DEMO, "P77")
    assert code == 2 and "P77" in err and "Traceback" not in err


def test_live_tells_the_ways_of_what_is_unexpected(capsys):
    state = json.loads(run(capsys, "live", DEMO, "--off", "Q1", *BY_SUN)[1])
    assert set(state) == {"mode", "terminals", "components", "unexpected"}
    assert state["components"]["P1"]["ways"]["G6"][0] == "G6"
    assert "ways" not in state["components"]["A6"]


def test_live_as_text_names_the_way_and_groups_the_loads(capsys):
    _, out, _ = run(capsys, "live", DEMO, "--off", "Q1", *BY_SUN, "--format", "text")
    assert "    from G6: G6 - W40 - Q3 - W41 - T3 - W42 - F4 - W43 - X1 - W70 - P1\n" in out
    assert "Loads behind P1 (Main panel), from G6:" in out


def test_off_of_something_without_a_handle_is_refused(capsys):
    code, _, err = run(capsys, "live", DEMO, "--off", "X1")
    assert code == 2 and "X1" in err
