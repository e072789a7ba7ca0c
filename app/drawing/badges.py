"""Notice badges: shape says severity, the figure inside is the notice's number on this sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from app.drawing.marks import Box, Circle, Mark, Path, Rect, Text, centred

MOST_SHOWN = 3
PITCH_MM = 7.2
DOT_PITCH_MM = 1.05
LETTER_GAP_MM = 0.4


class Badge(Struct, frozen=True):
    """One badge: its severity, "cannot_tell" or "accepted", and its number (0: none)."""

    severity: str
    number: int


def badge_places(box: Box, count: int) -> list[Box]:
    """Return the ground of a row of badges at each corner, lower right first, then at the sides."""
    width = 6.6 + PITCH_MM * (min(count, MOST_SHOWN) - 1) + (4.0 if count > MOST_SHOWN else 0.0)
    left, right = box.x0 - 3.2 - width + 3.3, box.x1 + 3.2 - 3.3
    low, high = box.y1 + 1.8 - 3.3, box.y0 - 1.8 - 3.3
    middle = (box.y0 + box.y1) / 2 - 3.3
    return [Box(x, y, x + width, y + 6.6)
            for x, y in ((right, low), (right, high), (left, low), (left, high),
                         (box.x1 + 0.6, middle), (box.x0 - 0.6 - width, middle))]


def badge_marks(badges: Sequence[Badge], place: Box) -> list[Mark]:
    """Return the badges in a row on their ground, worst first, at most three and "+n"."""
    marks: list[Mark] = []
    x, y = place.x0 + 3.3, place.y0 + 3.3
    for badge in badges[:MOST_SHOWN]:
        marks += _badge(badge, x, y)
        x += PITCH_MM
    if len(badges) > MOST_SHOWN:
        marks.append(Text(x - 3.0, y + 0.9, f"+{len(badges) - MOST_SHOWN}", 2.5, "magenta", "bold"))
    return marks


def _badge(badge: Badge, x: float, y: float) -> list[Mark]:
    number = str(badge.number) if badge.number else ""
    if badge.severity == "danger":
        lozenge = ((x, y - 3.3), (x + 3.3, y), (x, y + 3.3), (x - 3.3, y))
        return [Path(lozenge, "paper", 1.2, closed=True, fill="magenta"),
                Path(lozenge, "magenta", 0.2, closed=True, fill="magenta"),
                centred(x, y, number or "!", 2.6, "white")]
    if badge.severity == "fault":
        triangle = ((x, y - 3.0), (x + 3.3, y + 2.6), (x - 3.3, y + 2.6))
        return [Path(triangle, "paper", 1.4, closed=True, fill="paper"),
                Path(triangle, "magenta", 0.45, closed=True, fill="body"),
                centred(x, y + 1.0, number or "!", 2.2, "magenta")]
    if badge.severity == "cannot_tell":
        return [Rect(x - 2.5, y - 2.5, 5, 5, 0, "paper", 1.2, "paper"),
                Rect(x - 2.5, y - 2.5, 5, 5, 0, "magenta", 0.4, "body", (1.0, 0.7)),
                centred(x, y, "?", 2.6, "magenta")]
    if badge.severity == "note":  # stands in lists alone, and is no caution: it has no ring
        return [centred(x, y, number or "i", 2.6, "magenta")]
    marks: list[Mark] = [Circle(x, y, 2.6, "paper", 1.2, "paper"),
                         Circle(x, y, 2.6, "magenta", 0.4, "body")]
    if badge.severity == "accepted":
        tick = ((x - 1.2, y + 0.1), (x - 0.3, y + 1.1), (x + 1.4, y - 1.1))
        return [*marks, Path(tick, "magenta", 0.4)]
    return [*marks, centred(x, y, number, 2.3, "magenta")]


def danger_line(box: Box, lettering: Iterable[Box] = ()) -> list[Mark]:
    """Return the ring of dots, two millimetres outside a body, with gaps where letters stand."""
    near = box.grown(3.0)
    kept_free = [letters.grown(LETTER_GAP_MM) for letters in lettering if letters.meets(near)]
    return [dot for dot in _ring(box)
            if not any(letters.holds(dot.x, dot.y) for letters in kept_free)]


def _ring(box: Box) -> list[Circle]:
    outside = box.grown(2.0)
    corner = min(2.5, outside.w / 2, outside.h / 2)
    marks: list[Circle] = []
    for (x0, y0), (x1, y1) in (
        ((outside.x0 + corner, outside.y0), (outside.x1 - corner, outside.y0)),
        ((outside.x1, outside.y0 + corner), (outside.x1, outside.y1 - corner)),
        ((outside.x1 - corner, outside.y1), (outside.x0 + corner, outside.y1)),
        ((outside.x0, outside.y1 - corner), (outside.x0, outside.y0 + corner)),
    ):
        steps = max(1, round((abs(x1 - x0) + abs(y1 - y0)) / DOT_PITCH_MM))
        for i in range(steps + 1):
            part = i / steps
            marks.append(Circle(x0 + (x1 - x0) * part, y0 + (y1 - y0) * part, 0.27, None, 0,
                                "magenta"))
    marks += [Circle(x, y, 0.27, None, 0, "magenta") for x, y in _corner_dots(outside, corner)]
    return marks


def _corner_dots(box: Box, r: float) -> list[tuple[float, float]]:
    k = r * (1 - 0.7071)
    return [(x, y) for x in (box.x0 + k, box.x1 - k) for y in (box.y0 + k, box.y1 - k)]


def legend_badges(x: float, y: float) -> list[Mark]:
    """Return the four shapes with their words, for the legend."""
    marks: list[Mark] = []
    for number, (severity, word) in enumerate(
        (("danger", "danger"), ("fault", "fault"), ("caution", "caution"),
         ("cannot_tell", "cannot tell"))
    ):
        row = y + number * 7.0
        marks += _badge(Badge(severity, 0), x, row)
        marks.append(Text(x + 5.5, row + 0.9, word, 2.4))
    return marks


