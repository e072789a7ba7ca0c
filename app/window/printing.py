"""The print page: which sheets, on what paper, in colour or grey, seen before they are written."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.drawing.painters.pdf import Page
from app.drawing.painters.qt import Prepared, paint, prepared
from app.drawing.theme import NIGHTS, Palette, colour
from app.pack.book import SHEETS, pack_pages
from app.words import N_, _
from model.diagram import Diagram

PAPERS = ("A4", "A3", "A2", "Letter", "Tabloid")
SHEET_WORDS = {
    "diagram": N_("Diagram and legend"),
    "conductors": N_("Conductor schedule"),
    "protection": N_("Protection schedule"),
    "isolation": N_("Isolation card: what stays live"),
    "alternating": N_("AC side"),
    "lithium": N_("Lithium bank"),
    "findings": N_("Findings and accepted compromises"),
    "walk": N_("Walk list: what to trace and measure"),
    "looking": N_("What to look at aboard"),
    "checks": N_("What the checks say"),
}
MARGIN_PX = 16
RENEW_MS = 30


class PageView(QWidget):
    """One page of the pack as it will be on paper, as large as fits."""

    def __init__(self, turned: Callable[[int], None]) -> None:
        super().__init__()
        self.setMinimumSize(420, 420)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(_("The page as it will be printed"))
        self._turned = turned
        self._page: Page | None = None
        self._strokes: Prepared = []
        self._palette: Palette = "day"
        self._around: Palette = "day"

    def show_page(self, page: Page | None, palette: Palette, around: Palette = "day") -> None:
        """Show a page, or nothing, on a ground in the window's palette."""
        self._page, self._palette, self._around = page, palette, around
        self._strokes = prepared(page.marks) if page is not None else []
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the paper in the middle with the page's marks on it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(colour("desk", self._around)))
        if self._page is not None:
            width, height = self._page.size_mm
            room = self.rect().adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
            scale = min(room.width() / width, room.height() / height)
            painter.translate(room.center().x() + 0.5 - width * scale / 2,
                              room.center().y() + 0.5 - height * scale / 2)
            painter.scale(scale, scale)
            painter.fillRect(QRectF(0, 0, width, height), QColor(colour("paper", self._palette)))
            paint(painter, self._strokes, self._palette)
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn pages by the keys that do so everywhere."""
        steps = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_Right: 1, Qt.Key.Key_PageUp: -1,
                 Qt.Key.Key_Left: -1}
        step = steps.get(Qt.Key(event.key()))
        if step is None:
            super().keyPressEvent(event)
        else:
            self._turned(step)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn pages by the wheel."""
        if event.angleDelta().y():
            self._turned(-1 if event.angleDelta().y() > 0 else 1)


