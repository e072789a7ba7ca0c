"""The shortcut sheet: every key there is, by menu, made from the table of actions."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from app.actions import MENUS, of_menu
from app.words import N_, _

HEIGHT_PX, AROUND_PX, KEY_PX = 620, 60, 20
ON_THE_SHEET = (
    (N_("Enter"), N_("Place the part in hand")),
    (N_("Space"), N_("Turn the part in hand")),
    (N_("Escape"), N_("Cancel")),
    (N_("0 to 9"), N_("Type figures of what is chosen: 16 1.2 m")),
    (N_("Tab"), N_("In the quick line: another terminal")),
    (N_("Shift Enter"), N_("In the quick line: do it, stay with the part")),
    (N_("Double click"), N_("Begin a branch on a conductor")),
    (N_("Wheel"), N_("Come nearer or go farther")),
    (N_("Middle button"), N_("Push the sheet about")),
)
"""What hands do on the sheet that is no action of the table."""


def keys_by_menu() -> dict[str, list[tuple[str, str]]]:
    """Return the keys with what they do, by menu, as this system writes them."""
    listed = {menu: [(_written(action.shortcut), _(action.title).removesuffix("…"))
                     for action in of_menu(menu) if action.shortcut] for menu in MENUS}
    return {**{_(menu): keys for menu, keys in listed.items() if keys},
            _("On the sheet"): [(_(key), _(title)) for key, title in ON_THE_SHEET]}


def _written(shortcut: str) -> str:
    return QKeySequence(shortcut).toString(QKeySequence.SequenceFormat.NativeText)


class ShortcutSheet(QDialog):
    """All keys in columns, to be read at a glance."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Shortcuts"))
        inside = self._inside = QWidget()
        columns = QHBoxLayout(inside)
        columns.setSpacing(34)
        for menus in _in_columns(keys_by_menu()):
            column = QVBoxLayout()
            for menu, keys in menus.items():
                column.addLayout(_section(menu, keys))
                column.addSpacing(14)
            column.addStretch(1)
            columns.addLayout(column)
        columns.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setAccessibleName(_("Every key, by menu"))
        area.setWidget(inside)
        room = parent.width() if parent is not None else self.screen().availableSize().width()
        self.resize(min(inside.sizeHint().width() + AROUND_PX, room), HEIGHT_PX)
        closing = QPushButton(_("Close"))
        closing.setDefault(True)
        closing.clicked.connect(self.accept)
        whole = QVBoxLayout(self)
        whole.addWidget(area, 1)
        whole.addWidget(closing, 0, Qt.AlignmentFlag.AlignRight)

    def showEvent(self, event: QShowEvent) -> None:
        """Measure once the lettering is as large as the window's: nothing is squeezed or cut."""
        super().showEvent(event)
        for label in self._inside.findChildren(QLabel):
            label.ensurePolished()
            label.setMinimumSize(label.sizeHint())
        wanted = self._inside.minimumSizeHint().width() + AROUND_PX
        self.resize(max(self.width(), min(wanted, self.screen().availableGeometry().width())),
                    self.height())


def _in_columns(listed: dict[str, list[tuple[str, str]]]) -> list[dict[str, list[tuple[str, str]]]]:
    """Return the menus in three columns of about one length, in their order."""
    whole = sum(len(keys) + 2 for keys in listed.values())
    columns: list[dict[str, list[tuple[str, str]]]] = [{}]
    length = 0
    for menu, keys in listed.items():
        if columns[-1] and length + (len(keys) + 2) / 2 > whole * len(columns) / 3:
            columns.append({})
        columns[-1][menu] = keys
        length += len(keys) + 2
    return columns


def _section(menu: str, keys: list[tuple[str, str]]) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(16)
    grid.setVerticalSpacing(5)
    name = QLabel(menu)
    name.setObjectName("sectionName")
    grid.addWidget(name, 0, 0, 1, 2)
    for row, (key, title) in enumerate(keys, start=1):
        pressed = QLabel(key)
        pressed.setObjectName("keyName")
        pressed.setMinimumHeight(KEY_PX)  # scrolled to, not squeezed
        pressed.setAlignment(Qt.AlignmentFlag.AlignCenter)
        said = QLabel(title)
        said.setAccessibleDescription(key)
        grid.addWidget(pressed, row, 0)
        grid.addWidget(said, row, 1)
    grid.setColumnStretch(1, 1)
    return grid
