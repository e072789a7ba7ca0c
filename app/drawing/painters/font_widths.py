"""Reads the widths of the shipped faces from the font files and writes them as data.

Run `python -m app.drawing.painters.font_widths` after a face is changed.
"""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

from reportlab.pdfbase.ttfonts import TTFontFile

from app.drawing.fonts import FACE_FILES, font_path

_RANGES = ((0x20, 0x17F), (0x391, 0x3C9), (0x2010, 0x2044), (0x2070, 0x209C), (0x2190, 0x2193),
           (0x2248, 0x2265), (0x2126, 0x2126), (0x2212, 0x2212))


def widths_text() -> str:
    """Return the advance widths of all faces as JSON. [thousandths of the em]."""
    widths: dict[str, dict[str, float]] = {}
    for face in FACE_FILES:
        found = TTFontFile(str(font_path(face))).charWidths
        codes = (code for low, high in _RANGES for code in range(low, high + 1))
        widths[face] = {chr(code): round(found[code], 1) for code in codes if code in found}
    return json.dumps(widths, ensure_ascii=False)


if __name__ == "__main__":
    target = Path(str(files("assets").joinpath("fonts", "widths.json")))
    target.write_text(widths_text(), encoding="utf-8")
