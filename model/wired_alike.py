"""What of a diagram says how things are wired, and what is free to differ: figures and words."""

from __future__ import annotations

from functools import cache

from model.diagram import Component, Conductor, Diagram
from model.kinds import catalogue

FREE_OF_WIRING = frozenset({
    "designation", "name", "position_note", "known", "warning_text", "extra", "at", "turn",
    "mirrored", "label_at"})
_PART_OF_WIRING = tuple(
    name for name in Component.__struct_fields__
    if name not in FREE_OF_WIRING and name != "parameters")


def is_wired_alike(one: Diagram, other: Diagram) -> bool:
    """Say whether two diagrams have parts that differ in figures at most, joined alike."""
    same = (is_same_boat(one, other) and list(one.components) == list(other.components)
            and list(one.conductors) == list(other.conductors))
    return same and all(
        a is b or wiring(a) == wiring(b)
        for a, b in zip(one.conductors.values(), other.conductors.values(), strict=True)
    ) and all(
        a is b or _part(a) == _part(b)
        for a, b in zip(one.components.values(), other.components.values(), strict=True))


def is_same_boat(one: Diagram, other: Diagram) -> bool:
    """Say whether two diagrams have the same boat, systems and modes."""
    return one.boat == other.boat and one.systems == other.systems and one.modes == other.modes


def begins_with_parts(one: Diagram, other: Diagram) -> bool:
    """Say whether the parts of one diagram come first in another of the same boat, unchanged."""
    return (is_same_boat(one, other) and len(one.components) <= len(other.components)
            and all(a is b or a == b for a, b in zip(
                one.components.values(), other.components.values(), strict=False)))


def joined_otherwise(one: Diagram, other: Diagram) -> frozenset[str] | None:
    """Return the conductors that are in one of two diagrams only or have other ends, cores or
    purpose; None where the others stand in another order.
    """
    wires, others = one.conductors, other.conductors
    found = frozenset(item for item in (*wires, *others) if item not in wires
                      or item not in others or wiring(wires[item]) != wiring(others[item]))
    left, right = ([item for item in ids if item not in found] for ids in (wires, others))
    return found if left == right else None


def wiring(wire: Conductor) -> tuple[object, ...]:
    """Return what of a conductor says how things are wired."""
    return (wire.cores, wire.purpose, *((end.component, end.terminal) for end in wire.ends()))


def _part(part: Component) -> tuple[object, ...]:
    """Return what of a part says how it joins things and what it is in the network."""
    figures = measures(part.kind)
    return (*(getattr(part, name) for name in _PART_OF_WIRING),
            {name: value for name, value in part.parameters.items() if name not in figures})


@cache
def measures(kind: str) -> frozenset[str]:
    """Return the fields of a kind that hold a measure, volts apart, which tell systems apart."""
    return frozenset(field.name for field in catalogue()[kind].fields
                     if field.type == "number" and field.unit != "V")
