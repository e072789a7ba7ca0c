"""One evening at the window: a boat by questions, sun added, its notice fixed, named, printed."""

from __future__ import annotations

import pypdf
import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QFileDialog

from tests.app.new_boat.test_new_boat_pages import CONTROL, Visitor, opened, shut


class Owner(Visitor):
    """A visitor who draws by keyboard too."""

    def quick(self, key: Qt.Key, line: str, tabs: int = 0) -> None:
        """Type into the quick line that a key opens."""
        self.press(key)
        for _ in range(tabs):
            self.press(Qt.Key.Key_Tab)
        self.write(line)
        self.press(Qt.Key.Key_Return)

    def choose(self, item: str) -> None:
        self.window.show_item(item)
        self.window.view.setFocus()
        QApplication.processEvents()


@pytest.fixture
def owner(qtbot, state_folder):
    window = opened(qtbot, state_folder)
    yield Owner(qtbot, window)
    shut(window)


def test_an_evening(owner, tmp_path, monkeypatch):
    window, qtbot = owner.window, owner.qtbot
    answered_without_sun(owner)
    assert troubles(owner) == set()

    owner.choose("X2")  # the bus of what charges the house bank
    owner.quick(Qt.Key.Key_P, "solar controller 4 1.2")
    owner.quick(Qt.Key.Key_P, "solar array 6 4")
    assert troubles(owner) == {"unprotected_tap"}
    owner.choose(lead(owner, "T3"))
    qtbot.waitUntil(lambda: "insulation_c" in window.particulars.rows)
    owner.type_over(owner.field("insulation_c").editor, "105")
    assert troubles(owner) == {"unprotected_tap"}

    window.foot.notices.table.setCurrentCell(0, 1)
    fix = next(b for b in window.foot.notices.page.buttons if b.text().startswith("Fit"))
    title = fix.accessibleName()
    owner.on(fix)
    assert troubles(owner) == set()
    assert window.workspace.undo_label == title

    owner.choose("G4")
    qtbot.waitUntil(lambda: "name" in window.particulars.rows)
    owner.type_over(owner.field("name").editor, "Panels on the arch")
    pack = tmp_path / "curlew.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(pack), ""))
    QTimer.singleShot(100, lambda: owner.on(QApplication.activeModalWidget().writing))
    owner.press(Qt.Key.Key_P, CONTROL)
    text = pypdf.PdfReader(pack).pages[0].extract_text()
    assert "CURLEW" in text and "Panels on" in text and "T3" in text


def answered_without_sun(owner):
    """From the start page to a boat called Curlew that has no solar panels."""
    owner.press(Qt.Key.Key_Space)
    owner.press(Qt.Key.Key_Space)
    owner.write("Curlew")
    for _ in range(3):
        owner.on(owner.questions.next)
    owner.answer("solar", False)
    owner.on(owner.questions.draw)


def lead(owner, part):
    """The conductor between a part and the battery bus."""
    (wire,) = (w.id for w in owner.window.workspace.diagram.conductors.values()
               if {end.component for end in w.ends()} == {part, "X2"})
    return wire


def troubles(owner):
    """The rules that speak at caution and above."""
    return {finding.rule for finding in owner.report().findings if finding.severity != "note"}


def test_an_alternator_is_replaced_by_one_of_another_rating_with_its_own_regulator(owner):
    window, qtbot = owner.window, owner.qtbot
    answered_without_sun(owner)
    before = window.workspace.diagram
    (alternator,) = (c.id for c in before.components.values() if c.kind == "alternator")
    ends = {(w.id, e.terminal) for w in before.conductors.values() for e in w.ends()
            if e.component == alternator}
    owner.choose(alternator)

    def replace():
        dialog = QApplication.activeModalWidget()
        assert any("regulator" in dialog.kinds.item(row).text().lower()
                   for row in range(dialog.kinds.count()))
        qtbot.keyClick(dialog.kinds, Qt.Key.Key_Return)

    QTimer.singleShot(100, replace)
    owner.press(Qt.Key.Key_P, Qt.KeyboardModifier.ShiftModifier)
    after = window.workspace.diagram
    assert after is not before
    assert ends <= {(w.id, e.terminal) for w in after.conductors.values() for e in w.ends()
                    if e.component == alternator}
    owner.choose(alternator)
    qtbot.waitUntil(lambda: "rated_a" in window.particulars.rows)
    owner.type_over(owner.field("rated_a").editor, "160")
    assert window.workspace.diagram.components[alternator].parameters["rated_a"] == 160
    assert troubles(owner) == {"alternator_protection_too_small", "charged_too_fast"}
