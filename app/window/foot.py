"""The foot: Notices, Positions, Live table and Walk list in tabs, with counters by shape."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QTabWidget, QWidget

from app.drawing.theme import Palette
from app.panels.badge_picture import badge_picture
from app.panels.live_table import LiveTable
from app.panels.notices import Notices
from app.panels.positions import Positions
from app.panels.walk_page import WalkPage
from app.words import _, in_words, ngettext

COUNTED = ("danger", "fault", "caution", "note", "cannot_tell")


class Foot(QTabWidget):
    """The tabs under the sheet."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.setAccessibleName(_("Notices, positions, live table"))
        self.tabBar().setAccessibleName(_("Notices, positions, live table"))
        self.notices = Notices()
        self.positions = Positions()
        self.live = LiveTable()
        self.walk = WalkPage()
        self.addTab(self.notices, _("Notices"))
        self.addTab(self.positions, _("Positions"))
        self.addTab(self.live, _("Live table"))
        self.addTab(self.walk, _("Walk list"))
        self.setTabToolTip(0, _("Findings of the checks"))
        self.setTabToolTip(1, _("Every switch and where it stands"))
        self.setTabToolTip(2, _("What is live, and from what"))
        self.setTabToolTip(3, _("What to trace and measure aboard"))
        self._counters = QWidget()
        self._row = QHBoxLayout(self._counters)
        self._row.setContentsMargins(0, 0, 14, 0)
        self._row.setSpacing(5)
        self.setCornerWidget(self._counters, Qt.Corner.TopRightCorner)
        self._counts: dict[str, QLabel] = {}
        self._shapes: dict[str, QLabel] = {}
        for severity in COUNTED:
            self._add_counter(severity)
        self.set_palette("day")
        self._ran = QLabel()
        self._ran.setObjectName("plainWord")
        self._row.addSpacing(8)
        self._row.addWidget(self._ran)

    def _add_counter(self, severity: str) -> None:
        shape, number = QLabel(), QLabel("0")
        word = in_words(severity)
        shape.setToolTip(word)
        number.setToolTip(word)
        number.setAccessibleName(_("Number of notices: {word}").format(word=word))
        if severity == "note":
            shape.hide()
            number.hide()
        self._counts[severity] = number
        self._shapes[severity] = shape
        self._row.addWidget(shape)
        self._row.addWidget(number)

    def set_palette(self, palette: Palette) -> None:
        """Draw the badges of counters and rows in a palette's colours."""
        for severity, shape in self._shapes.items():
            shape.setPixmap(badge_picture(
                "accepted" if severity == "note" else severity, 0, palette))
        self.notices.set_palette(palette)
        self.live.set_palette(palette)
        for table in (self.live, self.walk, self.positions.table):
            table.fit_lettering()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave out how many checks ran where the tabs need the room."""
        super().resizeEvent(event)
        self._fit_counters()

    def _fit_counters(self) -> None:
        asked = self.tabBar().sizeHint().width() + self._counters.sizeHint().width()
        hidden = 0 if not self._ran.isHidden() else self._ran.sizeHint().width()
        self._ran.setVisible(asked + hidden <= self.width())

    def show_counts(self, counts: Mapping[str, int], rules_run: int, unjudged: int) -> None:
        """Show how many notices of each severity there are."""
        for severity, label in self._counts.items():
            label.setText(str(unjudged if severity == "cannot_tell" else counts.get(severity, 0)))
        notes = counts.get("note", 0)
        said = [_("{rules_run} checks ran").format(rules_run=rules_run)]
        if notes:
            said.append(ngettext("{notes} note", "{notes} notes", notes).format(notes=notes))
        self._ran.setText(" · ".join(said))
        self._fit_counters()
        total = sum(counts.get(s, 0) for s in ("danger", "fault", "caution", "note"))
        self.setTabText(0, _("Notices  {total}").format(total=total) if total else _("Notices"))
