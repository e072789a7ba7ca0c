"""The list of what to look at aboard: questions that only eyes can answer, made from the drawing.

A rule of this sort asks for a field; the question goes once the field is answered, and a bad
answer becomes a finding.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from model.diagram import Diagram
from rules.ordering import natural
from rules.rule import BookRule, Missing
from rules.wording import designation, place_name, with_name

NO_PLACE = "Place not noted"


@dataclass(frozen=True, slots=True)
class Question:
    """Something to look at aboard: what to look for, at which item, and the field it answers."""

    rule: str
    number: str
    topic: str
    item: str
    field: str
    text: str
    place: str

    def as_json(self) -> dict[str, Any]:
        """Return the question as JSON values."""
        return {"rule": self.rule, "number": self.number, "place": self.place,
                "field": f"{self.item}.{self.field}", "question": self.text}


def asked(rule: BookRule, missing: Iterable[Missing], diagram: Diagram) -> Iterator[Question]:
    """Yield the questions of a rule that are not answered yet, each once."""
    record = rule.record
    fields = dict.fromkeys(field for one in missing for field in one.fields)
    for path in fields:
        item, _, field = path.rpartition(".")
        text = record.questions[field].format(item=told(diagram, item))
        yield Question(record.slug, record.number, record.topic, item, field, text,
                       place_of(diagram, item))


def by_place(questions: Iterable[Question]) -> list[tuple[str, list[Question]]]:
    """Return the questions grouped for one walk through the boat: by place, then by item."""
    groups: dict[str, list[Question]] = {}
    for question in sorted(questions, key=lambda q: (natural(q.item), q.number)):
        groups.setdefault(question.place, []).append(question)
    return sorted(groups.items(), key=lambda group: (group[0] == NO_PLACE, group[0]))


def told(diagram: Diagram, item: str) -> str:
    """Return what to look for: a part with its name, a conductor with what it joins."""
    wire = diagram.conductors.get(item)
    if wire is None:
        return with_name(diagram, item)
    ends = " to ".join(designation(diagram, end.component) for end in wire.ends())
    return f"{designation(diagram, item)} ({ends})"


def place_of(diagram: Diagram, item: str) -> str:
    """Return where an item is: its place, else the note; for a conductor where it starts."""
    if item in diagram.places:
        return place_name(diagram, item)
    wire = diagram.conductors.get(item)
    part = diagram.components.get(wire.start.component if wire is not None else item)
    if part is None:
        return NO_PLACE
    if part.place in diagram.places:
        return place_name(diagram, str(part.place))
    return part.position_note or NO_PLACE
