"""The bar at the top: the boat, undo and redo, the modes, the finder, the palettes, the menu."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction, QFocusEvent, QImage, QKeyEvent, QPainter, QPixmap
from PySide6.QtWidgets import (
    QButtonGroup,
    QCompleter,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.drawing.frame import rose
from app.drawing.marks import bounds
from app.drawing.painters.qt import paint, prepared
from app.drawing.theme import Palette, colour
from app.panels.lettering import Elided, scaled
from app.window.icons import BOX_PX, icon
from app.words import _

HEIGHT, NAME_PX, FINDER_PX, MOST_FOUND = 48, 280, 300, 12
MOST_HEIGHTENED = 1.25  # however large the lettering
SHOWN_ACTIONS = {"edit.undo": "undo", "edit.redo": "redo"}
PALETTE_ACTIONS = {"view.day": "day", "view.dusk": "dusk", "view.night": "night"}


def rose_picture(pixels: int, palette: str = "day", role: str = "bar_text") -> QPixmap:
    """Return the rose as a picture on clear ground."""
    from msgspec.structs import replace

    from app.drawing.marks import flat

    marks = []
    for mark in flat(rose(29.0)):
        changes = {name: role for name in ("role", "fill")
                   if getattr(mark, name, None) in ("ink", "ink2", "hair")}
        if getattr(mark, "fill", None) in ("paper", "body"):
            changes["fill"] = "bar" if role == "bar_text" else "panel"
        marks.append(replace(mark, **changes) if changes else mark)
    image = QImage(QSize(2 * pixels, 2 * pixels), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    box = bounds(marks)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if box is not None:
        scale = 2 * pixels / (max(box.w, box.h) + 1)
        painter.translate(pixels, pixels)
        painter.scale(scale, scale)
        painter.translate(-(box.x0 + box.x1) / 2, -(box.y0 + box.y1) / 2)
        paint(painter, prepared(marks), palette)  # type: ignore[arg-type]
    painter.end()
    picture = QPixmap.fromImage(image)
    picture.setDevicePixelRatio(2.0)
    return picture


class FinderLine(QLineEdit):
    """The one field for commands, parts and conductors."""

    found = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setPlaceholderText(_("Command, part or conductor   Ctrl K"))
        self.setAccessibleName(_("Find a command, part or conductor"))
        self._entries: Mapping[str, str] = {}
        self._source: Callable[[], Mapping[str, str]] = dict
        self._is_stale = False
        self.returnPressed.connect(self._enter)

    def offer(self, source: Callable[[], Mapping[str, str]]) -> None:
        """Offer what the source then returns, shown text -> key; it is asked when one types."""
        self._source, self._is_stale = source, True
        if self.hasFocus():
            self._renew()

    def _renew(self) -> None:
        if not self._is_stale:
            return
        self._entries, self._is_stale = self._source(), False
        completer = QCompleter(list(self._entries), self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(MOST_FOUND)
        completer.activated.connect(self._take)
        self.setCompleter(completer)
        self.dress_list()

    def _take(self, text: str) -> None:
        key = self._entries.get(text)
        if key is not None:
            self.found.emit(key)
            self.clear()

    def _enter(self) -> None:
        """Take what begins with the text, else what holds it; of several the shortest."""
        wanted = self.text().strip().lower()
        hits = [text for text in self._entries if wanted and wanted in text.lower()]
        if hits:
            best = min(hits, key=lambda text: (not text.lower().startswith(wanted), len(text)))
            self.found.emit(self._entries[best])
            self.clear()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Look what there is to be found."""
        self._renew()
        self.dress_list()
        super().focusInEvent(event)

    def dress_list(self) -> None:
        """Dress the list, a window of its own, as the window is dressed now."""
        found = self.completer().popup() if self.completer() is not None else None
        if found is not None:
            found.setObjectName("finderList")
            found.setStyleSheet(self.window().styleSheet())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape leaves the field."""
        if event.key() == Qt.Key.Key_Escape:
            self.clear()
            self.clearFocus()
            return
        super().keyPressEvent(event)


class Bar(QWidget):
    """The deep blue bar."""

    mode_chosen = Signal(str)

    def __init__(self, actions: Mapping[str, QAction], menu: QMenu, palette: Palette) -> None:
        super().__init__()
        self.setObjectName("bar")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.finder = FinderLine()
        self.boat, self.edition = Elided(), QLabel()
        self.boat.setMaximumWidth(NAME_PX)
        self.boat.setObjectName("boatName")
        self.edition.setObjectName("boatEdition")
        names = QVBoxLayout()
        names.setSpacing(0)
        names.setContentsMargins(0, 4, 0, 5)
        names.addWidget(self.boat)
        names.addWidget(self.edition)
        self._logo = QLabel()
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(8)
        row.addWidget(self._logo)
        row.addLayout(names)
        row.addSpacing(20)
        self._icons: list[tuple[QToolButton, str]] = []
        for action_id, name in SHOWN_ACTIONS.items():
            row.addWidget(self._icon_button(actions[action_id], name))
        row.addStretch(1)
        self._modes = QButtonGroup(self)
        self.draw = self._mode(_("Draw"), "draw", row)
        self.operate = self._mode(_("Operate"), "operate", row)
        self.print = self._mode(_("Print"), "print", row)
        self.print.setCheckable(False)
        self.draw.setChecked(True)
        row.addStretch(1)
        row.addWidget(self.finder, 8)  # as wide as it may be, before the gaps
        for action_id, name in PALETTE_ACTIONS.items():
            button = self._icon_button(actions[action_id], name)
            button.setCheckable(True)
            row.addWidget(button)
        row.addWidget(self._menu_button(menu))
        self.set_palette(palette)

    def set_palette(self, palette: Palette) -> None:
        """Draw the icons in a palette's colours; mark the palette's own button."""
        self.setFixedHeight(scaled(HEIGHT, MOST_HEIGHTENED))
        self.finder.setMaximumWidth(scaled(FINDER_PX, MOST_HEIGHTENED))
        text, second, ground = (colour(role, palette) for role in ("bar_text", "bar_dim", "bar"))
        if self.finder.hasFocus():
            self.finder.dress_list()
        self._logo.setPixmap(rose_picture(34, palette))
        for button, name in self._icons:
            button.setIcon(icon(name, text, second, ground))
            if name in PALETTE_ACTIONS.values():
                button.setChecked(name == palette.partition("_")[0])

    def show_boat(self, name: str, second: str) -> None:
        """Show the boat's name and the diagram's state."""
        self.boat.setText(name)
        self.edition.setText(second)

    def _icon_button(self, action: QAction, name: str) -> QToolButton:
        """Return a button that follows an action, with an icon instead of its words."""
        button = QToolButton()
        button.setAccessibleName(action.text())
        button.setToolTip(action.toolTip())
        button.setIconSize(QSize(BOX_PX, BOX_PX))
        button.setObjectName("barIcon")
        button.setEnabled(action.isEnabled())
        button.clicked.connect(action.trigger)
        action.changed.connect(lambda: self._follow(button, action))
        self._icons.append((button, name))
        return button

    @staticmethod
    def _follow(button: QToolButton, action: QAction) -> None:
        button.setEnabled(action.isEnabled())
        button.setToolTip(action.toolTip())

    def _mode(self, title: str, mode: str, row: QHBoxLayout) -> QToolButton:
        button = QToolButton()
        button.setText(title)
        button.setCheckable(True)
        button.setAutoExclusive(False)
        button.clicked.connect(lambda: self.mode_chosen.emit(mode))
        if mode != "print":
            self._modes.addButton(button)
        row.addWidget(button)
        return button

    def _menu_button(self, menu: QMenu) -> QToolButton:
        button = QToolButton()
        button.setAccessibleName(_("Menu"))
        button.setToolTip(_("Menu: every command"))
        button.setIconSize(QSize(BOX_PX, BOX_PX))
        button.setObjectName("barIcon")
        self._icons.append((button, "menu"))
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        return button


