"""Conductors that are still being traced: what depends on where they go cannot be told yet.

Only a drawing of the boat as she was found has them. In one that is planned or as built an
untraced end is a loose end like any other.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.diagram import Conductor, Diagram
from model.kinds import kind_of
from rules.ordering import natural
from rules.rule import Answer, Fault, Missing

UNTRACED = "untraced_end"


def is_tracing(diagram: Diagram) -> bool:
    """Say whether the boat is still being drawn as she was found."""
    return diagram.boat.status == "as_found"


def untraced(diagram: Diagram) -> dict[str, str]:
    """Return the conductors that are being traced, each with its end that is not known yet.

    The end is named as a field: "W12.to".
    """
    if not is_tracing(diagram):
        return {}
    return {wire.id: f"{wire.id}.{side}" for wire in diagram.conductors.values()
            for side, end in (("from", wire.start), ("to", wire.finish))
            if diagram.components[end.component].kind == UNTRACED}


def told_once_traced(answer: Answer, diagram: Diagram) -> Answer:
    """Return a fault as what cannot be told when it speaks of something whose conductor is lost."""
    if not isinstance(answer, Fault):
        return answer
    lost = untraced(diagram)
    concerned = {item for wire in lost for item in _about(diagram, diagram.conductors[wire])
                 } & set(answer.where) if lost else frozenset()
    if not concerned:
        return answer
    fields = (lost[wire] for wire in sorted(lost, key=natural)
              if concerned & set(_about(diagram, diagram.conductors[wire])))
    return Missing(tuple(fields), answer.where)


def _about(diagram: Diagram, wire: Conductor) -> Iterable[str]:
    """Return a conductor and what it is on, but for bars and panels: those have many others."""
    parts = (end.component for end in wire.ends())
    return (wire.id, *(part for part in parts
                       if kind_of(diagram.components[part]).role != "distribution"))
