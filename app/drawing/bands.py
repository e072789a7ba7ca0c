"""Operate: what is live lies in a band, what is live unexpectedly is hatched, what is dead is thin.

The kind of source is told by the band's pattern and by a letter in a ring, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from app.drawing.marks import (
    Arc,
    Circle,
    Mark,
    Path,
    Point,
    Rect,
    Text,
    centred,
    flat,
    line,
)
from app.drawing.routing import legs

BAND_MM = 2.4
RING_R_MM = 1.9
RING_FROM_MM = 9.0
RING_CLEAR_MM = 5.0  # of a leg stays free of rings, so that its band and its ends are seen
# Weakest first: of several sources the strongest gives the band.
STRENGTH = "NPWASEH"
_DEAD_ROLES = {"ink2": "dead_text", "paper": "paper", "body": "body"}


class LiveLook(Struct, frozen=True):
    """What an item is shown as: the letters of its sources, and whether that is unexpected."""

    letters: str = ""
    unexpected: bool = False


def strongest(letters: Iterable[str]) -> str:
    """Return the letter of the strongest source."""
    return max(letters, key=STRENGTH.find)


def band_marks(
    path: Sequence[Point], look: LiveLook, width_mm: float = BAND_MM
) -> tuple[Mark, ...]:
    """Return the band under a conductor, or a wider one under a busbar."""
    if not look.letters:
        return ()
    half = width_mm / 2
    if look.unexpected:
        marks: list[Mark] = [Path(tuple(path), "magenta_tint", width_mm + 0.2)]
        marks += list(_ticks(path, 1.8, half, 0.25, "magenta", slant=True))
    else:
        letter = strongest(look.letters)
        marks = [Path(tuple(path), f"band_{letter}", width_mm), *_pattern(path, letter, half)]
    return tuple(marks)


def _pattern(path: Sequence[Point], letter: str, half: float) -> Iterator[Mark]:
    """Yield what tells the kind of source without colour."""
    if letter == "E":
        yield from _ticks(path, 3.0, half, 0.25, "ink2")
    elif letter == "W":
        yield from _ticks(path, 3.0, half, 0.25, "ink2", slant=True)
    elif letter == "P":
        yield from _edge_dots(path, half)
    elif letter in "ASN":
        dash = {"A": (), "S": (4.0, 1.5), "N": (1.5, 1.5)}[letter]
        yield from _edges(path, half, dash)


def _along(path: Sequence[Point], every_mm: float) -> Iterator[tuple[float, float, bool]]:
    """Yield points along the legs, and whether the leg is level."""
    for a, b in legs(path):
        level = abs(a[1] - b[1]) < 1e-6
        length = abs(a[0] - b[0]) + abs(a[1] - b[1])
        count = int(length // every_mm)
        for i in range(count):
            part = (i + 0.5) * every_mm / length
            yield a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part, level


def _ticks(
    path: Sequence[Point], every_mm: float, half: float, width: float, role: str,
    slant: bool = False,
) -> Iterator[Mark]:
    for x, y, level in _along(path, every_mm):
        lean = half if slant else 0.0
        if level:
            yield line(x - lean, y + half, x + lean, y - half, width, role)
        else:
            yield line(x - half, y + lean, x + half, y - lean, width, role)


def _edge_dots(path: Sequence[Point], half: float) -> Iterator[Mark]:
    for x, y, level in _along(path, 2.0):
        for side in (-half, half):
            dx, dy = (0.0, side) if level else (side, 0.0)
            yield Circle(x + dx, y + dy, 0.28, None, 0, "ink2")


def _edges(path: Sequence[Point], half: float, dash: tuple[float, ...]) -> Iterator[Mark]:
    for a, b in legs(path):
        level = abs(a[1] - b[1]) < 1e-6
        for side in (-half, half):
            dx, dy = (0.0, side) if level else (side, 0.0)
            yield line(a[0] + dx, a[1] + dy, b[0] + dx, b[1] + dy, 0.3, "ink2", dash)


def ring_marks(path: Sequence[Point], look: LiveLook) -> list[Mark]:
    """Return the letters in rings, side by side, on the middle of the longest leg."""
    if not look.letters:
        return []
    a, b = max(legs(path), key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
    length = abs(a[0] - b[0]) + abs(a[1] - b[1])
    if length < RING_FROM_MM:
        return []
    letters = sorted(set(look.letters), key=lambda c: -STRENGTH.find(c))
    letters = letters[: max(1, int((length - RING_CLEAR_MM) // (2 * RING_R_MM + 0.4)))]
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    level = abs(a[1] - b[1]) < 1e-6
    marks: list[Mark] = []
    for number, letter in enumerate(letters):
        shift = (number - (len(letters) - 1) / 2) * (2 * RING_R_MM + 0.4)
        at = (x + shift, y) if level else (x, y + shift)
        role = "magenta" if look.unexpected else "ink"
        marks.append(Circle(*at, RING_R_MM, role, 0.35, "body"))
        marks.append(centred(*at, letter, 2.3, role))
    return marks


def dead_marks(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """Return the marks in the roles of what is dead."""
    return tuple(_dead(mark) for mark in flat(marks))


def _dead(mark: Mark) -> Mark:
    if isinstance(mark, Text):
        return replace(mark, role="dead_text")
    if isinstance(mark, Path | Circle | Rect):
        role = None if mark.role is None else _DEAD_ROLES.get(mark.role, "dead")
        fill = None if mark.fill is None else _DEAD_ROLES.get(mark.fill, "dead")
        return replace(mark, role=role, fill=fill)
    return replace(mark, role="dead") if isinstance(mark, Arc) else mark
