"""The log line at the bottom: where on the sheet, what the tool expects, counts, zoom, file."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from app.panels.lettering import Elided
from app.words import _

MODE_PX, FILE_PX = 300, 260  # of a mode's and a file's name, before it ends in dots


class LogLine(QWidget):
    """The line at the bottom: place on the sheet, what the tool expects, counts, zoom, state."""

    zoom_in = Signal()
    zoom_out = Signal()
    fit = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("log")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(28)
        self.place, self.words, self.counts = QLabel(), Elided(), QLabel()
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.scale, self.saved = QLabel(), Elided(mode=Qt.TextElideMode.ElideMiddle)
        self.saved.setMaximumWidth(FILE_PX)
        self.mode = Elided()
        self.mode.setMaximumWidth(MODE_PX)
        self.mode.setObjectName("logMode")
        self.mode.setAccessibleName(_("Mode of the window"))
        self.words.setAccessibleName(_("What the program says"))
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 12, 0)
        row.setSpacing(14)
        self.place.setMinimumWidth(140)
        row.addWidget(self.place)
        row.addWidget(self.mode)
        row.addWidget(self.words, 1)
        row.addWidget(self.counts)
        for text, name, signal in (("−", _("Zoom out"), self.zoom_out),
                                   ("+", _("Zoom in"), self.zoom_in),
                                   (_("Fit"), _("Fit the sheet"), self.fit)):
            button = QToolButton()
            button.setText(text)
            button.setAccessibleName(name)
            button.setToolTip(name)
            button.clicked.connect(signal)
            row.addWidget(button)
        row.addWidget(self.scale)
        row.addWidget(self.saved)
