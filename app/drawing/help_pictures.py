"""The good and the bad picture of a check, as marks: small boats that are shipped with Help."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

import assets
from app.drawing.badges import Badge
from app.drawing.laid_out import laid_out
from app.drawing.marks import Box, Mark, bounds, moved
from app.drawing.sheet import SheetLook, sheet_drawing
from model.storage import load
from rules.engine import check
from rules.rule import BookRule

FOLDER = Path(assets.__file__).parent / "help" / "pictures"
MARGIN_MM = 6.0


class HelpPicture(Struct, frozen=True):
    """A picture: what it shows, its marks and its size. [mm]."""

    words: str
    marks: tuple[Mark, ...]
    size_mm: tuple[float, float]


def help_pictures(rule: BookRule) -> tuple[HelpPicture, ...]:
    """Return the picture on which a check speaks and the one on which it is quiet, if shipped."""
    found = []
    for which, words in (("wrong", "It speaks"), ("right", "It is quiet")):
        path = FOLDER / f"{rule.record.slug}-{which}.loom"
        if not path.is_file():
            return ()
        found.append(_drawn(path, words, rule if which == "wrong" else None))
    return tuple(found)


def _drawn(path: Path, words: str, rule: BookRule | None) -> HelpPicture:
    diagram = laid_out(load(path))
    badges: dict[str, list[Badge]] = {}
    if rule is not None:
        report = check(diagram, rules=(rule,))
        for finding in report.findings[:1] if report is not None else ():
            badges[finding.where[0].partition(".")[0]] = [Badge(finding.severity, 0)]
    drawing = sheet_drawing(diagram, SheetLook(badges=badges))
    marks = drawing.marks()
    box = bounds(marks) or Box(0, 0, 1, 1)
    for label in drawing.labels.values():
        for text in label.boxes():
            box = box.joined(text)
    box = box.grown(MARGIN_MM)
    return HelpPicture(words, tuple(moved(mark, -box.x0, -box.y0) for mark in marks),
                       (box.w, box.h))
