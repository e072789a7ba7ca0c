"""The foot: Notices, Positions and Live table in tabs, with counters by shape; the log line."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QTabWidget, QToolButton, QWidget

from app.panels.live_table import LiveTable
from app.panels.notices import Notices, badge_picture
from app.panels.positions import Positions

COUNTED = ("danger", "fault", "caution", "note", "cannot_tell")


class Foot(QTabWidget):
    """The tabs under the sheet."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.notices = Notices()
        self.positions = Positions()
        self.live = LiveTable()
        self.addTab(self.notices, "Notices")
        self.addTab(self.positions, "Positions")
        self.addTab(self.live, "Live table")
        self.setTabToolTip(0, "Findings of the checks")
        self.setTabToolTip(1, "Every switch and where it stands")
        self.setTabToolTip(2, "What is live, and from what")
        self._counters = QWidget()
        self._row = QHBoxLayout(self._counters)
        self._row.setContentsMargins(0, 0, 14, 0)
        self._row.setSpacing(5)
        self.setCornerWidget(self._counters, Qt.Corner.TopRightCorner)
        self._counts: dict[str, QLabel] = {}
        for severity in COUNTED:
            self._add_counter(severity)
        self._ran = QLabel()
        self._ran.setObjectName("plainWord")
        self._row.addSpacing(8)
        self._row.addWidget(self._ran)

    def _add_counter(self, severity: str) -> None:
        shape, number = QLabel(), QLabel("0")
        shape.setPixmap(badge_picture(severity, 0) if severity != "note" else badge_picture(
            "accepted", 0))
        shape.setVisible(severity != "note")
        word = severity.replace("_", " ")
        shape.setToolTip(word)
        number.setToolTip(word)
        number.setAccessibleName(f"Number of notices: {word}")
        number.setVisible(severity != "note")
        self._counts[severity] = number
        self._row.addWidget(shape)
        self._row.addWidget(number)

    def show_counts(self, counts: Mapping[str, int], rules_run: int, unjudged: int) -> None:
        """Show how many notices of each severity there are."""
        for severity, label in self._counts.items():
            label.setText(str(unjudged if severity == "cannot_tell" else counts.get(severity, 0)))
        notes = counts.get("note", 0)
        words = f"{rules_run} checks ran"
        self._ran.setText(f"{words} · {notes} notes" if notes else words)
        total = sum(counts.get(s, 0) for s in ("danger", "fault", "caution", "note"))
        self.setTabText(0, f"Notices  {total}" if total else "Notices")


class LogLine(QWidget):
    """The line at the bottom: place on the sheet, what the tool expects, counts, zoom, state."""

    zoom_in = Signal()
    zoom_out = Signal()
    fit = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("log")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(28)
        self.place, self.words, self.counts = QLabel(), QLabel(), QLabel()
        self.scale, self.saved = QLabel(), QLabel()
        self.mode = QLabel()
        self.mode.setObjectName("logMode")
        self.mode.setAccessibleName("Mode of the window")
        self.words.setAccessibleName("What the program says")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 12, 0)
        row.setSpacing(14)
        self.place.setMinimumWidth(140)
        row.addWidget(self.place)
        row.addWidget(self.mode)
        row.addWidget(self.words, 1)
        row.addWidget(self.counts)
        for text, name, signal in (("−", "Zoom out", self.zoom_out), ("+", "Zoom in", self.zoom_in),
                                   ("Fit", "Fit the sheet", self.fit)):
            button = QToolButton()
            button.setText(text)
            button.setAccessibleName(name)
            button.setToolTip(name)
            button.clicked.connect(signal)
            row.addWidget(button)
        row.addWidget(self.scale)
        row.addWidget(self.saved)
