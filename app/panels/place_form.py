"""The form of a place: its name, its environment, how warm it gets, and the parts in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, get_args, get_type_hints

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.drafting.places import place_field_edit
from app.panels.fields import FieldRow, Setter
from app.panels.form_texts import FormColumn, plain, section, titled
from app.panels.form_words import linked
from app.words import _
from model.diagram import Diagram, Known, Place
from model.edits import Edit
from model.kinds.record import Field

SHOWN_PARTS = 40


def _environments() -> tuple[str, ...]:
    """Return what a place may be, as the record of a place says it."""
    choices, _nothing = get_args(get_type_hints(Place)["environment"])
    return get_args(choices)


PLACE_FIELDS = (
    Field("name", "Name", "text"),
    Field("environment", "What it is", "choice", choices=_environments(),
          sentence="It sets the tint, and what checks ask of conductors and parts there."),
    Field("ambient_c", "Warmest there", "number", "C", minimum=-60),
    Field("vented", "Vented to the open air", "yes_no"),
    Field("reachable", "Can be reached", "yes_no"),
)


class PlaceForm(FormColumn):
    """The form of one place; `rows` by the field's name."""

    def __init__(
        self, diagram: Diagram, item: str, do: Callable[[Edit], str | None],
        link: Callable[[str], QWidget],
    ) -> None:
        super().__init__()
        self._diagram, self._item, self._do = diagram, item, do
        self.rows: dict[str, FieldRow] = {}
        place = diagram.places[item]
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(7)
        parts = [part.id for part in diagram.components.values() if part.place == item]
        titled(column, place.name or item, _("Place"), _(
            "Drag its edge or name to move it with its parts, a handle to size it."))
        for field in PLACE_FIELDS:
            held = getattr(place, field.name)
            row = FieldRow(field, held if held != "" else None, None, self._setter(field))
            self.rows[field.name] = row
            column.addWidget(row)
        section(column, _("{count} parts belong to it").format(count=len(parts)))
        for part in parts[:SHOWN_PARTS]:
            column.addWidget(link(linked(diagram, part)))
        if len(parts) > SHOWN_PARTS:
            column.addWidget(plain(_("and {count} more").format(count=len(parts) - SHOWN_PARTS)))

    def _setter(self, field: Field) -> Setter:
        def put(value: Any, _known: Known | None) -> str | None:
            if value is None and field.name == "name":
                value = ""
            return self._do(place_field_edit(self._diagram, self._item, field.name, value))
        return put
