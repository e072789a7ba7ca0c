"""The texts of a form: its title, plain lines, and the names of its sections."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QVBoxLayout

from app.drawing.symbols import symbol
from app.drawing.theme import Palette
from app.panels.heading import GraduatedRule
from app.panels.locker import picture_of
from model.diagram import Component

TITLE_PX = 112  # of a field's title, before its editor


def titled(column: QVBoxLayout, big: str, second: str, third: str) -> None:
    """Add the name of what a form shows, and up to two lines about it."""
    name = QLabel(big)
    name.setObjectName("designation")
    name.setWordWrap(True)
    column.addWidget(name)
    for text, object_name in ((second, ""), (third, "plainWord")):
        if text:
            label = QLabel(text)
            label.setObjectName(object_name)
            label.setWordWrap(True)
            column.addWidget(label)


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
    label = QLabel(text)
    label.setObjectName("plainWord")
    label.setWordWrap(True)
    return label


def beside_field(text: str) -> QLabel:
    """Return a line about the field above it, under its editor."""
    label = plain(text)
    label.setContentsMargins(TITLE_PX + 8, 0, 0, 4)
    return label


def section(column: QVBoxLayout, title: str) -> None:
    """Begin a section under a rule and its name."""
    column.addSpacing(6)
    column.addWidget(GraduatedRule())
    label = QLabel(title)
    label.setObjectName("sectionName")
    label.setWordWrap(True)
    column.addWidget(label)
