"""The shipped faces and how wide their lettering is, as data, alike on screen and on paper.

`python -m app.drawing.painters.font_widths` reads the widths from the font files again.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path

import assets
from app.drawing.marks import CAP_HEIGHT, DESCENT, Box, Face, Text

# By path: importlib.resources would cost a start ten milliseconds.
FOLDER = Path(assets.__file__).parent / "fonts"
FACE_FILES: Mapping[Face, str] = {
    "book": "DejaVuSansCondensed.ttf",
    "bold": "DejaVuSansCondensed-Bold.ttf",
    "oblique": "DejaVuSansCondensed-Oblique.ttf",
    "bold_oblique": "DejaVuSansCondensed-BoldOblique.ttf",
    "title": "DejaVuSans-Bold.ttf",
}


def font_path(face: Face) -> Path:
    """Return the file of a face."""
    return FOLDER / FACE_FILES[face]


@cache
def _widths() -> Mapping[str, Mapping[str, float]]:
    text = (FOLDER / "widths.json").read_text("utf-8")
    widths: Mapping[str, Mapping[str, float]] = json.loads(text)
    return widths


def width_em(character: str, face: Face) -> float:
    """Return how wide one letter is, in the size of its lettering."""
    widths = _widths()[face]
    return widths.get(character, widths["m"]) / 1000


@lru_cache(maxsize=8192)
def text_width_mm(text: str, size_mm: float, face: Face = "book", spacing_mm: float = 0.0) -> float:
    """Return how wide a line of lettering is. [mm]."""
    widths = _widths()[face]
    missing = widths["m"]
    return sum(widths.get(c, missing) for c in text) * size_mm / 1000 + spacing_mm * len(text)


def text_box(text: Text) -> Box:
    """Return the box that the capitals and descenders of a line of lettering take up."""
    width = text_width_mm(text.text, text.size_mm, text.face, text.spacing_mm)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[text.anchor]
    above, below = -CAP_HEIGHT * text.size_mm, DESCENT * text.size_mm
    if text.upward:
        return Box(text.x + above, text.y - left - width, text.x + below, text.y - left)
    return Box(text.x + left, text.y + above, text.x + left + width, text.y + below)


def shortened(text: str, width_mm: float, size_mm: float, face: Face = "book") -> str:
    """Return the text, its end given up for dots where it is wider than it may be."""
    if text_width_mm(text, size_mm, face) <= width_mm:
        return text
    while text and text_width_mm(text + "…", size_mm, face) > width_mm:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, width_mm: float, size_mm: float, face: Face = "book") -> list[str]:
    """Return the text broken at spaces into lines that fit the width where words allow."""
    lines: list[str] = []
    current = ""
    for word in text.split():
        longer = f"{current} {word}" if current else word
        if current and text_width_mm(longer, size_mm, face) > width_mm:
            lines.append(current)
            current = word
        else:
            current = longer
    return [*lines, current] if current else lines
