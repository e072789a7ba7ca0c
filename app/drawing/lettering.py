"""Lettering in lines: what a part or a conductor says, how wide it is, how it is laid at a spot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from app.drawing.fonts import text_width_mm, wrapped
from app.drawing.ground import Sides
from app.drawing.marks import CAP_HEIGHT, DESCENT, Text
from app.drawing.placing import PlacedPart
from app.drawing.wording import designation, length_text, parallel_text, rating, size_text
from model.diagram import Conductor

DESIGNATION_MM, RATING_MM, NAME_MM = 2.8, 2.5, 2.4
PITCH_MM = 3.2
GAP_MM = 1.0  # between the words of one row
NAME_WIDTH_MM, SLIM_NAME_MM = 26.0, 16.0

Block = tuple[tuple[Text, ...], ...]
Align = Literal["left", "right", "middle", "upward"]
CLEAR_MM = 0.3  # round lettering
_BACK = {"left": 0.0, "middle": 0.5, "right": 1.0}  # how much of its width lies before its x


class Wording(Struct, frozen=True):
    """Lines of lettering, measured: how wide each is, and how far it reaches up and down. [mm]."""

    block: Block
    widths: tuple[float, ...]
    above: tuple[float, ...]
    below: tuple[float, ...]


class Spot(Struct, frozen=True):
    """Where lettering may stand: its first baseline at y, aligned at x. Upward, it begins there."""

    wording: Wording
    x: float
    y: float
    align: Align

    def sides(self) -> Iterable[Sides]:
        """Yield the ground each line wants, with some air round it. [mm]."""
        words, x, y = self.wording, self.x, self.y
        if self.align == "upward":
            yield (x - words.above[0] - CLEAR_MM, y - words.widths[0] - CLEAR_MM,
                   x + words.below[0] + CLEAR_MM, y + CLEAR_MM)
            return
        back = _BACK[self.align]
        for width, above, below in zip(words.widths, words.above, words.below, strict=True):
            left = x - back * width
            yield (left - CLEAR_MM, y - above - CLEAR_MM,
                   left + width + CLEAR_MM, y + below + CLEAR_MM)
            y += PITCH_MM

    def texts(self) -> tuple[Text, ...]:
        """Return the lettering."""
        if self.align == "upward":
            return _upward(self.wording.block[0], self.x, self.y)
        return laid(self.wording.block, self.x, self.y, self.align)


def measured(block: Block) -> Wording:
    """Return lettering with its measures."""
    return Wording(
        block, tuple(row_width_mm(row) for row in block),
        tuple(CAP_HEIGHT * max(text.size_mm for text in row) for row in block),
        tuple(DESCENT * max(text.size_mm for text in row) for row in block))


def part_lines(part: PlacedPart) -> Block:
    """Return the lines of a part's lettering: designation and rating, then its name."""
    component = part.component
    rated = rating(component)
    first = [Text(0, 0, designation(component), DESIGNATION_MM, "ink", "bold")]
    if rated:
        first.append(Text(0, 0, rated, RATING_MM, "ink"))
    rows = [tuple(first)]
    return (*rows, *_name_rows(component.name, NAME_WIDTH_MM, 2))


def slim_lines(part: PlacedPart) -> Block:
    """Return the same lettering as narrow as its words allow."""
    return (*narrow(part_lines(part)[:1]), *_name_rows(part.component.name, SLIM_NAME_MM, 3))


def _name_rows(name: str, width_mm: float, most: int) -> Block:
    return tuple((Text(0, 0, text, NAME_MM, "ink2"),)
                 for text in wrapped(name, width_mm, NAME_MM)[:most])


def narrow(block: Block) -> Block:
    """Return the lettering with the rating on a line of its own."""
    return tuple((text,) for row in block for text in row)


def row_width_mm(row: Sequence[Text]) -> float:
    """Return how wide one row of words is. [mm]."""
    return GAP_MM * (len(row) - 1) + sum(text_width_mm(t.text, t.size_mm, t.face) for t in row)


def laid(block: Block, x: float, y: float, align: Align) -> tuple[Text, ...]:
    """Return the lines with the first baseline at y, aligned at x: left, right or middle."""
    texts: list[Text] = []
    for number, row in enumerate(block):
        widths = [text_width_mm(text.text, text.size_mm, text.face) for text in row]
        width = sum(widths) + GAP_MM * (len(row) - 1)
        left = x if align == "left" else x - width if align == "right" else x - width / 2
        for text, own in zip(row, widths, strict=True):
            texts.append(Text(left, y + number * PITCH_MM, text.text, text.size_mm, text.role,
                              text.face))
            left += own + GAP_MM
    return tuple(texts)


def rise_mm(block: Block) -> float:
    """Return how far the last baseline lies under the first. [mm]."""
    return (len(block) - 1) * PITCH_MM


def _upward(row: Sequence[Text], x: float, y: float) -> tuple[Text, ...]:
    texts = []
    for text in row:
        texts.append(replace(text, x=x, y=y, upward=True))
        y -= text_width_mm(text.text, text.size_mm, text.face) + GAP_MM
    return tuple(texts)


def wire_texts(conductor: Conductor, unit: str) -> tuple[str, str, str]:
    """Return designation, size and length as they stand on a conductor's label."""
    size = "" if conductor.purpose in ("control", "sense", "data") and conductor.size is None \
        else parallel_text(conductor) + size_text(conductor.size)
    return designation(conductor), size, length_text(conductor.length_m, unit)
