"""The whole sheet as marks: every item by its key, in layers, ready for any painter."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct, field

from app.drawing.badges import Badge, badge_marks, badge_places, danger_line
from app.drawing.bands import LiveLook, band_marks, dead_marks, ring_marks
from app.drawing.conductors import conductor_marks, drawn_paths, hops, look_of
from app.drawing.frame import drawing_area, frame_marks
from app.drawing.ground import Ground
from app.drawing.labels import BARS, Label, placed_labels
from app.drawing.live_rows import live_rows
from app.drawing.marks import Box, Mark, Point, Target
from app.drawing.place_handles import PlacedPlace, placed_place
from app.drawing.places import place_marks
from app.drawing.placing import PlacedPart, placed_parts, row_boxes
from app.drawing.tees import Tees, tees
from model.diagram import Diagram, Place

WIRE_GROUND_MM = 1.0  # what a badge leaves free along a conductor
PLACES, BANDS, WIRES, PARTS, ROWS, LABELS, RINGS, BADGES = range(8)


class SheetItem(Struct, frozen=True):
    """One thing on the sheet: a part, a conductor, a label, a badge."""

    key: str
    item: str
    layer: float
    marks: tuple[Mark, ...]


class SheetLook(Struct, frozen=True):
    """What is to be shown beside the diagram itself.

    `positions` are those of a mode or of operating; `live` tells each component's and conductor's
    look when operating, and is None when drawing. `badges` are by item id, worst first.
    """

    positions: Mapping[str, str] = field(default_factory=dict)
    live: Mapping[str, LiveLook] | None = None
    badges: Mapping[str, Sequence[Badge]] = field(default_factory=dict)


class SheetDrawing(Struct, frozen=True):
    """The sheet: its items by key, and where parts, conductors and labels are.

    `rows` tells where loads, and the conductors to them, stand that are drawn in a panel's rows.
    """

    items: Mapping[str, SheetItem]
    parts: Mapping[str, PlacedPart]
    paths: Mapping[str, tuple[Point, ...]]
    labels: Mapping[str, Label]
    rows: Mapping[str, Box] = field(default_factory=dict)
    places: Mapping[str, PlacedPlace] = field(default_factory=dict)

    def marks(self) -> tuple[Mark, ...]:
        """Return all marks in painting order."""
        ordered = sorted(self.items.values(), key=lambda item: item.layer)
        return tuple(mark for item in ordered for mark in item.marks)


NOTHING_MORE = SheetLook()


def sheet_drawing(diagram: Diagram, look: SheetLook = NOTHING_MORE) -> SheetDrawing:
    """Return the sheet of a diagram, without its frame."""
    parts = placed_parts(diagram, look.positions)
    paths = drawn_paths(diagram, parts)
    labels = placed_labels(diagram, parts, paths, drawing_area(diagram.sheet))
    items = [
        *_place_items(diagram),
        *_wire_items(diagram, paths, look),
        *_part_items(diagram, parts, look),
        *_label_items(labels, look),
        *_badge_items(parts, paths, labels, look),
    ]
    return SheetDrawing({item.key: item for item in items}, parts, paths, labels,
                        row_boxes(diagram, parts), _placed_places(diagram))


def framed_marks(diagram: Diagram, drawing: SheetDrawing, **counts: int) -> tuple[Mark, ...]:
    """Return the marks of the whole printed sheet: frame, title block, legend, diagram."""
    return (*frame_marks(diagram.sheet, diagram.boat, counts), *drawing.marks())


def _place_items(diagram: Diagram) -> Iterable[SheetItem]:
    for place in diagram.places.values():
        if place.outline:
            layer = PLACES - _size_mm2(place) * 1e-6
            yield SheetItem(f"place:{place.id}", place.id, layer, tuple(place_marks(place)))


def _placed_places(diagram: Diagram) -> dict[str, PlacedPlace]:
    return {place.id: placed_place(place) for place in diagram.places.values() if place.outline}


def _size_mm2(place: Place) -> float:
    """Return the size of the box round a place: a small place lies on a large one."""
    xs, ys = zip(*(place.outline or ((0, 0),)), strict=True)
    return (max(xs) - min(xs)) * (max(ys) - min(ys))


def _wire_items(
    diagram: Diagram, paths: Mapping[str, tuple[Point, ...]], look: SheetLook
) -> Iterable[SheetItem]:
    over, parting = hops(paths), tees(diagram, paths)
    for item, path in paths.items():
        own = parting.get(item, Tees())
        marks = conductor_marks(diagram.conductors[item], path, over.get(item, ()),
                                own.points, sorted(own.dots))
        if look.live is not None:
            seen = look.live.get(item, LiveLook())
            if seen.letters:
                yield SheetItem(f"band:{item}", item, BANDS, band_marks(path, seen))
                yield SheetItem(f"ring:{item}", item, RINGS, tuple(ring_marks(path, seen)))
            elif look_of(diagram.conductors[item]).role in ("positive", "ac"):
                marks = dead_marks(marks)
        link = Target(_middle_box(path), name=f"on-sheet-{item}", goes_to=f"row-{item}")
        yield SheetItem(f"wire:{item}", item, WIRES, (*marks, link))


def _part_items(
    diagram: Diagram, parts: Mapping[str, PlacedPart], look: SheetLook
) -> Iterable[SheetItem]:
    rows = {} if look.live is None else live_rows(diagram, parts, look.live)
    for item, part in parts.items():
        marks: tuple[Mark, ...] = (part.group,)
        if part.component.kind in BARS and look.live is not None:
            seen, (path, width_mm) = look.live.get(item, LiveLook()), _bar_path(part)
            yield SheetItem(f"band:{item}", item, BANDS, band_marks(path, seen, width_mm))
            yield SheetItem(f"ring:{item}", item, RINGS, tuple(ring_marks(path, seen)))
        if look.live is not None and item in look.live and not look.live[item].letters:
            marks = dead_marks(marks)
        if look.live is not None and item in rows:
            yield SheetItem(f"rows:{item}", item, ROWS, tuple(rows[item]))
        links = (Target(part.body, name=f"on-sheet-{item}", goes_to=f"row-{item}"),)
        yield SheetItem(f"part:{item}", item, PARTS, (*marks, *links))


def _bar_path(part: PlacedPart) -> tuple[tuple[Point, Point], float]:
    """Return the path and width of a busbar's band: 1.5 mm beyond its edges."""
    body = part.body
    middle_x, middle_y = (body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2
    level = body.w >= body.h
    path = (((body.x0 - 1.5, middle_y), (body.x1 + 1.5, middle_y)) if level
            else ((middle_x, body.y0 - 1.5), (middle_x, body.y1 + 1.5)))
    return path, min(body.w, body.h) + 3.0


def _label_items(labels: Mapping[str, Label], look: SheetLook) -> Iterable[SheetItem]:
    for item, label in labels.items():
        marks: tuple[Mark, ...] = label.texts
        if look.live is not None and item in look.live and not look.live[item].letters:
            marks = dead_marks(marks)
        yield SheetItem(f"label:{item}", item, LABELS, marks)


def _badge_items(
    parts: Mapping[str, PlacedPart], paths: Mapping[str, tuple[Point, ...]],
    labels: Mapping[str, Label], look: SheetLook,
) -> Iterable[SheetItem]:
    """Yield each item's badges on the freest of its corners, with the danger line round it."""
    ground = _taken_ground(labels, parts, paths) if look.badges else Ground()
    lettering = [box for label in labels.values() for box in label.boxes()]
    for item, badges in look.badges.items():
        if item in parts:
            box = parts[item].body
        elif item in paths:
            box = _middle_box(paths[item])
        else:
            continue
        marks: list[Mark] = []
        if badges[0].severity in ("danger", "fault"):
            marks += danger_line(box, lettering)
        place = min(badge_places(box, len(badges)), key=ground.taken_mm2)
        ground.take(place)
        marks += badge_marks(badges, place)
        yield SheetItem(f"badge:{item}", item, BADGES, tuple(marks))


def _taken_ground(
    labels: Mapping[str, Label], parts: Mapping[str, PlacedPart],
    paths: Mapping[str, tuple[Point, ...]],
) -> Ground:
    ground = Ground()
    for path in paths.values():
        ground.take_line(path, WIRE_GROUND_MM)
    for label in labels.values():
        for box in label.boxes():
            ground.take(box)
    for part in parts.values():
        ground.take(part.body)
    return ground


def _middle_box(path: Sequence[Point]) -> Box:
    """Return a small box on the middle of a conductor's longest leg."""
    a, b = max(zip(path, path[1:], strict=False),
               key=lambda leg: abs(leg[0][0] - leg[1][0]) + abs(leg[0][1] - leg[1][1]))
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    return Box(x - 1.5, y - 1.5, x + 1.5, y + 1.5)


