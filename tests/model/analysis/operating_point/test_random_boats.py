"""Properties of every analysis on random boats: finite, in bounded time, twice the same.

Four sorts: diagrams grown by random edits, generated boats as they are, generated boats with fields
removed or zero and conductors missing, and boats that feed one system from another.
"""

from __future__ import annotations

import math
import random
import time
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

from model.analysis.charging_volts import charging_volts
from model.analysis.design_current import CHARGING, design_currents
from model.analysis.fault_current import fault_current
from model.diagram import Component, Conductor, Diagram
from model.edits import changed
from model.storage import loads
from model.survey import Survey
from model.validity import check_diagram
from rules.engine import check
from tests.boat_builder import Boat
from tests.model.analysis.operating_point.balanced import RELATIVE
from tests.model.random_diagrams import grown
from tests.reference.spice.generated import COUNT, generated

BATCHES, EACH = 10, 8
MOST_S = 2.0
LARGEST = 1e8  # a short of a bank through nothing drives thousands of amperes, not more
SHAPE = ("taps", "ways", "stud_count", "pole", "isolated")  # what the terminals hang on


def grown_boat(seed: int) -> Diagram:
    rng = random.Random(seed)
    return grown(rng, rng.randint(5, 120))[0]


def generated_boat(seed: int) -> Diagram:
    return loads(generated(seed % COUNT))


def damaged_boat(seed: int) -> Diagram:
    """Return a generated boat with a third of its fields and some conductors gone."""
    rng = random.Random(seed)
    boat = generated_boat(seed)
    damaged = changed(
        boat, components={c.id: _damaged_part(c, rng) for c in boat.components.values()},
        conductors={w.id: _damaged_wire(w, rng) for w in boat.conductors.values()
                    if rng.random() > 0.08})
    check_diagram(damaged)
    return damaged


def converting_boat(seed: int) -> Diagram:
    """Return a boat of three systems in a row, one feeding the next over converters, with sources,
    loads and relays anywhere."""
    rng = random.Random(seed)
    boat = Boat(returns="implied").part("M1", "engine_block")
    for bar in range(3):
        boat.busbar(f"X{bar}", pole="+", stud_count=24)
    parts: list[tuple[str, int]] = []
    for number in range(rng.randint(1, 3)):
        boat.battery(f"G{number}", internal_resistance_ohm=rng.choice((0.002, 0.01, 0.05)),
                     rest_v=round(rng.uniform(11, 13.2), 2), max_charge_a=rng.choice((5, 20, 100)))
        boat.load(f"E{number}", power_w=rng.choice((20, 300, 2000)), nominal_v=12)
        boat.part(f"A{number}", "alternator", rated_a=rng.choice((20, 90)), driven_by="M1",
                  set_v=round(rng.uniform(13.8, 14.6), 2))
        parts += [(f"{letter}{number}.+", rng.randrange(3)) for letter in "GEA"]
    for bar in (0, 1):
        boat.part(f"T{bar}", "dc_dc_charger", input_v=12, output_v=12, efficiency=0.9,
                  rated_output_a=rng.choice((5, 30, 100)))
        parts += [(f"T{bar}.in+", bar), (f"T{bar}.out+", bar + 1)]
    for number, (terminal, bar) in enumerate(parts, 1):
        boat.wire(f"W{number}", terminal, f"X{bar}.s{number}",
                  rng.choice(("2.5 mm2", "35 mm2")), length_m=rng.choice((0.2, 3, 20)))
    return boat.diagram()


def _damaged_part(part: Component, rng: random.Random) -> Component:
    left: dict[str, Any] = {name: value for name, value in part.parameters.items()
                            if name in SHAPE or rng.random() > 0.3}
    for name, value in left.items():
        if isinstance(value, float) and rng.random() < 0.1:
            left[name] = 0.0
    return changed(part, parameters=left)


def _damaged_wire(wire: Conductor, rng: random.Random) -> Conductor:
    length = rng.choice((wire.length_m, wire.length_m, wire.length_m, None, 0.0))
    return changed(wire, length_m=length, size=rng.choice((wire.size, wire.size, None)))


def analyses(diagram: Diagram) -> dict[str, Any]:
    """Return all answers about a boat, each got in bounded time."""
    survey = Survey(diagram)
    names = survey.graph.names
    targets = list(diagram.components)[:2]
    asked = {
        "operating point": lambda: survey.operating_point(survey.state()),
        "design currents": lambda: design_currents(survey),
        "charging volts": lambda: charging_volts(survey),
        "isolation": lambda: [survey.isolation(target) for target in targets],
        "fault currents": lambda: [
            fault_current(survey, name) for name in names[::max(1, len(names) // 3)]],
    }
    answers = {}
    for name, ask in asked.items():
        began = time.process_time()
        answers[name] = ask()
        assert time.process_time() - began < MOST_S, name
    return answers


def is_finite(value: Any) -> bool:
    if isinstance(value, float):
        return math.isfinite(value) and abs(value) < LARGEST
    if isinstance(value, Mapping):
        return all(map(is_finite, value.values()))
    if isinstance(value, list | tuple):
        return all(map(is_finite, value))
    if is_dataclass(value):
        return all(is_finite(getattr(value, item.name)) for item in fields(value))
    return True


@pytest.mark.parametrize("batch", range(BATCHES))
@pytest.mark.parametrize("boat", [
    grown_boat, generated_boat, damaged_boat, converting_boat])
@pytest.mark.filterwarnings("error")
def test_every_answer_about_a_random_boat_is_finite_and_the_same_twice(boat, batch):
    for seed in range(batch * EACH, (batch + 1) * EACH):
        diagram = boat(seed)
        found = analyses(diagram)
        for name, answer in found.items():
            assert is_finite(answer), (seed, name)
        assert repr(analyses(diagram)) == repr(found), seed
        point = found["operating point"]
        total_w = sum(abs(part.power_w) for part in point.parts.values())
        assert point.settled, seed
        assert abs(point.balance_w) <= RELATIVE * max(1.0, total_w), seed
        for problem in point.problems:
            assert problem.kind and problem.ids and problem.sentence, seed


def test_no_current_is_told_that_does_not_balance():
    """Three systems in a circle of converters and sources, of which no state was found."""
    survey = Survey(converting_boat(160))
    point = survey.duty.points[CHARGING]
    assert not point.settled and point.residual_a > 0.1
    assert not point.conductors and not point.parts
    assert CHARGING not in {found.case for found in survey.duty.conductors.values()}
    assert "unsettled" in {problem.kind for problem in point.problems}
    assert check(survey, strict=True) is not None