class PrintPage(QDialog):
    """Chooses sheets, paper and colour; `to_file` writes the PDF, `to_printer` prints."""

    def __init__(self, diagram: Diagram, parent: QWidget | None = None,
                 window_palette: Palette = "day") -> None:
        super().__init__(parent)
        self._window_palette = window_palette
        self.setWindowTitle(_("Print the pack"))
        self.resize(1060, 720)
        self._diagram = diagram
        self.pages: list[Page] = []
        self._number = 0
        self.wants = ""
        self.boxes = {name: QCheckBox(_(SHEET_WORDS[name])) for name in SHEETS}
        self.paper = QComboBox()
        self.paper.setAccessibleName(_("Paper"))
        self.paper.addItems(list(PAPERS))
        self.paper.setCurrentText(diagram.sheet.size)
        self.grey = QCheckBox(_("Black, white and grey"))
        self.view = PageView(self.turn)
        self.words = QLabel()
        self.words.setObjectName("plainWord")
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(RENEW_MS)
        self._soon.timeout.connect(self._renew)
        self._lay_out()
        for box in self.boxes.values():
            box.setChecked(True)
            box.toggled.connect(lambda _on: self._soon.start())
        self.paper.currentTextChanged.connect(lambda _text: self._soon.start())
        self.grey.toggled.connect(lambda _on: self._show())
        self._renew()

    @property
    def sheets(self) -> tuple[str, ...]:
        """Return the chosen sheets in the pack's order."""
        return tuple(name for name, box in self.boxes.items() if box.isChecked())

    @property
    def palette_name(self) -> Palette:
        """Return the palette of the paper."""
        return "grey" if self.grey.isChecked() else "day"

    def turn(self, step: int) -> None:
        """Show a page further on or back."""
        self._number = min(max(self._number + step, 0), max(len(self.pages) - 1, 0))
        self._show()

    def _lay_out(self) -> None:
        choices = QVBoxLayout()
        choices.setSpacing(8)
        name = QLabel(_("Sheets"))
        name.setObjectName("sectionName")
        choices.addWidget(name)
        for box in self.boxes.values():
            choices.addWidget(box)
        form = QFormLayout()
        form.addRow(_("Paper"), self.paper)
        choices.addSpacing(10)
        choices.addLayout(form)
        choices.addWidget(self.grey)
        choices.addStretch(1)
        self.writing = QPushButton(_("Write the PDF…"))
        self.writing.setDefault(True)
        self.sending = QPushButton(_("Send to a printer…"))
        closing = QPushButton(_("Close"))
        self.writing.clicked.connect(lambda: self._want("file"))
        self.sending.clicked.connect(lambda: self._want("printer"))
        closing.clicked.connect(self.reject)
        for button in (self.writing, self.sending, closing):
            choices.addWidget(button)
        right = QVBoxLayout()
        right.addWidget(self.view, 1)
        right.addLayout(self._turning())
        whole = QHBoxLayout(self)
        whole.addLayout(choices)
        whole.addSpacing(8)
        whole.addLayout(right, 1)

    def _turning(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.addStretch(1)
        for text, said, step in (("‹", _("Page before"), -1), ("›", _("Next page"), 1)):
            button = QToolButton()
            button.setText(text)
            button.setAccessibleName(said)
            button.setToolTip(said)
            button.setMinimumSize(QSize(30, 28))
            button.setObjectName("choosing")
            button.clicked.connect(lambda _=False, step=step: self.turn(step))
            row.addWidget(button)
            if step < 0:
                row.addWidget(self.words)
        row.addStretch(1)
        return row

    def _want(self, where: str) -> None:
        self.wants = where
        self.accept()

    def _renew(self) -> None:
        """Make the pages anew and stay near the one that was shown."""
        self.pages = (pack_pages(self._diagram, self.paper.currentText(), self.sheets)
                      if self.sheets else [])
        self.turn(0)

    def _show(self) -> None:
        page = self.pages[self._number] if self.pages else None
        is_night = self._window_palette in NIGHTS  # a white page would end the night sight
        self.view.show_page(page, self._window_palette if is_night else self.palette_name,
                            self._window_palette)
        self.words.setText(
            _("page {number} of {count}: {title}").format(
                number=self._number + 1, count=len(self.pages), title=page.bookmark)
            + (_(", shown in night colours") if is_night else "") if page is not None
            else _("No sheet is chosen."))
        for button in (self.writing, self.sending):
            button.setEnabled(page is not None)


def send_to_printer(pages: list[Page], palette: Palette, title: str, parent: QWidget) -> bool:
    """Ask for a printer and print the pages at their own size; return whether it was done."""
    from PySide6.QtCore import QSizeF
    from PySide6.QtGui import QPageLayout, QPageSize
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setFullPage(True)
    if not QPrintDialog(printer, parent).exec():
        return False
    painter = QPainter()
    for number, page in enumerate(pages):
        width, height = page.size_mm
        lies = width > height
        size = QPageSize(QSizeF(min(width, height), max(width, height)),
                         QPageSize.Unit.Millimeter)
        printer.setPageSize(size)
        printer.setPageOrientation(QPageLayout.Orientation.Landscape if lies
                                   else QPageLayout.Orientation.Portrait)
        if not (painter.begin(printer) if number == 0 else printer.newPage()):
            return False
        painter.resetTransform()
        dots_per_mm = printer.resolution() / 25.4
        painter.scale(dots_per_mm, dots_per_mm)
        paint(painter, prepared(page.marks), palette)
    painter.end()
    return True
