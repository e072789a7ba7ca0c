"""What a survey takes over from the one before an edit changes no answer.

Two ways: facts of the wiring are the same with every figure of conductors and parts forgotten,
and hold no edge, with which a device's figures would come; and the report after an edit is the one
that a fresh survey gives.
"""

from __future__ import annotations

import pickle
import random
from collections.abc import Mapping

import pytest

from model.diagram import Component, Conductor, Diagram
from model.edits import apply, changed, setting
from model.frozen_map import FrozenMap
from model.graph import Edge, TerminalGraph, _joint
from model.kinds import kind_of
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


def figures(part: Component) -> dict[str, float]:
    """What a part's parameters measure, but volts."""
    measures = {field.name for field in kind_of(part).fields
                if field.type == "number" and field.unit != "V"}
    return {name: value for name, value in part.parameters.items() if name in measures}


def blank(part: Component) -> Component:
    """The part without figures, words or a place on the sheet."""
    kept = part.parameters.with_items((name, None) for name in figures(part))
    return part.replaced(parameters=kept, known=FrozenMap(), extra=FrozenMap(), at=None, turn=0,
                         mirrored=False, label_at=None, name="", designation="",
                         position_note="", warning_text="")


def forgotten(diagram: Diagram) -> Diagram:
    return diagram.replaced(
        conductors=FrozenMap({item: bare(wire) for item, wire in diagram.conductors.items()}),
        components=FrozenMap({item: blank(part) for item, part in diagram.components.items()}))


def edges_in(value: object) -> bool:
    """Whether an edge is kept anywhere in a fact."""
    if isinstance(value, Edge):
        return True
    if isinstance(value, dict):
        return any(map(edges_in, (*value.keys(), *value.values())))
    if isinstance(value, list | tuple | set | frozenset):
        return any(map(edges_in, value))
    names = getattr(value, "__struct_fields__", None) or getattr(value, "__slots__", ())
    return any(edges_in(getattr(value, name)) for name in (*names, *getattr(value, "__dict__", ())))


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


def test_facts_of_the_wiring_need_no_figure_and_hold_no_edge():
    for diagram in diagrams():
        known, unknown = (Survey(one).as_meant() for one in (diagram, forgotten(diagram)))
        check(known)
        check(unknown)
        facts = {**known.graph._of_wiring, **known.graph._by_terminal}
        others = {**unknown.graph._of_wiring, **unknown.graph._by_terminal}
        shared = facts.keys() & others.keys()
        assert len(shared) > 20
        for name in shared:
            assert plain(facts[name]) == plain(others[name]), name
            assert not edges_in(facts[name]), name


@pytest.mark.parametrize("seed", [*range(6), 5056])
def test_a_report_after_edits_is_the_one_of_a_fresh_survey(seed):
    rng = random.Random(seed)
    diagram = rng.choice(diagrams())
    survey = Survey(diagram)
    check(survey)
    for _ in range(6):
        diagram = edited(diagram, rng)
        survey = Survey(diagram, survey)
        assert check(survey) == check(Survey(diagram))


@pytest.mark.parametrize("seed", range(4))
def test_a_report_is_a_fresh_one_s_after_conductors_and_parts_went_and_came(seed):
    rng = random.Random(seed)
    whole = diagram = rng.choice(diagrams())
    survey = Survey(diagram)
    check(survey)
    for _ in range(5):
        diagram = with_fewer(diagram, rng) if rng.random() < 0.5 else whole
        survey = Survey(diagram, survey)
        assert check(survey) == check(Survey(diagram))


@pytest.mark.parametrize("seed", range(6))
def test_what_is_kept_by_terminal_is_fresh_after_things_were_drawn_and_taken_away(seed):
    rng = random.Random(seed)
    diagram = rng.choice(diagrams())
    survey = Survey(diagram)
    check(survey)
    taken_over = 0
    for _ in range(4):
        make = rng.choice((without_some, with_one_beside, with_a_part_let_in, with_another_order))
        diagram = make(diagram, rng)
        survey, fresh = Survey(through_a_pipe(diagram), survey), Survey(diagram)
        taken_over += bool(survey.graph._rows_before)
        assert check(survey) == check(fresh)
        assert joined(survey.graph) == joined(fresh.graph)
        rows, others = survey.as_meant().graph._by_terminal, fresh.as_meant().graph._by_terminal
        assert rows == others
    assert taken_over


