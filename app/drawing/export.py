"""The drawing alone, as SVG or PNG."""

from __future__ import annotations

from pathlib import Path

from app.drawing.frame import sheet_size_mm
from app.drawing.laid_out import laid_out
from app.drawing.painters.svg import svg_text
from app.drawing.sheet import framed_marks, sheet_drawing
from app.drawing.theme import Palette
from model.diagram import Diagram
from model.errors import UnwritableFile
from model.storage.save import write_text_atomically


def write_drawing(diagram: Diagram, path: Path, form: str, palette: Palette = "day") -> None:
    """Write the framed drawing; raise UnwritableFile."""
    diagram = laid_out(diagram)
    marks = framed_marks(diagram, sheet_drawing(diagram))
    size = sheet_size_mm(diagram.sheet.size)
    if form == "svg":
        write_text_atomically(path, svg_text(marks, size, diagram.boat.name or "Diagram", palette))
        return
    from app.drawing.painters.qt import write_png

    if not write_png(marks, size, path, palette=palette):
        raise UnwritableFile(str(path), "the picture could not be written")
