"""The shortcut sheet: every key there is, by menu, made from the table of actions."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeySequence
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
from app.panels.lettering import scaled
from app.words import N_, _

COLUMNS, ROOMY_PX = 3, 1120
AROUND_PX, CLOSING_PX, KEY_PX = 60, 40, 20
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
        inside = QWidget()
        columns = QHBoxLayout(inside)
        columns.setSpacing(34)
        listed = keys_by_menu()
        room = parent.size() if parent is not None else self.screen().availableSize()
        for menus in _in_columns(listed, COLUMNS if _is_roomy(room.width()) else COLUMNS - 1):
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
        closing = QPushButton(_("Close"))
        closing.setDefault(True)
        closing.clicked.connect(self.accept)
        whole = QVBoxLayout(self)
        whole.addWidget(area, 1)
        whole.addWidget(closing, 0, Qt.AlignmentFlag.AlignRight)
        self._fit(inside, room)

    def _fit(self, inside: QWidget, room: QSize) -> None:
        """Be as large as the keys need: nothing is squeezed or cut, and what is over scrolls."""
        for label in inside.findChildren(QLabel):
            label.ensurePolished()
            label.setMinimumSize(label.sizeHint())
        columns = inside.layout()
        if columns is not None:
            columns.invalidate()  # they were measured with smaller labels
            columns.activate()
        wanted = inside.minimumSizeHint() + QSize(AROUND_PX, AROUND_PX + scaled(CLOSING_PX))
        self.resize(wanted.boundedTo(room - QSize(AROUND_PX // 4, AROUND_PX)))


def _is_roomy(width_px: int) -> bool:
    """Say whether all columns stand side by side in a width, with the lettering as it is."""
    return width_px >= scaled(ROOMY_PX)


def _in_columns(
    listed: dict[str, list[tuple[str, str]]], count: int
) -> list[dict[str, list[tuple[str, str]]]]:
    """Return the menus in columns of about one length, in their order."""
    whole = sum(len(keys) + 2 for keys in listed.values())
    columns: list[dict[str, list[tuple[str, str]]]] = [{}]
    length = 0
    for menu, keys in listed.items():
        if columns[-1] and length + (len(keys) + 2) / 2 > whole * len(columns) / count:
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
        pressed.setMinimumHeight(scaled(KEY_PX))  # scrolled to, not squeezed
        pressed.setAlignment(Qt.AlignmentFlag.AlignCenter)
        said = QLabel(title)
        said.setAccessibleDescription(key)
        grid.addWidget(pressed, row, 0)
        grid.addWidget(said, row, 1)
    grid.setColumnStretch(1, 1)
    return grid
