"""The start page: a sheet with its graduated border, the cautions at the left, four ways right.

It stands where the diagram will stand. The cautions are confirmed once, and remembered.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QSettings, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QKeySequence, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.drawing.theme import Palette, colour
from app.panels.lettering import Elided, scaled
from app.reports import CAUTION
from app.window.bar import rose_picture
from app.words import N_, _

READ = "cautions_read"
CAUTIONS = (
    N_("Batteries cannot be switched off: their posts stay live, and a spanner across them welds."),
    N_("Shore power can kill. Pull the plug before you open anything of it."),
    N_("Lithium banks need their maker's instructions, for charging above all."),
    N_("The sheet shows what was drawn, not what is aboard: look before you cut."),
    CAUTION,
)
TAGLINE = N_("A chart of your boat's electricity")
PURPOSE = N_("Draw the wiring, have it checked, see what stays live, print it.")
SHEET_PX = QSize(1020, 620)
MARGIN_PX, BAND_PX, BAR_PX = 14, 5, 18
PICTURE_PX = QSize(92, 62)
MOST_RECENT = 3
FAINT = 0.5


class ChartSheet(QFrame):
    """A sheet of paper with the graduated border of a chart."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.palette_name = palette
        self.setMaximumSize(scaled(SHEET_PX.width()), scaled(SHEET_PX.height()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the paper, and bars of one length, dark and light in turn, along its edges."""
        painter = QPainter(self)
        ink = QColor(colour("ink", self.palette_name))
        painter.fillRect(self.rect(), QColor(colour("paper", self.palette_name)))
        box = self.rect().adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX - 1, -MARGIN_PX - 1)
        inner = box.adjusted(BAND_PX, BAND_PX, -BAND_PX, -BAND_PX)
        for x in range(box.left(), box.right(), 2 * BAR_PX):
            width = min(BAR_PX, box.right() - x)
            painter.fillRect(x, box.top(), width, BAND_PX, ink)
            painter.fillRect(x, inner.bottom() + 1, width, BAND_PX, ink)
        for y in range(box.top(), box.bottom(), 2 * BAR_PX):
            height = min(BAR_PX, box.bottom() - y)
            painter.fillRect(box.left(), y, BAND_PX, height, ink)
            painter.fillRect(inner.right() + 1, y, BAND_PX, height, ink)
        painter.setPen(ink)
        painter.drawRect(box)
        painter.drawRect(inner)
        painter.end()


class SheetPicture(QLabel):
    """A small picture of a sheet, which stays in its palette where it cannot be pressed yet."""

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the picture, fainter where it cannot be pressed."""
        painter = QPainter(self)
        painter.setOpacity(1.0 if self.isEnabled() else FAINT)
        painter.drawPixmap(0, 0, self.pixmap())
        painter.end()


class Way(QPushButton):
    """One of the ways to begin: its title, and a sentence below it."""

    def __init__(self, title: str, sentence: str, picture: bool = False) -> None:
        super().__init__()
        self.setObjectName("recentWay" if picture else "way")
        self.setAccessibleName(title)
        self.setAccessibleDescription(sentence)
        self.picture = SheetPicture()
        self.picture.setFixedSize(PICTURE_PX)
        self.picture.setVisible(picture)
        words = QVBoxLayout()
        words.setSpacing(1)
        words.addStretch(1)
        for text, name in ((title, "wayTitle"), (sentence, "wayWords")):
            line = Elided(text)
            line.setObjectName(name)
            words.addWidget(line)
        words.addStretch(1)
        row = QHBoxLayout(self)
        row.setSizeConstraint(QLayout.SizeConstraint.SetMinimumSize)  # a button asks no layout
        row.setContentsMargins(14 if not picture else 6, 4, 14, 4)
        row.setSpacing(12)
        row.addWidget(self.picture)
        row.addLayout(words, 1)
        for label in self.findChildren(QLabel):
            label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)


class StartPage(QWidget):
    """The page. Each way tells by a signal; `opened` brings the file of a recent diagram."""

    asked = Signal()
    demo = Signal(str)
    opening = Signal()
    opened = Signal(Path)
    emptied = Signal()
    left = Signal()

    def __init__(self, palette: Palette, recent: Sequence[Path], settings: QSettings) -> None:
        super().__init__()
        self.setObjectName("desk")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self._settings, self._palette = settings, palette
        self.new_boat = Way(_("A new boat, by questions"),
                            _("Some twenty answers, and she stands on a sheet of her own."))
        self.cutter = Way(_("A demo boat"), _("A steel cutter with lithium, sun, wind and shore."))
        self.open = Way(_("Open"), _("A diagram from a file.   Ctrl+O"))
        self.empty = QPushButton(_("or an empty sheet"))
        self.empty.setObjectName("quietWay")
        self.back = QPushButton(_("back to the open diagram"))
        self.back.setObjectName("quietWay")
        self.back.setShortcut(QKeySequence("Esc"))
        self.back.clicked.connect(self.left.emit)
        self.recent = [Way(path.stem, str(path.parent), picture=True)
                       for path in recent[:MOST_RECENT]]
        self.read = QPushButton(_("I have read this"))
        self.read.setObjectName("cautionRead")
        self.read.clicked.connect(self._confirm)
        self.hint = QLabel(_("Then choose how to begin, at the right."))
        self.hint.setObjectName("plainWord")
        self.new_boat.clicked.connect(self.asked.emit)
        self.cutter.clicked.connect(lambda: self.demo.emit("cutter"))
        self.open.clicked.connect(self.opening.emit)
        self.empty.clicked.connect(self.emptied.emit)
        for way, path in zip(self.recent, recent, strict=False):
            way.clicked.connect(lambda _=False, path=path: self.opened.emit(path))
        self._lay_out()
        self._allow(bool(settings.value(READ, False, bool)))
        self._waiting = list(zip(self.recent, recent, strict=False))
        QTimer.singleShot(0, self, self._paint_next)

    def ways(self) -> tuple[QPushButton, ...]:
        """Return every way to begin."""
        return (self.new_boat, self.cutter, self.open, *self.recent, self.empty)

    def _lay_out(self) -> None:
        sheet = ChartSheet(self._palette)
        inside = QHBoxLayout(sheet)
        inside.setContentsMargins(48, 40, 48, 40)
        inside.setSpacing(40)
        inside.addLayout(self._cautions(), 2)
        line = QFrame()
        line.setObjectName("chartLine")
        line.setFixedWidth(1)
        inside.addWidget(line)
        inside.addLayout(self._right(), 3)
        whole = QHBoxLayout(self)
        whole.addWidget(sheet, 1)

    def _cautions(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(12)
        title = QLabel(_("Cautions"))
        title.setObjectName("cautionTitle")
        column.addWidget(title)
        for sentence in CAUTIONS:
            words = QLabel(_(sentence))
            words.setObjectName("caution")
            words.setWordWrap(True)
            column.addWidget(words)
        column.addSpacing(6)
        column.addWidget(self.read, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.hint)
        column.addStretch(1)
        return column

    def _right(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setSpacing(8)
        head = QHBoxLayout()
        head.setSpacing(14)
        rose = QLabel()
        rose.setPixmap(rose_picture(56, self._palette))
        name = QLabel("LOOMWRIGHT")
        name.setObjectName("chartName")
        words = QLabel(f"{_(TAGLINE)}. {_(PURPOSE)}")
        words.setObjectName("plainWord")
        words.setWordWrap(True)
        titles = QVBoxLayout()
        titles.setSpacing(0)
        titles.addStretch(1)
        titles.addWidget(name)
        titles.addWidget(words)
        titles.addStretch(1)
        head.addWidget(rose)
        head.addLayout(titles, 1)
        column.addLayout(head)
        column.addSpacing(10)
        for way in (self.new_boat, self.cutter, self.open):
            column.addWidget(way)
        if self.recent:
            title = QLabel(_("Recent"))
            title.setObjectName("sectionName")
            column.addSpacing(4)
            column.addWidget(title)
        for way in self.recent:
            column.addWidget(way)
        column.addStretch(1)
        foot = QHBoxLayout()
        foot.addWidget(self.back)
        foot.addStretch(1)
        foot.addWidget(self.empty)
        column.addLayout(foot)
        return column

    def _confirm(self) -> None:
        self._settings.setValue(READ, True)
        self._allow(True)
        self.new_boat.setFocus(Qt.FocusReason.TabFocusReason)

    def _allow(self, is_read: bool) -> None:
        self.read.setVisible(not is_read)
        self.hint.setVisible(not is_read)
        for way in self.ways():
            way.setEnabled(is_read)
        self.new_boat.setProperty("primary", is_read)
        self.new_boat.style().polish(self.new_boat)
        for label in self.new_boat.findChildren(QLabel):
            label.style().polish(label)

    def take_focus(self) -> None:
        """Go to what is to be done first."""
        first = self.new_boat if self.new_boat.isEnabled() else self.read
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _paint_next(self) -> None:
        """Paint the picture of one recent file, then the next: none makes the page wait."""
        if not self._waiting:
            return
        way, path = self._waiting.pop(0)
        picture = picture_of(path, self._palette)
        if picture is not None:
            way.picture.setPixmap(picture)
        QTimer.singleShot(0, self, self._paint_next)


def picture_of(path: Path, palette: Palette) -> QPixmap | None:
    """Return a small picture of a file's sheet; None when it cannot be read."""
    from app.drawing.frame import border_marks, sheet_size_mm
    from app.drawing.laid_out import laid_out
    from app.drawing.painters.qt import picture
    from app.drawing.sheet import sheet_drawing
    from model.errors import ModelError
    from model.storage import load

    try:
        diagram = laid_out(load(path))
    except ModelError:
        return None
    size_mm = sheet_size_mm(diagram.sheet.size)
    marks = (*border_marks(diagram.sheet.size), *sheet_drawing(diagram).marks())
    dots_per_mm = 2 * PICTURE_PX.width() / size_mm[0]
    made = QPixmap.fromImage(picture(marks, size_mm, dots_per_mm, palette))
    made.setDevicePixelRatio(2.0)
    return made


