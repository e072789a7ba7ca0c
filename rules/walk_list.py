"""The walk list: what to go and trace or measure aboard, place by place.

Conductors that were lost sight of come first. Then, for each part and conductor, the fields that
checks wait for, those that settle most first. What only eyes can answer stands in `looking.py`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, Any

from model.diagram import Diagram
from rules.gaps import waiting_for
from rules.looking import NO_PLACE, place_of, told
from rules.ordering import natural
from rules.tracing import untraced
from rules.wording import designation, field_words, with_name

if TYPE_CHECKING:
    from rules.engine import Report

BOAT_PLACE = "The boat as a whole"
ONE_ROUND = 4  # as many of one sort are told together


@dataclass(frozen=True, slots=True)
class Wanted:
    """A field that is not known, in words, and how many checks wait for it."""

    field: str
    words: str
    settles: int


@dataclass(frozen=True, slots=True)
class Errand:
    """One thing to do aboard: trace a conductor, or find out fields of an item.

    `wanted` come in the order of how much each settles; to trace, there are none but the end.
    """

    item: str
    subject: str
    place: str
    wanted: tuple[Wanted, ...]
    is_trace: bool = False

    @property
    def settles(self) -> int:
        """Return how many checks wait for what is wanted here, one for each field."""
        return sum(one.settles for one in self.wanted)

    @property
    def text(self) -> str:
        """Return what to find out, as a sentence without its subject."""
        if self.is_trace:
            return "find where it goes"
        return ", ".join(f"{one.words} ({one.settles})" for one in self.wanted)

    def as_json(self) -> dict[str, Any]:
        """Return the errand as JSON values."""
        return {
            "place": self.place, "item": self.item, "subject": self.subject,
            "trace": self.is_trace,
            "fields": [{"field": f"{self.item}.{one.field}", "words": one.words,
                        "settles": one.settles} for one in self.wanted],
        }


def walk_list(report: Report, diagram: Diagram) -> tuple[Errand, ...]:
    """Return all errands in the order of one walk: by place, what is lost first, then by worth."""
    waiting = waiting_for(report.cannot_tell)
    lost = untraced(diagram)
    errands = [*_to_trace(diagram, lost, waiting), *_to_find_out(diagram, lost, waiting)]
    return tuple(sorted(errands, key=lambda errand: (
        errand.place == NO_PLACE, errand.place == BOAT_PLACE, errand.place.casefold(),
        not errand.is_trace, -errand.settles, natural(errand.item))))


def by_place(errands: tuple[Errand, ...]) -> list[tuple[str, list[Errand]]]:
    """Return the errands of a walk grouped by place, in their order."""
    return [(place, list(group)) for place, group in groupby(errands, lambda one: one.place)]


def gathered(group: list[Errand], diagram: Diagram) -> list[Errand]:
    """Return the errands of a place, those that find out the same one thing as one: thirty labels
    are one round.
    """
    alike: dict[str, list[Errand]] = {}
    for errand in group:
        is_one_field = len(errand.wanted) == 1 and not errand.is_trace
        alike.setdefault(errand.text if is_one_field else errand.item, []).append(errand)
    return [one for found in alike.values()
            for one in (found if len(found) < ONE_ROUND else [_round(found, diagram)])]


def _round(found: list[Errand], diagram: Diagram) -> Errand:
    names = ", ".join(designation(diagram, errand.item) for errand in found)
    are_wires = all(errand.item in diagram.conductors for errand in found)
    sort = "conductors" if are_wires else "parts"
    return replace(found[0], subject=f"{len(found)} {sort}: {names}")


def _to_trace(
    diagram: Diagram, lost: dict[str, str], waiting: Counter[str]
) -> Iterator[Errand]:
    for item, path in lost.items():
        wire = diagram.conductors[item]
        side = path.rpartition(".")[2]
        end, known = (wire.finish, wire.start) if side == "to" else (wire.start, wire.finish)
        place = place_of(diagram, end.component)
        if place == NO_PLACE:
            place = place_of(diagram, known.component)
        subject = f"{designation(diagram, item)} from {with_name(diagram, known.component)}"
        yield Errand(item, subject, place,
                     (Wanted(side, "where it goes", waiting[path]),), is_trace=True)


def _to_find_out(
    diagram: Diagram, lost: dict[str, str], waiting: Counter[str]
) -> Iterator[Errand]:
    by_item: dict[str, list[str]] = {}
    for path in waiting:
        if path not in lost.values():
            item, _, field = path.rpartition(".")
            by_item.setdefault(item, []).append(field)
    for item, fields in by_item.items():
        wanted = (Wanted(field, field_words(diagram, item, field), waiting[f"{item}.{field}"])
                  for field in fields)
        ordered = tuple(sorted(wanted, key=lambda one: (-one.settles, one.words)))
        yield Errand(item, _subject(diagram, item), _place(diagram, item), ordered)


def _subject(diagram: Diagram, item: str) -> str:
    if item in diagram.systems:
        return diagram.systems[item].name or f"System {item}"
    return told(diagram, item)


def _place(diagram: Diagram, item: str) -> str:
    if item == "boat" or item in diagram.systems or item in diagram.modes:
        return BOAT_PLACE
    owner = item.partition(".")[0]
    return place_of(diagram, owner)
