"""The good and the bad picture of a check, as marks: small boats that are shipped with Help."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

import assets
from app.drawing.badges import Badge
from app.drawing.laid_out import laid_out
from app.drawing.marks import Box, Mark, bounds, moved
from app.drawing.sheet import SheetLook, sheet_drawing
from app.words import _
from model.diagram import Diagram
from model.edits import apply
from model.storage import load
from rules.engine import check, fixes_of
from rules.rule import BookRule

FOLDER = Path(assets.__file__).parent / "help" / "pictures"
MARGIN_MM = 6.0


class HelpPicture(Struct, frozen=True):
    """A picture: what it shows, what is said of it, its marks and its size. [mm]."""

    words: str
    told: str
    marks: tuple[Mark, ...]
    size_mm: tuple[float, float]


def help_pictures(rule: BookRule) -> tuple[HelpPicture, ...]:
    """Return the picture on which a check speaks and the one on which it is quiet, if shipped.

    The first tells what the check says; the second which change that the program offers leads
    there, if one does.
    """
    paths = [FOLDER / f"{rule.record.slug}-{which}.loom" for which in ("wrong", "right")]
    if not all(path.is_file() for path in paths):
        return ()
    wrong, right = map(load, paths)
    report = check(wrong, rules=(rule,))
    assert report is not None
    finding = report.findings[0]
    titles = (fix.title for fix in fixes_of(finding, wrong) if apply(wrong, fix.edit) == right)
    badges = {finding.where[0].partition(".")[0]: [Badge(finding.severity, 0)]}
    return (_drawn(wrong, _("It speaks"), finding.message, badges),
            _drawn(right, _("It is quiet"), next(titles, ""), {}))


def _drawn(
    diagram: Diagram, words: str, told: str, badges: dict[str, list[Badge]]
) -> HelpPicture:
    drawing = sheet_drawing(laid_out(diagram), SheetLook(badges=badges))
    marks = drawing.marks()
    box = bounds(marks) or Box(0, 0, 1, 1)
    for label in drawing.labels.values():
        for text in label.boxes():
            box = box.joined(text)
    box = box.grown(MARGIN_MM)
    return HelpPicture(words, told, tuple(moved(mark, -box.x0, -box.y0) for mark in marks),
                       (box.w, box.h))