def without_some(diagram: Diagram, rng: random.Random) -> Diagram:
    gone = rng.sample(sorted(diagram.conductors), 2)
    return diagram.replaced(conductors=FrozenMap({
        item: wire for item, wire in diagram.conductors.items() if item not in gone}))


def with_one_beside(diagram: Diagram, rng: random.Random) -> Diagram:
    wire = diagram.conductors[rng.choice(sorted(diagram.conductors))]
    item = free_id(diagram.conductors, "W")
    return apply(diagram, setting(diagram, "Draw", changed(wire, id=item, path=None)))


def with_a_part_let_in(diagram: Diagram, rng: random.Random) -> Diagram:
    """The diagram with a fuse in a conductor: its end changes, and what is left goes on behind."""
    wire = rng.choice([one for one in diagram.conductors.values() if one.cores == ("+",)])
    fuse = Component(id=free_id(diagram.components, "F"), kind="fuse")
    return apply(diagram, setting(
        diagram, "Fit", fuse,
        changed(wire, finish=changed(wire.finish, component=fuse.id, terminal="a"), path=None),
        changed(wire, id=free_id(diagram.conductors, "W"), path=None,
                start=changed(wire.start, component=fuse.id, terminal="b"))))


def with_another_order(diagram: Diagram, rng: random.Random) -> Diagram:
    wires = list(diagram.conductors.items())
    rng.shuffle(wires)
    return diagram.replaced(conductors=FrozenMap(dict(wires)))


def free_id(taken: Mapping[str, object], letter: str) -> str:
    return next(f"{letter}{number}" for number in range(900, 999)
                if f"{letter}{number}" not in taken)


def joined(graph: TerminalGraph) -> list[list[tuple[object, ...]]]:
    return [[(after, edge.index, *_joint(edge)) for after, edge in row]
            for row in graph.neighbours]


def with_fewer(diagram: Diagram, rng: random.Random) -> Diagram:
    """The diagram without three conductors, and without a part that nothing leads to any more."""
    gone = set(rng.sample(sorted(diagram.conductors), 3))
    left = {item: wire for item, wire in diagram.conductors.items() if item not in gone}
    used = {end.component for wire in left.values() for end in wire.ends()}
    used |= {part.mounted_on for part in diagram.components.values() if part.mounted_on}
    loose = next((item for item in diagram.components if item not in used), "")
    return diagram.replaced(
        conductors=FrozenMap(left), components=diagram.components.with_item(loose, None))


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
        lambda: changed(part, at=(33.0, 44.0)),
        lambda: another_figure(part, rng),
        lambda: another_figure(part, rng),
    )
    return apply(diagram, setting(diagram, "Edit", rng.choice(makers)()))


def another_figure(part: Component, rng: random.Random) -> Component:
    """The part with one of its figures smaller or unknown."""
    if not figures(part):
        return part
    name, value = rng.choice(sorted(figures(part).items()))
    factor = rng.choice((0.5, 0.9, None))
    return changed(part, parameters=part.parameters.with_item(
        name, None if factor is None else value * factor))


def through_a_pipe(diagram: Diagram) -> Diagram:
    """The diagram as the process of the rules gets it: equal, and no part of it the same."""
    sent: Diagram = pickle.loads(pickle.dumps(diagram))
    return sent


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
    fuse = diagram.components["F10"]
    larger = diagram.replaced(components={
        **diagram.components, "F10": fuse.replaced(
            parameters=fuse.parameters.with_item("rated_a", 35.0))})
    for sent in (lambda value: value, through_a_pipe):
        assert graph.after(sent(longer))._of_wiring is graph._of_wiring
        assert graph.after(sent(longer))._of_devices is graph._of_devices
        assert graph.after(sent(larger))._of_wiring is graph._of_wiring
        assert graph.after(sent(larger))._of_devices is not graph._of_devices
    assert graph.after(other)._of_wiring is not graph._of_wiring
    assert graph.after(gone)._of_wiring is not graph._of_wiring
