"""The Live table: in words, what is live from what, with the switches as they stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QAbstractItemView

from app.drawing.theme import Palette, colour
from app.drawing.wording import designation, where_text
from app.panels.listing import STRETCHED, Listing
from app.words import _, ngettext
from model.diagram import Diagram

if TYPE_CHECKING:
    from model.survey import LiveState

ITEM_ROLE = Qt.ItemDataRole.UserRole
ROW_PX = 26


class LiveTable(Listing):
    """Parts with what makes them live; unexpected ones first."""

    shown_item = Signal(str)

    def __init__(self) -> None:
        super().__init__((_("Part"), _("Name"), _("Live from")), (70, 230, STRETCHED), ROW_PX,
                         _("Nothing that is drawn can be live."))
        self._palette: Palette = "day"
        self._shown: tuple[Diagram, LiveState] | None = None
        self.against = 0  # how many parts are live against a switch
        self.setAccessibleName(_("Live table: what is live and from what"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
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
            for cell in self.put(number, (name, own, words)):
                cell.setData(ITEM_ROLE, item)
                role = "dead_text" if dead else "ink" if expected else "magenta"
                cell.setForeground(QColor(colour(role, self._palette)))
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
