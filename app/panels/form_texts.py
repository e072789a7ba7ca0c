"""The texts of a form: its title, plain lines, and the names of its sections."""

from __future__ import annotations

import re

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.drawing.symbols import symbol
from app.drawing.theme import Palette, colour
from app.panels.heading import GraduatedRule
from app.panels.lettering import scaled
from app.panels.locker import picture_of
from model.diagram import Component

ZERO_WIDTH_SPACE = "\u200b"
LONG_WORD = re.compile(r"\S{17,}")
PART = re.compile(r"(?:\w[-._/]|\w{16})(?=\w)")
TITLE_PX = 112  # of a field's title, before its editor
WIDTH_PX = 324
MOST_WIDENED = 1.25  # however large the lettering, for the sheet needs the room too


class FormColumn(QWidget):
    """What a form stands in: as wide as its panel, whatever a name or a choice would ask for."""

    def minimumSizeHint(self) -> QSize:
        """Return that no width is asked for."""
        return QSize(0, super().minimumSizeHint().height())


def titled(column: QVBoxLayout, big: str, second: str, third: str) -> None:
    """Add the name of what a form shows, and up to two lines about it."""
    name = QLabel(parted(big))
    name.setObjectName("designation")
    name.setWordWrap(True)
    column.addWidget(name)
    for text, object_name in ((second, ""), (third, "plainWord")):
        if text:
            label = QLabel(parted(text))
            label.setObjectName(object_name)
            label.setWordWrap(True)
            column.addWidget(label)


def parted(text: str) -> str:
    """Return a text of which long words may be parted: at dots and dashes, or anywhere."""
    return LONG_WORD.sub(lambda word: PART.sub(rf"\g<0>{ZERO_WIDTH_SPACE}", word[0]), text)


def form_width() -> int:
    """Return how wide the panel of forms is. [px]"""
    return scaled(WIDTH_PX, MOST_WIDENED)


def wrapped(text: str) -> QLabel:
    """Return a text in as many lines as it takes."""
    label = QLabel(parted(text))
    label.setWordWrap(True)
    return label


def links(text: str, palette: Palette) -> QLabel:
    """Return a rich text whose links are in a palette's colours and can be gone to by Tab."""
    style = f"color: {colour('selection', palette)}"
    label = QLabel(text.replace("<a ", f'<a style="{style}" '))
    label.setTextFormat(Qt.TextFormat.RichText)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.LinksAccessibleByMouse
                                  | Qt.TextInteractionFlag.LinksAccessibleByKeyboard)
    return label


def part_picture(component: Component, palette: Palette) -> QLabel:
    """Return a part's symbol as it is, with its class of fuse or its number of outputs."""
    picture = QLabel()
    drawn = symbol(component.kind, component.parameters, {})
    picture.setPixmap(picture_of(drawn, 58, 66, palette))
    picture.setFixedSize(62, 76)
    picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
    return picture


def plain(text: str) -> QLabel:
    """Return a line of plain words."""
    label = QLabel(parted(text))
    label.setObjectName("plainWord")
    label.setWordWrap(True)
    return label


def beside_field(text: str) -> QLabel:
    """Return a line about the field above it, under its editor."""
    label = plain(text)
    label.setContentsMargins(scaled(TITLE_PX, MOST_WIDENED) + 8, 0, 0, 4)
    return label


def section(column: QVBoxLayout, title: str) -> None:
    """Begin a section under a rule and its name."""
    column.addSpacing(6)
    column.addWidget(GraduatedRule())
    label = QLabel(parted(title))
    label.setObjectName("sectionName")
    label.setWordWrap(True)
    column.addWidget(label)
