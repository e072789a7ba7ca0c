"""Notices worked in the real window: read, fixed, accepted, taken back, filtered, explained."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from app.drafting.parts import field_edit
from app.window.own_figure import OwnFigureDialog
from model.storage import save
from model.storage.save import dumps
from rules.profiles import profile
from tests.app.hand import Hand
from tests.rules.bases import tidy
from tests.rules.case_edits import edited

TOO_LARGE = ({"set": "W5.size", "to": "12 awg"}, {"set": "F2.rated_a", "to": 70})


@pytest.fixture
def hand(qtbot, tmp_path, window):
    path = tmp_path / "boat.loom"
    save(edited(tidy(), TOO_LARGE), path)
    assert window.files.open(path)
    return Hand(qtbot, window)


def chosen_page(hand: Hand, rule: str):
    notices = hand.window.foot.notices
    hand.report()
    row = next(n for n, row in enumerate(notices.rows)
               if row.finding is not None and row.finding.rule == rule)
    notices.table.setCurrentCell(row, 1)
    return notices.page


def button(page, words: str):
    return next(button for button in page.buttons if words in button.text())


RULE = "protection_too_large_for_conductor"


def test_a_fix_is_one_step_and_its_notice_goes(hand, qtbot):
    before = dumps(hand.window.workspace.diagram)
    page = chosen_page(hand, RULE)
    qtbot.mouseClick(button(page, "Fit 50 A"), Qt.MouseButton.LeftButton)
    assert hand.window.workspace.diagram.components["F2"].parameters["rated_a"] == 50
    assert RULE not in {finding.rule for finding in hand.report().findings}
    hand.window.commands.undo()
    assert dumps(hand.window.workspace.diagram) == before


def test_a_fix_is_shown_while_the_pointer_is_on_it(hand, qtbot):
    page = chosen_page(hand, RULE)
    fix = next(iter(page._fixes.values()))
    page.fix_pointed.emit(fix)
    assert hand.window.scene._preview.marks
    page.fix_pointed.emit(None)
    assert not hand.window.scene._preview.marks


def test_a_long_title_of_a_fix_is_read_in_full_on_its_button(hand):
    workspace = hand.window.workspace
    for part in ("Q1", "Q2", "Q3"):
        workspace.do(field_edit(workspace.diagram, part, "name", ""))
    page = chosen_page(hand, "switch_without_name")
    (fix, *_), shown = page._fixes.values(), button(page, "Name ")
    assert shown.text().split() == fix.title.split()
    lines = shown.text().split("\n")
    assert len(lines) > 1
    assert all(shown.fontMetrics().horizontalAdvance(line) < shown.width() for line in lines)


def test_an_accepted_notice_keeps_its_reason_and_comes_back(hand, qtbot):
    page = chosen_page(hand, RULE)
    finding = next(f for f in hand.report().findings if f.rule == RULE)
    hand.window.judging.accept(finding, "The maker asks for 70 A")
    report = hand.report()
    assert RULE not in {f.rule for f in report.findings}
    assert [one.reason for one in report.accepted] == ["The maker asks for 70 A"]
    page = chosen_page(hand, RULE)
    qtbot.mouseClick(button(page, "Take the acceptance back"), Qt.MouseButton.LeftButton)
    assert RULE in {f.rule for f in hand.report().findings}


def test_words_filter_the_list_and_groups_have_headings(hand):
    notices = hand.window.foot.notices
    hand.report()
    notices.words.setText("no such word")
    assert notices.rows == []
    notices.words.setText("W5")
    assert notices.rows
    notices.words.clear()
    notices.order.setCurrentIndex(2)
    headings = [row.where for row in notices.rows if not row.severity]
    assert headings and headings[0][0].isupper()


def rows_said(notices) -> list[tuple[str, ...]]:
    return [tuple(notices.table.item(number, column).text() for column in (1, 2, 3))
            for number in range(notices.table.rowCount())]


def test_rows_say_what_was_found_however_the_list_changed(hand):
    """A row is written only when it says something else: what stands there is what would."""
    notices = hand.window.foot.notices
    hand.report()
    for part, rated_a in (("F3", 400), ("F3", 400.5), ("F2", 50), ("F3", 30)):
        hand.window.desk.do(field_edit(hand.window.workspace.diagram, part, "rated_a", rated_a))
        hand.report()
        said = rows_said(notices)
        notices._show_rows(afresh=True)
        assert rows_said(notices) == said and len(said) == len(notices.rows)
    kept = notices.table.item(0, 2)
    hand.window.desk.do(field_edit(hand.window.workspace.diagram, "F3", "name", "Pump"))
    hand.report()
    assert notices.table.item(0, 2) is kept
    hand.window.commands.set_palette("night")
    assert notices.table.item(0, 2) is not kept


def test_a_report_that_counts_as_before_leaves_the_frame(hand, monkeypatch):
    hand.report()
    drawn = []
    frame = hand.window.scene._frame
    monkeypatch.setattr(frame, "show_marks", lambda marks, palette: drawn.append(palette))
    hand.window.desk.do(field_edit(hand.window.workspace.diagram, "F3", "name", "Pump"))
    hand.report()
    assert drawn == []
    hand.window.desk.do(field_edit(hand.window.workspace.diagram, "F3", "rated_a", 400))
    hand.report()
    assert drawn


def test_only_what_the_last_change_brought(hand):
    notices = hand.window.foot.notices
    hand.report()
    notices.only_new.setChecked(True)
    assert notices.rows == []
    hand.window.desk.do(field_edit(hand.window.workspace.diagram, "F3", "rated_a", 400))
    hand.report()
    assert notices.rows and all("F3" in row.finding.where for row in notices.rows)


def test_help_opens_at_the_check_and_finds_words(hand, qtbot):
    page = chosen_page(hand, RULE)
    qtbot.mouseClick(button(page, "What this check says"), Qt.MouseButton.LeftButton)
    window = hand.window.commands._help
    qtbot.addWidget(window)
    assert "Fuse or breaker larger" in window.text.toPlainText()
    window.words.setText("acceptance surveyor")
    assert window.list.count() >= 1
    assert "battery side or load side" in window.text.toPlainText()
    window.words.setText("no such word at all")
    assert window.list.count() == 0


def test_an_own_figure_needs_a_value_and_a_reason_and_is_named(hand, qtbot):
    hand.report()
    figures = profile("us")
    dialog = OwnFigureDialog([figures["next_size_max_ratio"]], hand.window)
    dialog.value.setText("many")
    dialog._take()
    assert dialog.own is None and dialog.wrong.text()
    dialog.value.setText("1.6")
    dialog._take()
    assert dialog.own is None and "reason" in dialog.wrong.text()
    dialog.reason.setText("the surveyor's word")
    dialog._take()
    hand.window.judging.use_figure(*dialog.own)
    boat = hand.window.workspace.diagram.boat
    assert boat.overrides["next_size_max_ratio"].value == 1.6
    finding = next(f for f in hand.report().findings if f.rule == RULE)
    assert any("the surveyor's word" in source for source in finding.sources)
