"""A conductor cut in two where something is fitted into it, and two made one again.

What is known of the cable stays on both halves. Figures that add up along it are shared out by
where the cut falls, or added. Nothing here knows which parts are fitted.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from app.drawing.routing import legs, tidied
from model.diagram import Conductor, End, Known, SheetPath
from model.edits import changed

Point = tuple[float, float]
ALONG = ("length_m", "return_length_m", "engine_space_m")
# What belongs to one end, one drawing or one name, and is never compared.
_OWN = frozenset({"id", "designation", "start", "finish", "joints", "route", "label", "label_at",
                  "path", "known", "extra", *ALONG})
_SHARED = tuple(name for name in Conductor.field_names() if name not in _OWN)


class Cut(Struct, frozen=True):
    """Where a conductor is cut: a point on one of its legs, and what each new end goes to.

    `first` is the end of the half that keeps the conductor's start, `second` of the other.
    """

    path: tuple[Point, ...]
    leg: int
    at: Point
    first: End
    second: End

    def share(self) -> float:
        """Return how much of the line lies before the cut. [unitless]"""
        lengths = [abs(b[0] - a[0]) + abs(b[1] - a[1]) for a, b in legs(self.path)]
        here = self.path[self.leg]
        before = sum(lengths[:self.leg]) + abs(self.at[0] - here[0]) + abs(self.at[1] - here[1])
        return min(before / (sum(lengths) or 1.0), 1.0)


def halves(wire: Conductor, cut: Cut, new_id: str, start_is_new: bool) -> tuple[Conductor, ...]:
    """Return both halves of a conductor, the one at its start first; one keeps its id."""
    figures = _shared_out(wire, cut.share())
    made = []
    for number, ends in enumerate(({"finish": cut.first}, {"start": cut.second})):
        fields: dict[str, Any] = {**ends, **figures[number], "path": None, "label_at": None}
        if (number == 0) == start_is_new:
            fields |= {"id": new_id, "designation": "", "label": "", "joints": ()}
        made.append(changed(wire, **fields))
    return tuple(made)


def _shared_out(wire: Conductor, share: float) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return the figures of both halves: each by its share of the line, and so an estimate."""
    before: dict[str, Any] = {}
    after: dict[str, Any] = {}
    known: dict[str, Known | None] = {}
    for name in ALONG:
        whole = getattr(wire, name)
        if whole is not None:
            before[name] = min(round(whole * share, 2), whole)
            after[name] = round(whole - before[name], 9)
            known[name] = "estimated"
    both = {"known": wire.known.with_items(known.items())}
    return before | both, after | both


def cut_paths(
    cut: Cut, first: Point, second: Point, by_hand: bool
) -> tuple[SheetPath | None, SheetPath | None]:
    """Return the line up to one point of the cut leg, and from another on; None without room."""
    points = cut.path
    lines = (tidied([*points[:cut.leg + 1], first]), tidied([second, *points[cut.leg + 1:]]))
    made = [SheetPath(points=line, by_hand=by_hand) if is_square(line) else None
            for line in lines]
    return made[0], made[1]


def is_square(points: Sequence[Point]) -> bool:
    """Say whether a line has legs at all, each of them level or upright."""
    return len(points) > 1 and all(
        abs(a[0] - b[0]) < 0.02 or abs(a[1] - b[1]) < 0.02 for a, b in legs(points))


def made_one(
    kept: Conductor, gone: Conductor, part: str
) -> tuple[Conductor, tuple[str, ...]]:
    """Return the conductor that two become when the part between them goes.

    With it the fields that are now unknown, because the halves differed or one had no figure.
    """
    fields: dict[str, Any] = {}
    lost = [name for name in _SHARED if getattr(kept, name) != getattr(gone, name)]
    fields |= dict.fromkeys(lost)
    for name in ALONG:
        figures = (getattr(kept, name), getattr(gone, name))
        fields[name] = None if None in figures else round(sum(figures), 9)
        if fields[name] is None and figures != (None, None):
            lost.append(name)
    side = "start" if kept.start.component == part else "finish"
    fields[side] = next(end for end in gone.ends() if end.component != part)
    known = _known_of_both(kept, gone)
    made: Conductor = changed(
        kept, **fields, path=None, label_at=None, joints=(*kept.joints, *gone.joints),
        route=tuple(dict.fromkeys((*kept.route, *gone.route))),
        known={name: how for name, how in known.items() if fields.get(name, how) is not None})
    return made, tuple(lost)


def _known_of_both(kept: Conductor, gone: Conductor) -> Mapping[str, Known]:
    """Return how each figure is known: as both say; of a sum, estimated when either part is."""
    known: dict[str, Known] = {}
    for name in {*kept.known, *gone.known}:
        hows = {kept.known.get(name), gone.known.get(name)}
        if len(hows) == 1:
            known[name] = next(how for how in hows if how is not None)
        elif name in ALONG and "estimated" in hows:
            known[name] = "estimated"
    return known


def path_through(kept: Conductor, gone: Conductor, part: str) -> SheetPath | None:
    """Return the line of two conductors that meet in a part, across it, from `kept`'s own end."""
    if kept.path is None or gone.path is None:
        return None
    first = kept.path.points if kept.finish.component == part else kept.path.points[::-1]
    second = gone.path.points if gone.start.component == part else gone.path.points[::-1]
    points = tidied([*first, *second])
    if not is_square(points):
        return None
    if kept.start.component == part:
        points = points[::-1]
    return SheetPath(points=points, by_hand=kept.path.by_hand or gone.path.by_hand)


def field_words(names: Sequence[str]) -> str:
    """Return fields of a conductor in words: "size, colour and length"."""
    words = [name.rstrip("_").removesuffix("_m").removesuffix("_c").removesuffix("_v")
             .replace("_", " ") for name in names]
    return " and ".join([*([", ".join(words[:-1])] if words[1:] else []), *words[-1:]])
