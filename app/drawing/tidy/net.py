"""The sheet as rows of nodes: parts, and for each line a place in every row that it passes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from app.drawing.placing import PlacedPart
from app.drawing.tidy.standing import DOWN, UP, Line, is_bar, rows_taken, side_of, slides

ASIDE_MM = 5.0  # where a line runs that leaves a part to the side
_BODY = Line("", (("", ""), ("", "")), 4.0, False)  # what holds a tall part together


class Hold(Struct, frozen=True):
    """Where a piece of line is held: by a node, so far from its origin. A bar's holds slide."""

    node: str
    x_mm: float = 0.0
    port: str = ""


class Piece(Struct, frozen=True):
    """A piece of a line between two nodes of neighbouring rows, or of one row."""

    line: Line
    upper: Hold
    lower: Hold
    level: bool
    through: int  # how many of its ends are passed and not ended on


class Net(Struct, frozen=True):
    """Rows of node ids and the pieces between them; parts by id, and tall parts again in each
    row they reach into by the id of their shade. The other nodes are passages.
    """

    rows: tuple[tuple[str, ...], ...]
    pieces: tuple[Piece, ...]
    parts: Mapping[str, PlacedPart]
    shades: Mapping[str, str]
    places: Mapping[str, str]  # the outlined place of each part that is in one
    wishes: Mapping[str, float]  # how far to the left (below zero) or right a part would stand

    def part_at(self, node: str) -> PlacedPart | None:
        """Return the part that takes room at a node, or None for a passage."""
        return self.parts.get(self.shades.get(node, node))

    def place_at(self, node: str) -> str | None:
        """Return the outlined place in which a node's part is."""
        return self.places.get(self.shades.get(node, node))

    def lines(self) -> list[Line]:
        """Return the lines that the pieces make up."""
        return list({piece.line.item: piece.line
                     for piece in self.pieces if piece.line.item}.values())

    def row_of(self) -> dict[str, int]:
        """Return the row of each node."""
        return {node: number for number, row in enumerate(self.rows) for node in row}


def net_of(
    parts: Mapping[str, PlacedPart], lines: Sequence[Line], ranks: Mapping[str, int],
    places: Mapping[str, str], wishes: Mapping[str, float],
) -> Net:
    """Return the rows, with passages for the lines that cross them."""
    feet = {item: rank + rows_taken(parts[item]) - 1 for item, rank in ranks.items()}
    rows: list[list[str]] = [[] for _ in range(max(feet.values(), default=0) + 1)]
    pieces: list[Piece] = []
    shades: dict[str, str] = {}
    for item, rank in ranks.items():
        rows[rank].append(item)
        above = item
        for row in range(rank + 1, feet[item] + 1):
            shade = f"{item}#{row}"
            shades[shade] = item
            rows[row].append(shade)
            pieces.append(Piece(_BODY, Hold(above), Hold(shade), False, 2))
            above = shade
    for line in lines:
        passages, own = _threaded(parts, line, ranks, feet)
        for node, rank in passages:
            rows[rank].append(node)
        pieces += own
    return Net(tuple(tuple(row) for row in rows), tuple(pieces), parts, shades, places, wishes)


def _threaded(
    parts: Mapping[str, PlacedPart], line: Line, ranks: Mapping[str, int],
    feet: Mapping[str, int],
) -> tuple[list[tuple[str, int]], list[Piece]]:
    """Return the passages of one line, with their rows, and its pieces."""
    first, last = sorted(line.ends, key=lambda end: ranks[end[0]])
    leaves = _points(parts, first)
    foot_hold, foot = _hold(parts, last), ranks[last[0]]
    top_hold, top = _hold(parts, first), ranks[first[0]]
    if leaves == DOWN and foot > feet[first[0]] > top:
        top = feet[first[0]]
        top_hold = Hold(f"{first[0]}#{top}", top_hold.x_mm, top_hold.port)
    if top == foot:
        return [], [Piece(line, top_hold, foot_hold, True, 0)]
    low = top if leaves == UP else top + 1
    high = foot if _points(parts, last) == DOWN else foot - 1
    passages = [(f"{line.item}/{rank}", rank) for rank in range(low, high + 1)]
    holds = [(top_hold, top), *((Hold(node), rank) for node, rank in passages),
             (foot_hold, foot)]
    pieces = []
    for (a, row_a), (b, row_b) in zip(holds, holds[1:], strict=False):
        through = sum(not hold.port for hold in (a, b))
        pieces.append(Piece(line, a, b, row_a == row_b, through))
    return passages, pieces


def _points(parts: Mapping[str, PlacedPart], end: tuple[str, str]) -> int:
    part = parts[end[0]]
    if not end[1]:
        return 0
    return 0 if is_bar(part.component) else side_of(part.port(end[1]))


def _hold(parts: Mapping[str, PlacedPart], end: tuple[str, str]) -> Hold:
    part = parts[end[0]]
    if slides(part.component):
        return Hold(end[0], 0.0, end[1])
    if not end[1]:
        return Hold(end[0])
    port = part.port(end[1])
    return Hold(end[0], port.at[0] + ASIDE_MM * port.direction[0], end[1])


def is_under(net: Net, piece: Piece) -> bool:
    """Say whether a level piece lies under its row and not over it."""
    return piece.level and any(
        hold.port and side_of(part.port(hold.port)) == DOWN
        for hold in (piece.upper, piece.lower) if (part := net.part_at(hold.node)) is not None)


def neighbours(pieces: Iterable[Piece]) -> dict[str, list[tuple[str, float]]]:
    """Return, for each node, the nodes it hangs together with and how strongly."""
    found: dict[str, list[tuple[str, float]]] = {}
    for piece in pieces:
        for one, other in ((piece.upper, piece.lower), (piece.lower, piece.upper)):
            found.setdefault(one.node, []).append((other.node, piece.line.heavy))
    return found
