"""A full check of a boat of a hundred parts after an edit: a new survey and every rule.

As the process of the rules does it: a diagram comes through a pipe, the survey before the edit
lends what still holds, and garbage is looked for between checks.
"""

from __future__ import annotations

import gc

from app.checking import clear_up, framed, taken
from app.drafting.parts import field_edit
from app.drafting.wires import wire_field_edit
from model.diagram import Diagram
from model.edits import apply, changed, setting
from model.storage import load
from model.survey import Survey
from rules.book import book
from rules.engine import check
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms

CORE = frozenset({"1.1", "1.2", "1.3", "1.4", "1.8", "1.10", "1.12", "1.14", "2.1", "2.2", "2.4",
                  "3.1", "4.9", "4.19"})
"""Numbers of the rules that every boat needs first: feeds, isolation, charge paths, cables."""


PARTS = 100


def boat_of_100_parts() -> Diagram:
    """The large demo with lamps beside those it has, each by a conductor of its own."""
    diagram = load(DEMO)
    lamps = [part for part in diagram.components.values() if part.kind in ("lamp", "load")]
    for number in range(PARTS - len(diagram.components)):
        lamp = lamps[number % len(lamps)]
        wire = next(wire for wire in diagram.conductors.values() if "+" in wire.cores
                    and lamp.id in (end.component for end in wire.ends()))
        side = "finish" if wire.finish.component == lamp.id else "start"
        item = f"E9{number:02d}"
        end = changed(getattr(wire, side), component=item)
        diagram = apply(diagram, setting(
            diagram, "Add", changed(lamp, id=item, designation="", at=None),
            changed(wire, id=f"W9{number:02d}", designation="", path=None, **{side: end})))
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


def recheck(runs: int = RUNS) -> list[Figure]:
    """Check once for the imports, then after each edit: the whole book, and its core alone."""
    diagram = boat_of_100_parts()
    survey = Survey(sent(diagram))
    check(survey)
    clear_up(is_first=True)
    core = [rule for rule in book() if rule.record.number in CORE]
    whole, core_only, of_part, of_wiring = [], [], [], []
    gc.disable()
    for number in range(runs):
        diagram = edited(diagram, number)
        survey, fresh = Survey(sent(diagram), survey), Survey(diagram)
        whole.append(timed_ms(lambda value=survey: check(value)))
        core_only.append(timed_ms(lambda value=fresh: check(value, rules=core)))
        diagram = apply(diagram, field_edit(diagram, "F10", "rated_a", 20 + number))
        survey = Survey(sent(diagram), survey)
        of_part.append(timed_ms(lambda value=survey: check(value)))
        rewired = Survey(sent(with_one_more(diagram)), survey)
        of_wiring.append(timed_ms(lambda value=rewired: check(value)))
        clear_up(is_first=False)
    gc.enable()
    parts, wires = len(diagram.components), len(diagram.conductors)
    boat = f"{parts} parts and {wires} conductors"
    return [Figure(f"Full check after another length, {boat}", tuple(whole), goal=50.0),
            Figure(f"Full check after another rating of a part, {boat}", tuple(of_part),
                   goal=50.0),
            Figure(f"Full check after another conductor, {boat}", tuple(of_wiring), goal=50.0),
            Figure(f"The {len(core)} rules of the core alone after an edit",
                   tuple(core_only), goal=30.0)]
