"""The Positions: the mode, and every switch with where it stands, worked from the keyboard too."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from app.panels.listing import Listing
from app.words import N_, _
from model.diagram import Diagram
from model.kinds import kind_of

ALL_RUNNING = N_("Everything running")
ROW_PX = 34
Row = tuple[str, str, tuple[str, ...], str]
Shown = tuple[tuple[Row, ...], tuple[tuple[str, str], ...], str]


class Positions(QWidget):
    """Choose a mode, work a switch. `worked` brings (handle, position), `mode_chosen` an id."""

    worked = Signal(str, str)
    mode_chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.mode = QComboBox()
        self.mode.setAccessibleName(_("Mode: what runs and how switches stand"))
        self.mode.activated.connect(lambda i: self.mode_chosen.emit(self.mode.itemData(i)))
        self.table = Listing((_("Switch"), _("Name"), _("Position")), (80, 230, 140), ROW_PX,
                             _("No switch is drawn yet."))
        self.table.setAccessibleName(_("Positions of switches"))
        row = QHBoxLayout()
        row.setContentsMargins(10, 6, 10, 2)
        row.addWidget(QLabel(_("Mode")))
        row.addWidget(self.mode)
        row.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.table)
        self._wanted: Shown = ((), (), "")
        self._shown: Shown | None = None

    def show_positions(
        self, diagram: Diagram, positions: Mapping[str, str], mode_id: str
    ) -> None:
        """Show the modes, and every handle of the diagram that is more than a fuse."""
        rows = []
        for component in diagram.components.values():
            for handle in kind_of(component).handles(component.parameters):
                if "pulled" in handle.positions or handle.id:
                    continue
                now = positions.get(component.id, handle.normal)
                rows.append((component.id, component.name, handle.positions, now))
        modes = tuple((mode.id, mode.name or mode.id) for mode in diagram.modes.values())
        self._wanted = (tuple(rows), modes, mode_id)
        if self.isVisible():
            self._fill()

    def showEvent(self, event: QShowEvent) -> None:
        """Fill the table, which is not worth its time while another tab hides it."""
        self._fill()
        super().showEvent(event)

    def _fill(self) -> None:
        if self._wanted == self._shown:
            return
        self._shown = self._wanted
        rows, modes, mode_id = self._wanted
        self.mode.clear()
        for item, name in (*modes, ("", ALL_RUNNING)):
            self.mode.addItem(name if item else _(name), item)
        self.mode.setCurrentIndex(max(0, self.mode.findData(mode_id)))
        self.table.setRowCount(len(rows))
        for number, (item, name, choices, now) in enumerate(rows):
            self.table.put(number, (item, name))
            box = QComboBox()
            box.setAccessibleName(_("Position of {item}").format(item=item))
            for position in choices:
                box.addItem(_(position), position)
            box.setCurrentIndex(box.findData(now))
            box.activated.connect(lambda index, handle=item, box=box: self.worked.emit(
                handle, box.itemData(index)))
            self.table.setCellWidget(number, 2, box)
