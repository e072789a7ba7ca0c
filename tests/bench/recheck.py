"""A full check of the large demo boat after an edit: a new survey and every rule.

As the process of the rules does it: the survey before the edit lends its solved volts as a start.
"""

from __future__ import annotations

from app.drafting.wires import wire_field_edit
from model.diagram import Diagram
from model.edits import apply
from model.storage import load
from model.survey import Survey
from rules.engine import check
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms


def edited(diagram: Diagram, number: int) -> Diagram:
    """The demo after another length was typed."""
    wire = sorted(diagram.conductors)[number % len(diagram.conductors)]
    return apply(diagram, wire_field_edit(diagram, wire, "length_m", 1.5 + 0.1 * number))


def recheck(runs: int = RUNS) -> list[Figure]:
    """Check once for the imports, then after each edit."""
    diagram = load(DEMO)
    survey = Survey(diagram)
    check(survey)
    times = []
    for number in range(runs):
        diagram = edited(diagram, number)
        survey = Survey(diagram, survey)
        times.append(timed_ms(lambda value=survey: check(value)))
    parts, wires = len(diagram.components), len(diagram.conductors)
    return [Figure(f"Full check after an edit, {parts} parts and {wires} conductors",
                   tuple(times), goal=50.0)]
