"""What a survey takes over from the one before an edit changes no answer.

Two ways: facts of the wiring are the same with every figure of the conductors forgotten; and the
report after an edit is the one that a fresh survey gives.
"""

from __future__ import annotations

import random

import pytest

from model.diagram import Conductor, Diagram
from model.edits import apply, changed, setting
from model.storage import load
from model.survey import Survey
from rules.engine import check
from tests.bench.figures import DEMO
from tests.boats import BOATS
from tests.model.random_diagrams import grown

WIRING = ("id", "start", "finish", "cores", "purpose")
LENGTHS_M, SIZES = (0.1, 0.4, 2.0, 11.0), ("2.5", "10", "50")


def bare(wire: Conductor) -> Conductor:
    """The conductor with nothing but how it is wired."""
    plain = Conductor(id=wire.id, start=wire.start, finish=wire.finish)
    return changed(plain, cores=wire.cores, purpose=wire.purpose)


def forgotten(diagram: Diagram) -> Diagram:
    return diagram.replaced(conductors={
        item: bare(wire) for item, wire in diagram.conductors.items()})


def plain(value: object) -> object:
    """A fact as something that compares by value."""
    if isinstance(value, dict):
        return {key: plain(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    if hasattr(value, "nodes") and hasattr(value, "posts"):
        return (value.posts, value.nodes)
    if hasattr(value, "feeds") and hasattr(value, "largest"):
        return (value.feeds, value.largest, value.downstream)
    return value


def diagrams() -> list[Diagram]:
    rng = random.Random(5)
    found = [load(DEMO), *(boat() for boat in BOATS.values()),
             *(grown(rng, 60)[0] for _ in range(12))]
    return [diagram for diagram in found if diagram.conductors]


def test_facts_of_the_wiring_need_no_figure_of_a_conductor():
    for diagram in diagrams():
        known, blank = Survey(diagram), Survey(forgotten(diagram))
        check(known)
        check(blank)
        facts, others = known.graph._of_wiring, blank.graph._of_wiring
        shared = facts.keys() & others.keys()
        assert len(shared) > 20
        for name in shared:
            assert plain(facts[name]) == plain(others[name]), name


@pytest.mark.parametrize("seed", range(6))
def test_a_report_after_edits_is_the_one_of_a_fresh_survey(seed):
    rng = random.Random(seed)
    diagram = rng.choice(diagrams())
    survey = Survey(diagram)
    check(survey)
    for _ in range(6):
        diagram = edited(diagram, rng)
        survey = Survey(diagram, survey)
        assert check(survey) == check(Survey(diagram))


def edited(diagram: Diagram, rng: random.Random) -> Diagram:
    """A length, a size, a purpose, an end or a field of a part changed."""
    wire = diagram.conductors[rng.choice(sorted(diagram.conductors))]
    part = diagram.components[rng.choice(sorted(diagram.components))]
    size = next((w.size for w in diagram.conductors.values() if w.size is not None), None)
    makers = (
        lambda: changed(wire, length_m=rng.choice(LENGTHS_M)),
        lambda: changed(wire, size=size and size.replaced(
            standard="mm2", text=rng.choice(SIZES))),
        lambda: changed(wire, length_m=None),
        lambda: changed(wire, purpose=rng.choice(("power", "control", "bonding"))),
        lambda: changed(part, stored=rng.choice((True, None))),
        lambda: changed(part, name="Another"),
    )
    return apply(diagram, setting(diagram, "Edit", rng.choice(makers)()))


def test_another_wiring_is_not_taken_over():
    diagram = load(DEMO)
    graph = Survey(diagram).graph
    wire = next(iter(diagram.conductors.values()))
    longer = diagram.replaced(conductors={
        **diagram.conductors, wire.id: changed(wire, length_m=9.0)})
    other = diagram.replaced(conductors={
        **diagram.conductors, wire.id: changed(wire, purpose="bonding")})
    gone = diagram.replaced(conductors={
        item: one for item, one in diagram.conductors.items() if item != wire.id})
    assert graph.carried(longer) is not None
    assert graph.carried(other) is None
    assert graph.carried(gone) is None
