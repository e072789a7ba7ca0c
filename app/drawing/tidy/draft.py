"""A plan made millimetres: rows with room for what jogs between them, parts in their columns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from app.drawing.frame import ground_box
from app.drawing.labels import PANELS
from app.drawing.placing import PlacedPart, panel_rows
from app.drawing.route_prices import GRID_MM, Segment
from app.drawing.routing import snapped
from app.drawing.tidy.columns import Columns
from app.drawing.tidy.net import Net, is_under, net_of
from app.drawing.tidy.order import Order, ordered
from app.drawing.tidy.ranks import ranked
from app.drawing.tidy.standing import (
    FIRST_ROW_MM,
    drawn_lines,
    mountings,
    rows_taken,
    side_of,
    slides,
    standing_parts,
)
from model.diagram import Component, Diagram
from model.edits import changed
from model.kinds import kind_of
from model.kinds.distribution import stud_ids

LEAST_GAP_MM, TRACK_MM, LEAD_MM = 10.0, 5.0, 5.0
STUD_STEP_MM = 5.0


class Draft(Struct, frozen=True):
    """Where parts are to stand, and the upright runs of lines through rows that they cross."""

    components: Mapping[str, Component]
    runs: Mapping[str, tuple[Segment, ...]]
    width_mm: float
    height_mm: float

    def moved(self, dx: float, dy: float) -> Draft:
        """Return the draft moved on the sheet."""
        components = {
            item: changed(c, at=(c.at[0] + dx, c.at[1] + dy))
            for item, c in self.components.items() if c.at is not None}
        runs = {item: tuple(((a[0] + dx, a[1] + dy), (b[0] + dx, b[1] + dy)) for a, b in own)
                for item, own in self.runs.items()}
        return Draft(components, runs, self.width_mm, self.height_mm)


class Plan(Struct, frozen=True):
    """Who stands in which row, and in which order: what does not depend on the paper."""

    net: Net
    rows: Order

    def draft(self, columns: Columns, air: float) -> Draft:
        """Return the plan in its columns, with so much room between the rows."""
        tops, height = _row_tops(self.net, self.rows, columns, air)
        row = self.net.row_of()
        placed = {
            item: _put(part, columns, tops[row[item]], _row_height(self.net, self.rows[row[item]]),
                       _leans(self.net, item))
            for item, part in self.net.parts.items()
        }
        return Draft(placed, _runs(self.net, self.rows, columns, tops), columns.width_mm, height)


def netted(
    diagram: Diagram, drawn: Mapping[str, Component], most_rows: int, tiers: int = 1,
    place_pull: float = 0.0,
) -> Net:
    """Return the rows of the drawn parts, not yet in order.

    `place_pull` is how strongly places wish to stand where the owner has them, for each mm.
    """
    lines = drawn_lines(diagram, drawn)
    mounted = mountings(drawn)
    parts = standing_parts(drawn, lines, panel_rows(diagram))
    ranks = ranked(parts, [*lines, *mounted], most_rows, tiers)
    wired = {item for line in lines for item, _ in line.ends}
    outlined = {item: c.place for item, c in drawn.items()
                if c.place is not None and diagram.places[c.place].outline}
    return net_of(parts, [*lines, *(m for m in mounted if m.ends[1][0] not in wired)], ranks,
                  outlined, _wishes(parts, diagram, outlined, place_pull))


def planned(net: Net, throw: int = 0) -> Plan:
    """Return the rows in order."""
    return Plan(net, ordered(net, throw))


def least_height_mm(net: Net) -> float:
    """Return how high the rows are with nothing but the gaps between. [mm]."""
    return sum(_row_height(net, row) for row in net.rows) + LEAST_GAP_MM * (len(net.rows) - 1)


def _wishes(
    parts: Mapping[str, PlacedPart], diagram: Diagram, outlined: Mapping[str, str],
    place_pull: float,
) -> dict[str, float]:
    """Return which parts would like to stand at the left (the engine's) or right (loads).

    What is in a place with an outline would like to stand where the owner had the place.
    """
    wishes = {}
    middle = (ground_box(diagram.sheet.size).x0 + ground_box(diagram.sheet.size).x1) / 2
    for item, part in parts.items():
        component, kind = part.component, kind_of(part.component)
        if item in outlined:
            xs = [x for x, _ in diagram.places[outlined[item]].outline or ()]
            wishes[item] = ((min(xs) + max(xs)) / 2 - middle) * place_pull
        elif kind.role == "engine" or component.kind == "starter" or component.parameters.get(
                "driven_by") in parts:
            wishes[item] = -3.0
        elif component.kind in PANELS:
            wishes[item] = 2.0
        elif kind.role == "load" and component.kind != "starter":
            wishes[item] = 1.0
    return wishes


def _runs(
    net: Net, rows: Order, columns: Columns, tops: Sequence[float]
) -> dict[str, tuple[Segment, ...]]:
    """Return where each line crosses rows, downwards; straight ones joined."""
    found: dict[str, list[Segment]] = {}
    for number, row in enumerate(rows):
        for node in row:
            if net.part_at(node) is not None:
                continue
            x, top = columns.nodes[node], snapped(tops[number])
            foot = snapped(tops[number] + _row_height(net, row))
            own = found.setdefault(node.rpartition("/")[0], [])
            if own and own[-1][0][0] == x:
                own[-1] = (own[-1][0], (x, foot))
            else:
                own.append(((x, top), (x, foot)))
    return {item: tuple(own) for item, own in found.items()}


def _row_height(net: Net, row: Sequence[str]) -> float:
    return max((net.parts[n].body.h for n in row
                if n in net.parts and rows_taken(net.parts[n]) == 1), default=FIRST_ROW_MM / 2)


def _row_tops(
    net: Net, rows: Order, columns: Columns, air: float
) -> tuple[list[float], float]:
    """Return the top of each row, with room above it for the tracks of what jogs there."""
    tracks = _tracks(net, columns)
    row_of = net.row_of()
    ending: dict[int, list[str]] = {}
    for item, part in net.parts.items():
        ending.setdefault(row_of[item] + rows_taken(part) - 1, []).append(item)
    tops: list[float] = []
    y = 0.0
    for number, row in enumerate(rows):
        if number or tracks.get(0, 0):
            y += max(LEAST_GAP_MM * air,
                     2 * LEAD_MM + TRACK_MM * max(0, tracks.get(number, 0) - 1) * air)
        tops.append(max(y, *(tops[row_of[item]] + net.parts[item].body.h + LEAST_GAP_MM
                             for item in ending.get(number - 1, ())), 0.0))
        y = tops[-1] + _row_height(net, row)
    below = tracks.get(len(rows), 0)
    y = max(y, *(tops[row_of[item]] + part.body.h for item, part in net.parts.items()))
    return tops, y + (LEAD_MM + TRACK_MM * below if below else 0.0)


def _tracks(net: Net, columns: Columns) -> dict[int, int]:
    """Return how many level legs lie above one another over each row (and under the last)."""
    row = net.row_of()
    spans: dict[int, dict[object, list[float]]] = {}
    for piece in net.pieces:
        if not piece.line.item or "@" in piece.line.item:
            continue
        ends = [columns.at(hold) for hold in (piece.upper, piece.lower)]
        if abs(ends[0] - ends[1]) < 1e-6:
            continue
        channel = row[piece.lower.node] + int(is_under(net, piece))
        shared = next((h for h in (piece.upper, piece.lower)
                       if h.node in net.parts and h.port and not slides(
                           net.parts[h.node].component)), piece.line.item)
        spans.setdefault(channel, {}).setdefault(shared, []).extend(ends)
    return {channel: _deepest([(min(xs), max(xs)) for xs in own.values()])
            for channel, own in spans.items()}


def _deepest(spans: Sequence[tuple[float, float]]) -> int:
    """Return how many of the spans lie over one another at most."""
    ends = sorted([(a, 1) for a, _ in spans] + [(b, -1) for _, b in spans])
    depth = deepest = 0
    for _, step in ends:
        depth += step
        deepest = max(deepest, depth)
    return deepest


def _leans(net: Net, item: str) -> int:
    """Return -1 for a part all whose lines leave upwards, 1 downwards, 0 for both or neither."""
    sides = {side_of(net.parts[item].port(hold.port)) for piece in net.pieces
             for hold in (piece.upper, piece.lower) if hold.node == item and hold.port} - {0}
    return sides.pop() if len(sides) == 1 else 0


def _put(
    part: PlacedPart, columns: Columns, top: float, height: float, leans: int
) -> Component:
    """Return the component at its column, at the top, foot or middle of its row."""
    free = max(0.0, height - part.body.h)
    y = snapped(top + free * (leans + 1) / 2 - part.body.y0)
    component = part.component
    x = columns.nodes[component.id]
    if not slides(component):
        return changed(component, at=(x, y), label_at=None)
    return changed(component, at=(x, y), label_at=None,
                   parameters=component.parameters.with_item(
                       "stud_at_mm", _stud_places(component, columns)).with_item("length_mm", None))


def _stud_places(component: Component, columns: Columns) -> tuple[float, ...]:
    """Return where the studs are drawn: those in use where their lines are, the rest between."""
    start = columns.nodes[component.id]
    used = {stud: x - start for (bar, stud), x in columns.studs.items() if bar == component.id}
    taken = list(used.values())
    places = []
    for stud in stud_ids(component.parameters):
        if stud not in used:
            taken.append(_free_place(taken, columns.ends[component.id] - start))
        places.append(used[stud] if stud in used else taken[-1])
    return tuple(places)


def _free_place(taken: Sequence[float], length_mm: float) -> float:
    """Return the first place along a bar that is far from other studs, or nearer, or past it."""
    steps = [n * GRID_MM for n in range(int(length_mm / GRID_MM) + 1)]
    for least in (2 * STUD_STEP_MM, STUD_STEP_MM, GRID_MM):
        for x in steps:
            if all(abs(x - other) >= least for other in taken):
                return x
    return max(taken) + STUD_STEP_MM
