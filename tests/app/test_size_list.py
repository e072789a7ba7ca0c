"""A size picked from the list of what each would mean, by mouse and keys."""

from __future__ import annotations

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QToolButton

from tests.bench.figures import DEMO


def sizes(window):
    return next(b for b in window.particulars.findChildren(QToolButton)
                if b.accessibleName() == "Choose a size")


def test_a_size_is_picked_by_keys_from_the_list(qtbot, hand):
    window = hand.window
    window.files.open(DEMO)
    window.desk.choose({"W61"})
    qtbot.waitUntil(lambda: "size" in window.particulars.rows)
    seen = []

    def pick():
        menu = QApplication.activePopupWidget()
        if menu is None:
            QTimer.singleShot(50, pick)
            return
        seen.extend(action.text() for action in menu.actions())
        current = next(a for a in menu.actions() if a.isChecked())
        menu.setActiveAction(current)
        qtbot.keyClick(menu, Qt.Key.Key_Down)
        qtbot.keyClick(menu, Qt.Key.Key_Return)

    QTimer.singleShot(50, pick)
    qtbot.mouseClick(sizes(window), Qt.MouseButton.LeftButton)
    assert seen[0].endswith("behind 125 A") and "Enough" in seen and "Not enough for that" in seen
    assert window.workspace.diagram.conductors["W61"].size.text == "70"
    assert window.workspace.undo_label == "Set size of W61"
