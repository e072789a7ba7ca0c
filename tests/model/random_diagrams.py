"""Random diagrams and random valid edits, for the properties every diagram must keep."""

from __future__ import annotations

import random
from typing import Any

from model.diagram import BoatInfo, Component, Conductor, Diagram, End, Mode, Place, Size
from model.edits import Edit, apply, changed, put, setting
from model.errors import ModelError
from model.kinds import catalogue, kind_of
from model.kinds.record import Field


def random_value(field: Field, rng: random.Random) -> Any:
    """Return a value that fits the field."""
    if field.type == "number":
        return round(rng.uniform(max(field.minimum or 0, 0), field.maximum or 500), 2)
    if field.type == "count":
        return rng.randint(int(field.minimum or 0), int(field.maximum or 5))
    if field.type == "choice":
        return rng.choice(field.choices)
    if field.type == "yes_no":
        return rng.random() < 0.5
    if field.type == "text":
        return rng.choice(["", "port side", "größer ≥ 2", "a\tb\n\"c\"", "12 V"])
    return None


def random_component(item: str, rng: random.Random) -> Component:
    """Return a component of a random kind with some random fields."""
    kind = rng.choice(list(catalogue().values()))
    parameters = {}
    for field in kind.fields:
        value = random_value(field, rng)
        if value is not None and rng.random() < 0.3:
            parameters[field.name] = value
    return Component(
        id=item, kind=kind.slug, designation=item, parameters=parameters,
        at=(rng.uniform(0, 400), rng.uniform(0, 280)) if rng.random() < 0.7 else None,
        turn=rng.choice([0, 90, 180, 270]), name=rng.choice(["", "Name", "π × ½"]),
    )


def random_conductor(item: str, diagram: Diagram, rng: random.Random) -> Conductor | None:
    """Return a conductor between two random terminals, or None when there are too few."""
    if len(diagram.components) < 2:
        return None
    ends = []
    for component in rng.sample(sorted(diagram.components.values(), key=lambda c: c.id), 2):
        ports = kind_of(component).ports(component.parameters)
        ends.append(End(component=component.id, terminal=rng.choice(ports).id))
    fields: dict[str, Any] = {"start": ends[0], "finish": ends[1]}
    if rng.random() < 0.6:
        fields["length_m"] = round(rng.uniform(0, 20), 2)
    if rng.random() < 0.6:
        fields["size"] = Size(standard="mm2", text=rng.choice(["2.5", "16", "70"]))
    return Conductor(id=item, cores=(rng.choice(["+", "-", "signal", "L"]),), **fields)


def random_edit(diagram: Diagram, rng: random.Random) -> Edit:
    """Return a random edit; it may turn out not to fit the diagram."""
    number = rng.randint(1, 30)
    choice = rng.random()
    if choice < 0.35:
        return setting(diagram, "Place part", random_component(f"C{number}", rng))
    if choice < 0.6:
        conductor = random_conductor(f"W{number}", diagram, rng)
        return setting(diagram, "Connect", *([conductor] if conductor else []))
    if choice < 0.7 and diagram.components:
        item = rng.choice(sorted(diagram.components))
        gone = [put(diagram, "conductors", c.id, None) for c in diagram.conductors.values()
                if item in (c.start.component, c.finish.component)]
        return Edit("Delete", (*gone, put(diagram, "components", item, None)))
    if choice < 0.8 and diagram.components:
        component = diagram.components[rng.choice(sorted(diagram.components))]
        moved = changed(component, at=(rng.uniform(0, 400), rng.uniform(0, 200)))
        return setting(diagram, "Move", moved, merge_key=rng.choice(["", component.id]))
    if choice < 0.9:
        return setting(diagram, "Place", Place(id=f"P{number}", name="Locker"),
                       Mode(id=f"M{number}", name="At anchor"))
    return setting(diagram, "Boat", BoatInfo(name=f"Boat {number}", length_m=number))


def grown(rng: random.Random, steps: int) -> tuple[Diagram, list[Edit]]:
    """Return a diagram made by random edits, and the edits that did fit."""
    diagram, done = Diagram(), []
    for _ in range(steps):
        edit = random_edit(diagram, rng)
        try:
            diagram = apply(diagram, edit)
        except ModelError:
            continue
        done.append(edit)
    return diagram, done
