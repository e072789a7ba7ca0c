"""The Live table: in words, what is live from what, with the switches as they stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.drawing.theme import Palette, colour
from app.drawing.wording import designation, where_text
from app.words import _, ngettext
from model.diagram import Diagram

if TYPE_CHECKING:
    from model.survey import LiveState

ITEM_ROLE = Qt.ItemDataRole.UserRole


class LiveTable(QTableWidget):
    """Parts with what makes them live; unexpected ones first."""

    shown_item = Signal(str)

    def __init__(self) -> None:
        super().__init__(0, 3)
        self._palette: Palette = "day"
        self._shown: tuple[Diagram, LiveState] | None = None
        self.against = 0  # how many parts are live against a switch
        self.setAccessibleName(_("Live table: what is live and from what"))
        self.setTabKeyNavigation(False)  # Tab goes on, the arrows go through it
        self.setHorizontalHeaderLabels([_("Part"), _("Name"), _("Live from")])
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        head = self.horizontalHeader()
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setHighlightSections(False)
        head.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        self.setColumnWidth(0, 70)
        self.setColumnWidth(1, 230)
        self.itemSelectionChanged.connect(self._chosen)

    def set_palette(self, palette: Palette) -> None:
        """Write in a palette's colours."""
        self._palette = palette
        if self._shown is not None:
            self.show_state(*self._shown)

    def show_state(self, diagram: Diagram, state: LiveState) -> None:
        """Show which parts are live."""
        self._shown = (diagram, state)
        rows = []
        for item, sources in state.components.items():
            component = diagram.components.get(item)
            if component is None or component.kind == "stud":
                continue
            unexpected = item in state.unexpected
            words = ", ".join(where_text(diagram, (source,)) for source in sorted(sources))
            if unexpected:
                words = _("live against the switch, from {words}").format(words=words)
            rows.append((not unexpected, not sources, item, designation(component),
                         component.name, words or _("dead")))
        self.against = sum(not row[0] for row in rows)
        self.blockSignals(True)
        self.setRowCount(len(rows))
        for number, (expected, dead, item, name, own, words) in enumerate(sorted(rows)):
            for column, text in enumerate((name, own, words)):
                cell = QTableWidgetItem(text)
                cell.setData(ITEM_ROLE, item)
                role = "dead_text" if dead else "ink" if expected else "magenta"
                cell.setForeground(QColor(colour(role, self._palette)))
                self.setItem(number, column, cell)
            self.setRowHeight(number, 26)
        self.blockSignals(False)

    def against_words(self) -> str:
        """Return how many parts are live against a switch, in words; nothing for none."""
        if not self.against:
            return ""
        return " " + ngettext("{count} part stays live against it: see the Live table.",
                              "{count} parts stay live against it: see the Live table.",
                              self.against).format(count=self.against)

    def _chosen(self) -> None:
        cell = self.item(self.currentRow(), 0)
        if cell is not None:
            self.shown_item.emit(cell.data(ITEM_ROLE))
