"""Chosen parts on the clipboard: as parts for this program, as a picture for any other.

The pictures are painted only when somebody asks for them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMetaType, QMimeData
from PySide6.QtGui import QImageWriter

from app.drafting.clipboard import MIME_TYPE, copied
from app.drafting.excerpt import excerpt_marks
from app.drawing.painters.qt import picture
from model.diagram import Diagram

SVG, PNG, TEXT = "image/svg+xml", "image/png", "text/plain"
DOTS_PER_MM = 300 / 25.4
LARGEST_PX = 8_000  # of a side: beyond it other programs refuse a picture
MOST_CHARACTERS = 20_000_000  # a longer text is no piece of a boat


class PartsOnClipboard(QMimeData):
    """A piece of a diagram in every form that can be pasted somewhere."""

    def __init__(self, diagram: Diagram, items: Iterable[str]) -> None:
        super().__init__()
        self._diagram, self._items = diagram, frozenset(items)
        self._forms: dict[str, Callable[[], bytes]] = {
            MIME_TYPE: lambda: self._parts, TEXT: lambda: self._parts,
            SVG: lambda: self._svg, PNG: lambda: self._png}

    def formats(self) -> list[str]:
        """Return every form there is, that of this program first."""
        return list(self._forms)

    def hasFormat(self, mimetype: str) -> bool:
        """Say whether there is such a form."""
        return mimetype in self._forms

    def retrieveData(
        self, mimetype: str, _wanted: QMetaType | QMetaType.Type
    ) -> QByteArray | str | None:
        """Return one form, made when it is first asked for."""
        made = self._forms.get(mimetype)
        if made is None:
            return None
        return made().decode("utf-8") if mimetype == TEXT else QByteArray(made())

    @cached_property
    def _parts(self) -> bytes:
        return copied(self._diagram, self._items).encode("utf-8")

    @cached_property
    def _svg(self) -> bytes:
        from app.drawing.painters.svg import svg_text  # read when a picture is asked for

        marks, size = excerpt_marks(self._diagram, self._items)
        return svg_text(marks, size, self._diagram.boat.name or "Diagram").encode("utf-8")

    @cached_property
    def _png(self) -> bytes:
        marks, size = excerpt_marks(self._diagram, self._items)
        dots = min(DOTS_PER_MM, LARGEST_PX / max(size))
        raw, buffer = QByteArray(), QBuffer()
        buffer.setBuffer(raw)
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        QImageWriter(buffer, QByteArray(b"png")).write(picture(marks, size, dots))
        return bytes(buffer.data().data())


def text_on_clipboard(mime: QMimeData | None) -> str:
    """Return what is on the clipboard as text that may be parts; empty when it cannot be."""
    if mime is None:
        return ""
    if mime.hasFormat(MIME_TYPE):
        raw = bytes(mime.data(MIME_TYPE).data())
        return raw[:MOST_CHARACTERS].decode("utf-8", "replace")
    text = mime.text()
    return text if len(text) <= MOST_CHARACTERS else ""
