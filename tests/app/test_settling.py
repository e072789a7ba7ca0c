"""What a field would settle, told in the field and on the line that opens the rest."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QToolButton

from app.panels.settling import rest_words, words
from rules.engine import check
from rules.gaps import waiting_for
from tests.bench.figures import DEMO
from tests.rules.bases import tidy


def test_each_check_counts_once_for_a_field():
    report = check(tidy())
    found = waiting_for(report.cannot_tell)
    for field, count in found.items():
        assert count == sum(field in one.missing for one in report.cannot_tell)


def test_the_words_say_one_and_many():
    assert words(1) == "would settle 1 question"
    assert rest_words(12, 3, [0, 0]) == "12 more fields, 3 known"
    assert rest_words(12, 3, [2, 0, 1]) == "12 more; 2 would settle 3 questions"


def test_a_field_that_would_settle_something_says_so_and_no_other(qtbot, hand):
    window = hand.window
    window.report = None
    window.files.open(DEMO)
    qtbot.waitUntil(lambda: window.report is not None, timeout=20_000)
    asked = waiting_for(window.report.cannot_tell)
    item = next(field.partition(".")[0] for field in asked
                if field.partition(".")[0] in window.workspace.diagram.components)
    window.desk.choose({item})

    def more():
        return [b for b in window.particulars.findChildren(QToolButton)
                if "would settle" in b.text()]

    qtbot.waitUntil(lambda: bool(more()))
    more()[0].click()
    qtbot.waitUntil(lambda: len(window.particulars.rows) > 8)
    for name, row in window.particulars.rows.items():
        editor = row.editor
        hint = (editor.itemText(0) if isinstance(editor, QComboBox)
                else editor.placeholderText())
        empty = row._value is None
        assert ("would settle" in hint) == (empty and f"{item}.{name}" in asked), name
