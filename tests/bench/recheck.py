"""A full check of the large demo boat after an edit: a new survey and every rule."""

from __future__ import annotations

from app.drafting.wires import wire_field_edit
from model.diagram import Diagram
from model.edits import apply
from model.storage import load
from rules.engine import check
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms


def edited(diagram: Diagram, number: int) -> Diagram:
    """The demo after another length was typed."""
    wire = sorted(diagram.conductors)[number % len(diagram.conductors)]
    return apply(diagram, wire_field_edit(diagram, wire, "length_m", 1.5 + 0.1 * number))


def recheck(runs: int = RUNS) -> list[Figure]:
    """Check once for the imports, then after each edit."""
    diagram = load(DEMO)
    check(diagram)
    times = []
    for number in range(runs):
        diagram = edited(diagram, number)
        times.append(timed_ms(lambda value=diagram: check(value)))
    parts, wires = len(diagram.components), len(diagram.conductors)
    return [Figure(f"Full check after an edit, {parts} parts and {wires} conductors",
                   tuple(times), goal=50.0)]
