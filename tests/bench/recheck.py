"""A full check of a boat of a hundred parts after an edit: a new survey and every rule.

As the process of the rules does it: a diagram comes through a pipe, the survey before the edit
lends what still holds, and garbage is looked for between checks.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from functools import partial

import networkx

from app.checking import clear_up, framed, taken
from app.drafting.parts import field_edit
from app.drafting.wires import wire_field_edit
from model.diagram import Diagram
from model.edits import apply, changed, setting
from model.storage import load
from model.survey import Survey
from rules.book import book
from rules.engine import check
from tests.bench.figures import DEMO, Figure, timed_ms

CORE = frozenset({"1.1", "1.2", "1.3", "1.4", "1.8", "1.10", "1.12", "1.14", "2.1", "2.2", "2.4",
                  "3.1", "4.9", "4.19"})
"""Numbers of the rules that every boat needs first: feeds, isolation, charge paths, cables."""


PARTS = 100
GRID = networkx.grid_2d_graph(12, 12)
FLOOR = "all ways of a grid of 144 points by networkx"
GOAL_MS = 50.0
GOAL_TIMES = 7.5
"""What the goal is in times the floor: 50 ms where the floor takes 6.7 ms."""


def boat_of_100_parts() -> Diagram:
    """The large demo with lamps beside those it has, each by a conductor of its own."""
    diagram = load(DEMO)
    return with_lamps(diagram, PARTS - len(diagram.components))


def with_lamps(diagram: Diagram, count: int) -> Diagram:
    """The diagram with more lamps."""
    lamps = [part for part in diagram.components.values() if part.kind in ("lamp", "load")]
    for number in range(count):
        lamp = lamps[number % len(lamps)]
        wire = next(wire for wire in diagram.conductors.values() if "+" in wire.cores
                    and lamp.id in (end.component for end in wire.ends()))
        side = "finish" if wire.finish.component == lamp.id else "start"
        place = len(diagram.components)
        end = changed(getattr(wire, side), component=f"E9{place:03d}")
        diagram = apply(diagram, setting(
            diagram, "Add", changed(lamp, id=f"E9{place:03d}", designation="", at=None),
            changed(wire, id=f"W9{place:03d}", designation="", path=None, **{side: end})))
    return diagram


def edited(diagram: Diagram, number: int) -> Diagram:
    """The demo after another length was typed."""
    wire = sorted(diagram.conductors)[number % len(diagram.conductors)]
    return apply(diagram, wire_field_edit(diagram, wire, "length_m", 1.5 + 0.1 * number))


def with_one_more(diagram: Diagram) -> Diagram:
    """The demo after a second conductor was drawn beside the first."""
    first = next(iter(diagram.conductors.values()))
    beside = changed(first, id="W999", designation="", path=None)
    return apply(diagram, setting(diagram, "Connect", beside))


def sent(diagram: Diagram) -> Diagram:
    """The diagram as the process of the rules gets it."""
    (told,) = taken(bytearray(framed(diagram)))
    received: Diagram = told
    return received


def with_a_part_more(diagram: Diagram) -> Diagram:
    """The demo after a lamp was placed beside another and connected."""
    return with_lamps(diagram, 1)


def floor() -> None:
    """What the checks are measured against: all shortest ways in a small grid by networkx, plain
    interpreted work on sets and dictionaries as they are, so that a slow machine is slow at both.
    """
    for _ in networkx.all_pairs_shortest_path_length(GRID):
        pass


def recheck(runs: int = 15) -> list[Figure]:
    """Check once for the imports, then after each edit: the whole book, and its core alone."""
    diagram = boat_of_100_parts()
    survey = Survey(sent(diagram))
    check(survey)
    clear_up(is_first=True)
    core = [rule for rule in book() if rule.record.number in CORE]
    floor()
    took: dict[str, list[tuple[float, float]]] = {}

    def timed(edit: str, work: Callable[[], object]) -> None:
        took.setdefault(edit, []).append((timed_ms(floor), timed_ms(work)))

    gc.disable()
    for number in range(runs):
        diagram = edited(diagram, number)
        survey, fresh = Survey(sent(diagram), survey), Survey(diagram)
        timed("another length", partial(check, survey))
        timed("core", partial(check, fresh, rules=core))
        diagram = apply(diagram, field_edit(diagram, "F10", "rated_a", 20 + number))
        survey = Survey(sent(diagram), survey)
        timed("another rating of a part", partial(check, survey))
        timed("another conductor", partial(check, Survey(sent(with_one_more(diagram)), survey)))
        timed("another part", partial(check, Survey(sent(with_a_part_more(diagram)), survey)))
        clear_up(is_first=False)
    gc.enable()
    boat = f"{len(diagram.components)} parts and {len(diagram.conductors)} conductors"
    of_core = took.pop("core")
    figures = []
    for edit, rounds in took.items():
        floors, ours = (tuple(times) for times in zip(*rounds, strict=True))
        figures += [Figure(f"Full check after {edit}, {boat}", ours, GOAL_MS),
                    Figure(f"The same against {FLOOR}", ours, GOAL_TIMES, floors)]
    return [*figures, Figure(f"The {len(core)} rules of the core alone after an edit",
                             tuple(ours_ms for _, ours_ms in of_core), goal=30.0)]
