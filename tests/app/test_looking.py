"""What is to be looked at aboard: the command, the form that takes the answers, the sheet."""

from __future__ import annotations

import json
from dataclasses import replace
from importlib.resources import files

from PySide6.QtWidgets import QComboBox, QLabel

from app.cli import main
from app.pack.looking import looking_table
from app.panels.notice_rows import notice_rows
from model.storage import load
from rules.engine import report_on
from tests.app.hand import Hand

DEMO = str(files("assets").joinpath("demo", "weekend_sloop.loom"))


def words_of(hand: Hand) -> list[str]:
    return [label.text() for label in hand.window.particulars.findChildren(QLabel)]


def test_the_command_lists_the_questions_place_by_place(capsys):
    assert main(["look", DEMO]) == 0
    text = capsys.readouterr().out
    assert "questions are left that only eyes can answer." in text
    assert "  [ ] " in text and "(5.10)" in text
    assert main(["look", DEMO, "--format", "json"]) == 0
    asked = json.loads(capsys.readouterr().out)["questions"]
    assert {"place", "question", "field", "rule", "number"} == set(asked[0])
    places = [one["place"] for one in asked]
    assert places == sorted(places, key=places.index), "one walk: no place comes twice"


def test_check_says_how_much_is_left_to_look_at(capsys):
    main(["check", DEMO])
    assert "LOOK ABOARD" in capsys.readouterr().out


def test_an_answer_in_the_form_settles_the_question_or_makes_a_notice(four_parts: Hand):
    hand = four_parts
    hand.click(*hand.middle("G1"))
    hand.report()
    box = hand.field("look.hold_down").editor
    assert isinstance(box, QComboBox)
    assert any("strapped or clamped" in words for words in words_of(hand))
    hand.qtbot.keyClicks(box, "n")
    assert hand.window.workspace.diagram.components["G1"].parameters["hold_down"] is False
    report = hand.report()
    assert [f.rule for f in report.findings if f.severity == "danger" and f.where == ("G1",)] == [
        "battery_not_secured"]
    assert not [q for q in report.questions if q.field == "hold_down"]


def test_the_list_of_notices_says_where_to_answer(four_parts: Hand):
    report = four_parts.report()
    assert report.questions
    rows = notice_rows(report, four_parts.window.workspace.diagram)
    assert [row.where for row in rows if row.topic == "look_aboard"] == ["Look aboard"]


def test_the_sheet_names_each_place_once_and_goes_when_all_is_answered():
    report = report_on(load(DEMO))
    table = looking_table(report)
    assert table is not None
    places = [row.cells[0] for row in table.rows if row.cells[0]]
    assert len(places) == len(set(places))
    assert len(table.rows) == len(report.questions)
    assert looking_table(replace(report, questions=())) is None
