"""Questions that only eyes can answer, in the form of the part or conductor they are about."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any

from app.drafting.parts import field_edit
from app.drafting.wires import wire_field_edit
from app.panels.fields import Setter
from app.panels.form_fields import WIRE_FIELDS
from model.diagram import Diagram, Known
from model.edits import Edit
from model.kinds import kind_of
from model.kinds.record import Field

if TYPE_CHECKING:
    from rules.looking import Question


def answer_field(diagram: Diagram, question: Question) -> Field | None:
    """Return the field that answers a question; None when it stands in no form."""
    part = diagram.components.get(question.item)
    if part is not None:
        return kind_of(part).field(question.field)
    return next((field for field in WIRE_FIELDS if field.name == question.field), None)


def answer_setter(
    diagram: Diagram, question: Question, do: Callable[[Edit], str | None]
) -> Setter:
    """Return what writes an answer down."""
    def put(value: Any, known: Known | None) -> str | None:
        if question.item in diagram.components:
            return do(field_edit(diagram, question.item, question.field, value, known))
        field = answer_field(diagram, question)
        return do(wire_field_edit(diagram, question.item, question.field, value, known,
                                  field.title if field is not None else ""))
    return put


def own_questions(questions: Iterable[Question], items: Iterable[str]) -> tuple[Question, ...]:
    """Return the questions about some parts and conductors."""
    wanted = set(items)
    return tuple(question for question in questions if question.item in wanted)
