"""The command line: exit codes, JSON forms, and one sentence for whatever is wrong."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest

from app.cli import main
from model.storage import load
from model.storage.schema import file_schema

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))
SLOOP = str(files("assets").joinpath("demo", "weekend_sloop.loom"))


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = main(arguments)
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.mark.parametrize("demo", [DEMO, SLOOP])
def test_both_demos_fit_the_schema(demo):
    jsonschema.Draft202012Validator(file_schema()).validate(json.loads(Path(demo).read_text("utf-8")))


def test_check_prints_json_of_the_stated_form(capsys):
    code, out, _ = run(capsys, "check", SLOOP, "--format", "json")
    report = json.loads(out)
    assert code == 1
    assert set(report) >= {"file", "profile", "counts", "findings", "cannot_tell", "accepted"}
    assert report["profile"] == "iso"
    assert sum(report["counts"][s] for s in ("danger", "fault", "caution", "note")) == len(
        report["findings"])
    for finding in report["findings"]:
        assert set(finding) >= {"rule", "severity", "title", "message", "where", "figures",
                                "sources"}
        assert finding["sources"] and finding["where"]


def test_check_by_the_other_rule_set(capsys):
    _, out, _ = run(capsys, "check", SLOOP, "--format", "json", "--profile", "us")
    assert json.loads(out)["profile"] == "us"


def test_fail_on_decides_the_exit_code(capsys, tmp_path):
    clean = tmp_path / "empty.loom"
    assert run(capsys, "new", str(clean))[0] == 0
    assert run(capsys, "check", str(clean))[0] == 0
    assert run(capsys, "check", SLOOP, "--fail-on", "danger")[0] == 1
    assert run(capsys, "check", DEMO, "--fail-on", "danger")[0] == 1


def test_a_clean_report_never_says_more_than_what_was_checked(capsys, tmp_path):
    run(capsys, "new", str(tmp_path / "empty.loom"))
    _, out, _ = run(capsys, "check", str(tmp_path / "empty.loom"))
    assert "Nothing to report from what is drawn" in out
    assert "safe" not in out.lower() and "compliant" not in out.lower()


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"{", "JSON"), (b"\x89PNG\xff", "not text"), (b'{"format_version": 9}', "newer")],
)
def test_an_unusable_file_is_told_in_one_sentence(capsys, tmp_path, content, words):
    path = tmp_path / "bad.loom"
    path.write_bytes(content)
    for command in ("check", "print", "export", "live"):
        code, _, err = run(capsys, command, str(path))
        assert code == 2 and words in err and str(path) in err and "Traceback" not in err


def test_new_never_overwrites(capsys, tmp_path):
    path = tmp_path / "boat.loom"
    path.write_text("mine")
    code, _, err = run(capsys, "new", str(path))
    assert code == 2 and "exists already" in err and path.read_text() == "mine"


def test_live_tells_what_is_live_from_what(capsys):
    everything = ["--source", "G3=off", "--source", "G4=off"]
    code, out, _ = run(capsys, "live", SLOOP, "--set", "Q1=0", *everything)
    answer = json.loads(out)
    assert code == 0
    assert answer["components"]["P1"]["live_from"] == []
    assert answer["components"]["M3"]["live_from"] == []  # the float switch stands open
    assert answer["components"]["S1"]["live_from"] == ["G1"]
    _, out, _ = run(capsys, "live", SLOOP, "--set", "Q1=1", *everything)
    assert json.loads(out)["terminals"]["P1.in+"]["live_from"] == ["G1"]


def test_terminals_are_named_by_their_port_too(capsys):
    """A file names the port a conductor ends on; the answer has that name beside the pole's."""
    _, out, _ = run(capsys, "live", DEMO)
    terminals = json.loads(out)["terminals"]
    assert terminals["F1.a"] == terminals["F1.a+"] and terminals["F1.a"]["live_from"]
    assert terminals["P1.F31"] == terminals["P1.F31+"]
    assert terminals["X9.ac"] == terminals["X9.L"]
    assert run(capsys, "fault", DEMO, "--at", "F4.b")[0] == 0


def test_solar_on_the_load_side_keeps_loads_live_with_the_switch_off(capsys):
    _, out, _ = run(capsys, "live", DEMO, "--set", "Q1=off", "--mode", "anchor")
    answer = json.loads(out)
    assert "G6" in answer["components"]["P1"]["live_from"]
    assert "P1" in answer["unexpected"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [(["--set", "Q1=sideways"], "has no position"), (["--set", "Z9=on"], "not a switch"),
     (["--set", "Q1"], "ID=VALUE"), (["--source", "G9=off"], "G9"),
     (["--source", "G6=perhaps"], "on or off"), (["--mode", "dreaming"], "dreaming")],
)
def test_live_refuses_what_is_not_there(capsys, arguments, words):
    code, _, err = run(capsys, "live", DEMO, *arguments)
    assert code == 2 and words in err


def test_kinds_lists_terminals_fields_and_units(capsys):
    _, out, _ = run(capsys, "kinds", "--format", "json")
    kinds = {kind["kind"]: kind for kind in json.loads(out)["kinds"]}
    assert len(kinds) >= 45
    fuse = kinds["fuse"]
    assert [terminal["id"] for terminal in fuse["terminals"]] == ["a", "b"]
    assert next(f for f in fuse["fields"] if f["name"] == "rated_a")["unit"] == "A"


def test_explain_knows_rules_by_slug_and_number(capsys):
    code, out, _ = run(capsys, "explain", "1.1")
    assert code == 0 and "battery" in out.lower()
    assert run(capsys, "explain", "battery_feed_without_protection")[1] == out
    assert run(capsys, "explain")[0] == 0
    assert run(capsys, "explain", "no_such_rule")[0] == 2


def test_export_writes_whole_svg(capsys, tmp_path):
    path = tmp_path / "cutter.svg"
    assert run(capsys, "export", DEMO, "--to", "svg", "-o", str(path))[0] == 0
    root = ElementTree.parse(path).getroot()
    words = " ".join(node.text or "" for node in root.iter() if node.tag.endswith("text"))
    assert "TERNHOLM" in words and "House bank" in words


def test_a_boat_written_as_text_is_laid_out(capsys, tmp_path):
    diagram = load(SLOOP)
    bare = {"format_version": 1, "components": [
        {"id": c.id, "kind": c.kind} for c in diagram.components.values() if c.row_of is None]}
    path = tmp_path / "bare.loom"
    path.write_text(json.dumps(bare))
    assert run(capsys, "export", str(path), "-o", str(tmp_path / "bare.svg"))[0] == 0
