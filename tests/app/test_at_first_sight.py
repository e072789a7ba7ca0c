"""What somebody who sees the program for the first time must not stumble over."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QComboBox

from app.drawing.theme import colour
from app.new_boat.answers import Answers
from app.new_boat.boat import boat_of
from app.panels.choice_words import choice_words
from app.window.help import HelpWindow
from model.diagram import Diagram
from model.kinds import catalogue
from tests.app.hand import Hand


@pytest.fixture(scope="module")
def boat() -> Diagram:
    return boat_of(Answers())


def test_another_boat_comes_with_nothing_chosen_and_every_switch_as_usual(window, boat):
    window.workspace.start_new(boat)
    window.desk.choose({"Q1"})
    window.set_position("Q1", "off")
    window.workspace.start_new(boat.replaced(boat=boat.boat.changed(name="Another")))
    assert window.scene.selection == frozenset()
    assert window.desk.positions == {}


def test_a_boat_made_by_questions_is_not_dropped_without_a_question(window, boat, monkeypatch):
    window.files.take_new(boat, "A new boat.")
    assert window.workspace.is_changed
    asked = []
    monkeypatch.setattr(window.files, "may_leave", lambda: asked.append(True))
    window.run("file.demo_cutter")
    assert asked and window.workspace.diagram is boat


def test_what_is_in_sight_is_chosen_without_moving_the_sheet(window, boat):
    window.workspace.start_new(boat)
    window.view.fit()
    before = window.view.viewportTransform()
    window.show_item("G1")
    assert window.scene.selection == {"G1"}
    assert window.view.viewportTransform() == before
    for _ in range(6):
        window.view.zoom(1.5)
    window.show_item("X4")
    seen = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    body = window.scene.drawing.parts["X4"].body
    assert seen.contains((body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2)


def test_a_placed_part_says_how_it_is_connected(hand: Hand):
    hand.take_by_search("solar array")
    hand.click(120, 80)
    assert hand.window.log.words.text().startswith("G1 stands on the sheet.")


def test_a_typed_figure_says_that_it_was_taken(four_parts: Hand):
    four_parts.click(*four_parts.middle("F1"))
    four_parts.type_over(four_parts.field("name").editor, "Main fuse")
    assert four_parts.window.log.words.text().startswith("Done: ")


def test_a_fix_that_was_done_leaves_the_keys_with_the_notices(four_parts: Hand, qtbot):
    hand, window = four_parts, four_parts.window
    hand.connect(("G1", "+"), ("E1", "+"))
    report = hand.report()
    finding = next(f for f in report.findings if window.judging.offers(f))
    window.particulars.notice_wanted.emit(finding)
    qtbot.waitUntil(lambda: any(b.toolTip().startswith("Do this")
                                for b in window.foot.notices.page.buttons))
    button = next(b for b in window.foot.notices.page.buttons
                  if b.toolTip().startswith("Do this"))
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert window.log.words.text() == f"Done: {button.accessibleName()}. Undo takes it back."
    assert QApplication.focusWidget() is window.foot.notices.table


def test_choices_read_as_the_trade_writes_them(window, boat):
    for kind in catalogue().values():
        for field in kind.fields:
            assert not any("_" in choice_words(choice) for choice in field.choices), field.name
    window.workspace.start_new(boat)
    window.desk.choose({"G1"})
    QApplication.processEvents()
    box = window.particulars.rows["chemistry"].editor
    assert isinstance(box, QComboBox) and box.currentText() == "AGM"


@pytest.mark.parametrize("palette", ["dusk", "night"])
def test_no_page_is_a_light_patch_in_the_dark(window, boat, palette):
    window.run(f"view.{palette}")
    page = HelpWindow(window, palette)
    page.show_page("notices")
    page.show()
    QApplication.processEvents()
    seen = page.text.viewport().grab().toImage().pixelColor(3, 3)
    assert seen == QColor(colour("field", palette))
    page.close()


@pytest.mark.parametrize("palette", ["dusk", "night"])
def test_the_live_table_is_written_in_the_palettes_own_colours(window, boat, palette):
    window.workspace.start_new(boat)
    window.run(f"view.{palette}")
    window.run("operate.operate")
    live = window.foot.live
    inks = {live.item(row, 0).foreground().color().name().upper() for row in range(live.rowCount())}
    allowed = {colour(role, palette) for role in ("ink", "dead_text", "magenta")}
    assert inks and inks <= allowed
