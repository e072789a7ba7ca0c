"""Where lettering stands: devices speak to the right, conductors to the left.

Every label looks for free ground: lettering never lies on lettering, on a part or on a line where
there is room elsewhere. What the owner moved by hand stays where it was put.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from app.drawing.conductors import core_stroke_legs, look_of
from app.drawing.fonts import text_box
from app.drawing.ground import Ground, Sides
from app.drawing.lettering import (
    DESIGNATION_MM,
    NAME_MM,
    Spot,
    Wording,
    laid,
    measured,
    narrow,
    part_lines,
    rise_mm,
    slim_lines,
    wire_texts,
)
from app.drawing.marks import Box, Point, Text
from app.drawing.places import place_name
from app.drawing.placing import PlacedPart
from app.drawing.routing import legs
from app.drawing.wording import designation, rating
from model.diagram import Conductor, Diagram

WIRE_MM, WIRE_NAME_MM = 2.3, 2.2
PANELS = ("panel", "fuse_block", "ac_panel")
SPEAKS_INSIDE = (*PANELS, "engine_block")
BARS = ("busbar", "terminal_block")
QUIET = ("stud",)


class Label(Struct, frozen=True):
    """The lettering of one item, as it stands on the sheet."""

    item: str
    texts: tuple[Text, ...]
    by_hand: bool = False
    crowded: bool = False  # no spot was free

    def boxes(self) -> tuple[Box, ...]:
        """Return the box of each line."""
        return tuple(text_box(text) for text in self.texts)


def placed_labels(
    diagram: Diagram, parts: Mapping[str, PlacedPart], paths: Mapping[str, Sequence[Point]],
    inside: Box,
) -> dict[str, Label]:
    """Return the label of every part and conductor that has one."""
    ground = _taken(diagram, parts, paths)
    labels: dict[str, Label] = {}
    for label in _moved_by_hand(diagram, parts, paths):
        labels[label.item] = label
        _take(ground, label)
    for part in sorted(parts.values(), key=_hardest_first):
        if part.component.id in labels:
            continue
        spoken = _part_label(part, ground, inside)
        if spoken is not None:
            labels[part.component.id] = spoken
            _take(ground, spoken)
    for item in sorted(paths, key=lambda key: _longest(paths[key])):
        if item not in labels:
            conductor = diagram.conductors[item]
            found = _wire_label(conductor, paths[item], diagram.boat.length_unit, ground, inside)
            if found is not None:
                labels[item] = found
                _take(ground, found)
    return labels


def _hardest_first(part: PlacedPart) -> tuple[int, float]:
    """Parts that can only speak in one place come first, then small ones."""
    kind = part.component.kind
    return (0 if kind in SPEAKS_INSIDE else 1 if kind not in BARS else 2, part.body.w * part.body.h)


def _taken(
    diagram: Diagram, parts: Mapping[str, PlacedPart], paths: Mapping[str, Sequence[Point]]
) -> Ground:
    ground = Ground()
    for part in parts.values():
        for box in part.reserved:
            ground.take(box.grown(0.4 if part.component.kind in BARS else 1.0))
    for item, path in paths.items():
        look = look_of(diagram.conductors[item])
        ground.take_line(path, look.width_mm + 0.8)
        for a, b in core_stroke_legs(path) if look.strokes else ():
            x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            ground.take(Box(x - 2.4, y - 2.4, x + 2.4, y + 2.4))
    for place in diagram.places.values():
        outline = place.outline
        if outline:
            ground.take_line([*outline, outline[0]], 0.6)
            ground.take(text_box(place_name(place)).grown(0.4))
    return ground


def _take(ground: Ground, label: Label) -> None:
    for box in label.boxes():
        ground.take(box.grown(0.35))


def _longest(path: Sequence[Point]) -> float:
    return max((abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in legs(path)), default=0.0)


def _part_label(part: PlacedPart, ground: Ground, inside: Box) -> Label | None:
    kind = part.component.kind
    if kind in QUIET and not part.component.name:
        return None
    block = part_lines(part)
    if kind in PANELS:
        texts = laid(block[:1] + block[1:2], part.body.x0 + 12.5, part.body.y0 + 4.6, "left")
        return Label(part.component.id, texts)
    if kind == "engine_block":
        middle = (part.body.x0 + part.body.x1) / 2
        return Label(part.component.id, laid(block, middle, part.body.y1 - 6.0, "middle"))
    if kind in BARS and part.body.w > 2 * part.body.h:
        return _best(part.component.id, _bar_spots(part), ground, inside)
    widths = (_part_spots(part, measured(words))
              for words in (block, narrow(block), slim_lines(part)))
    spots = (spot for spots in zip(*widths, strict=True) for spot in spots)
    return _best(part.component.id, spots, ground, inside)


def _part_spots(part: PlacedPart, words: Wording) -> Iterable[Spot]:
    """Yield right, left, below, above, each with some shifts; below first for a level device."""
    body = part.body
    level = body.w > body.h and part.component.turn in (90, 270)
    for way in (_over, _beside) if level else (_beside, _over):
        yield from way(body, words)


def _beside(body: Box, words: Wording) -> Iterable[Spot]:
    y = (body.y0 + body.y1) / 2 - rise_mm(words.block) / 2 + 1.0
    for shift in (0.0, -3.0, 3.0, -6.0, 6.0, -9.0, 9.0):
        for gap in (2.6, 4.5):
            yield Spot(words, body.x1 + gap, y + shift, "left")
    for shift in (0.0, -3.0, 3.0, -6.0, 6.0):
        yield Spot(words, body.x0 - 2.6, y + shift, "right")


def _over(body: Box, words: Wording) -> Iterable[Spot]:
    x = (body.x0 + body.x1) / 2
    for shift in (0.0, -5.0, 5.0, -10.0, 10.0):
        for drop in (0.0, 3.0):
            yield Spot(words, x + shift, body.y1 + 3.6 + drop, "middle")
            yield Spot(words, x + shift, body.y0 - 1.8 - rise_mm(words.block) - drop, "middle")


def _bar_spots(part: PlacedPart) -> Iterable[Spot]:
    """Yield places along a bar for one line, above it first."""
    component = part.component
    row = [Text(0, 0, designation(component), DESIGNATION_MM, "ink", "bold")]
    said = " ".join(text for text in (component.name, rating(component)) if text)
    if said:
        row.append(Text(0, 0, said, NAME_MM, "ink"))
    words = measured((tuple(row),))
    steps = int(part.body.w // 2.5)
    for y in (part.body.y0 - 1.6, part.body.y1 + 3.2):
        for i in range(steps):
            yield Spot(words, part.body.x0 + 1.0 + i * 2.5, y, "left")
    yield Spot(words, part.body.x1 + 2.0, part.body.y0 + 2.2, "left")


def _best(item: str, spots: Iterable[Spot], ground: Ground, inside: Box) -> Label:
    """Return the label on the first free spot, or on the one that takes the least."""
    tried: list[Spot] = []
    for spot in spots:
        if _is_free(spot, ground, inside):
            return Label(item, spot.texts())
        tried.append(spot)
    return Label(item, _cheapest(tried, ground, inside).texts(), crowded=True)


def _cheapest(spots: Sequence[Spot], ground: Ground, inside: Box) -> Spot:
    """Return the spot that takes the least ground, the first of equals."""
    best, least = spots[0], float("inf")
    for spot in spots:
        taken = _price(spot, ground, inside, least)
        if taken < least:
            best, least = spot, taken
    return best


def _price(spot: Spot, ground: Ground, inside: Box, enough: float) -> float:
    """Return how much taken ground a spot would lie on, ground outside the frame included.

    What is dearer than `enough` is not reckoned to the end.
    """
    total = 0.0
    for sides in spot.sides():
        total += ground.taken_of_sides_mm2(sides)
        if _is_outside(sides, inside):
            total += 100.0
        if total > enough:
            break
    return total


def _is_outside(sides: Sides, inside: Box) -> bool:
    return (sides[0] < inside.x0 or sides[1] < inside.y0
            or sides[2] > inside.x1 or sides[3] > inside.y1)


def _is_free(spot: Spot, ground: Ground, inside: Box) -> bool:
    for sides in spot.sides():  # most spots end at their first line
        if _is_outside(sides, inside) or not ground.is_free(sides):
            return False
    return True


def _wire_label(
    conductor: Conductor, path: Sequence[Point], unit: str, ground: Ground, inside: Box
) -> Label | None:
    """Return the fullest label that finds free ground, or None: the schedule has it all."""
    name, size, length = wire_texts(conductor, unit)

    def laid_free(figures: str) -> Label | None:
        spots = _wire_spots(name, figures, path)
        free = next((spot for spot in spots if _is_free(spot, ground, inside)), None)
        return None if free is None else Label(conductor.id, free.texts())

    shortest = laid_free("")  # most conductors without a label have no room for this one either
    if shortest is None:
        return None
    return laid_free(f"{size} {length}".strip()) or laid_free(size) or shortest


def _wire_spots(name: str, figures: str, path: Sequence[Point]) -> Iterable[Spot]:
    """Yield places for one wording: along the longest legs, left of them or above."""
    bold = Text(0, 0, name, WIRE_NAME_MM, "ink2", "bold")
    italic = Text(0, 0, figures, WIRE_MM, "ink2", "oblique")
    row = (bold, italic) if figures else (bold,)
    line, two = measured((row,)), measured(tuple((text,) for text in row))
    ordered = sorted(legs(path), key=lambda leg: -(abs(leg[0][0] - leg[1][0])
                                                   + abs(leg[0][1] - leg[1][1])))
    for a, b in ordered[:4]:
        for part in (0.5, 0.3, 0.7, 0.15, 0.85):
            x, y = a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part
            if abs(a[1] - b[1]) < 1e-6:
                yield Spot(line, x, y - 1.8, "middle")
                yield Spot(line, x, y + 3.4, "middle")
            else:
                yield from _upright_spots(line, two, x, y, abs(a[1] - b[1]))


def _upright_spots(
    line: Wording, two: Wording, x: float, y: float, leg_mm: float
) -> Iterable[Spot]:
    first = y - rise_mm(two.block) / 2 + 0.8
    yield Spot(two, x - 2.0, first, "right")
    yield Spot(two, x + 2.0, first, "left")
    yield Spot(line, x - 2.0, y + 0.8, "right")
    yield Spot(line, x + 2.0, y + 0.8, "left")
    width = line.widths[0]
    if leg_mm > width + 4:
        yield Spot(line, x - 1.6, y + width / 2, "upward")
        yield Spot(line, x + 3.4, y + width / 2, "upward")


def _moved_by_hand(
    diagram: Diagram, parts: Mapping[str, PlacedPart], paths: Mapping[str, Sequence[Point]]
) -> Iterable[Label]:
    """Yield labels the owner put somewhere: the offset is from the part or the line's middle."""
    for item, part in parts.items():
        offset = part.component.label_at
        if offset is not None and part.component.at is not None:
            x, y = part.component.at
            texts = laid(part_lines(part), x + offset[0], y + offset[1], "left")
            yield Label(item, texts, by_hand=True)
    for item, path in paths.items():
        conductor = diagram.conductors[item]
        if conductor.label_at is None:
            continue
        name, size, length = wire_texts(conductor, diagram.boat.length_unit)
        figures = f"{size} {length}".strip()
        row = (Text(0, 0, name, WIRE_NAME_MM, "ink2", "bold"),
               Text(0, 0, figures, WIRE_MM, "ink2", "oblique"))
        at = middle_of(path)
        texts = laid((row,), at[0] + conductor.label_at[0], at[1] + conductor.label_at[1], "left")
        yield Label(item, texts, by_hand=True)


def middle_of(path: Sequence[Point]) -> Point:
    """Return the middle of the longest leg."""
    a, b = max(legs(path), key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


