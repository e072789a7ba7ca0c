"""The ways of a panel as a small table: label, device, rating; add one, take one away."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.drafting.parts import field_edit
from app.panels.lettering import scaled
from app.typed import read_quantity
from app.words import N_, _, decimal
from model.diagram import Component, Diagram
from model.edits import Edit
from model.frozen_map import thaw
from model.kinds.distribution import panel_ways, plain_way
from model.units import QuantityError

ROW_PX = 30
COLUMNS = (("label", N_("Circuit")), ("rated_a", "A"))


class WayTable(QWidget):
    """Edits the list of ways; every change is one undo step."""

    def __init__(
        self, diagram: Diagram, component: Component, do: Callable[[Edit], str | None]
    ) -> None:
        super().__init__()
        self._diagram, self._component, self._do = diagram, component, do
        self._ways: list[dict[str, Any]] = [thaw(way) for way in panel_ways(
            component.parameters, component.kind)]
        self.table = QTableWidget(len(self._ways), len(COLUMNS))
        self.table.setAccessibleName(_("Ways of the panel"))
        self.table.setTabKeyNavigation(False)  # Tab goes on, the arrows go through it
        self.table.setHorizontalHeaderLabels([_(title) for _name, title in COLUMNS])
        self.table.setVerticalHeaderLabels([way["id"] for way in self._ways])
        self.table.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.setColumnWidth(1, scaled(60))
        self.table.verticalHeader().setDefaultSectionSize(scaled(ROW_PX))
        for row, way in enumerate(self._ways):
            for column, (name, _title) in enumerate(COLUMNS):
                self.table.setItem(row, column, _cell(way.get(name)))
        self.table.setMinimumHeight(min(300, 34 + 31 * len(self._ways)))
        self.table.cellChanged.connect(self._changed)
        self.wrong = QLabel()
        self.wrong.setObjectName("wrong")
        self.wrong.setWordWrap(True)
        self.wrong.hide()
        add, remove = QPushButton(_("Add a way")), QPushButton(_("Remove last"))
        add.clicked.connect(self._add)
        remove.clicked.connect(self._remove)
        buttons = QHBoxLayout()
        buttons.addWidget(add)
        buttons.addWidget(remove)
        column_layout = QVBoxLayout(self)
        column_layout.setContentsMargins(0, 4, 0, 4)
        column_layout.addWidget(self.table)
        column_layout.addWidget(self.wrong)
        column_layout.addLayout(buttons)

    def _changed(self, row: int, column: int) -> None:
        name = COLUMNS[column][0]
        item = self.table.item(row, column)
        text = item.text().strip() if item is not None else ""
        value: Any = text or None
        if name == "rated_a" and text:
            try:
                value = read_quantity(text, "A")
            except QuantityError as error:
                self._say(str(error))
                self._show_again(row, column)
                return
        way = {**self._ways[row], name: value}
        if value is None:
            del way[name]
        if not self._put([*self._ways[:row], way, *self._ways[row + 1:]]):
            self._show_again(row, column)

    def _show_again(self, row: int, column: int) -> None:
        self.table.blockSignals(True)
        shown = _shown(self._ways[row].get(COLUMNS[column][0]))
        self.table.setItem(row, column, QTableWidgetItem(shown))
        self.table.blockSignals(False)

    def _add(self) -> None:
        used = {way["id"] for way in self._ways}
        number = next(i for i in range(1, len(used) + 2) if f"w{i}" not in used)
        self._put([*self._ways, plain_way(number, self._component.kind)])

    def _remove(self) -> None:
        if len(self._ways) > 1:
            self._put(self._ways[:-1])

    def _put(self, ways: list[dict[str, Any]]) -> bool:
        """Put other ways in place of these; say why when they are refused, and return False."""
        problem = self._do(field_edit(self._diagram, self._component.id, "ways", tuple(ways)))
        self._say(problem)
        if problem is None:
            self._ways = ways
        return problem is None

    def _say(self, sentence: str | None) -> None:
        self.wrong.setText(sentence or "")
        self.wrong.setVisible(bool(sentence))


def _cell(value: Any) -> QTableWidgetItem:
    """Return a cell that is read in full when it is pointed at."""
    cell = QTableWidgetItem(_shown(value))
    cell.setToolTip(cell.text())
    return cell


def _shown(value: Any) -> str:
    if value is None:
        return ""
    return decimal(f"{value:g}") if isinstance(value, float) else str(value)
