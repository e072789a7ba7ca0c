"""The form of many chosen things: the fields all have in common, set for all of them at once.

Where they differ the field says "various"; a question mark makes it unknown for all.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import reduce
from typing import Any

from msgspec.structs import replace
from PySide6.QtWidgets import QComboBox, QLineEdit, QToolButton, QVBoxLayout

from app.drafting.many import parts_field_edit, wires_field_edit
from app.panels.both_systems import in_boats_unit
from app.panels.fields import UNKNOWN, FieldRow, Setter
from app.panels.form_fields import (
    GENERAL_FIELDS,
    MORE_GENERAL_FIELDS,
    WIRE_FIELDS,
    read_size,
    size_shown,
)
from app.panels.form_texts import FormColumn, section, titled
from app.words import N_, _
from model.diagram import Component, Diagram, Known
from model.edits import Edit
from model.kinds import kind_of
from model.kinds.record import Field

DO = Callable[[Edit], str | None]
VARIOUS = N_("various")
SHOWN_TYPES = ("number", "count", "text", "choice", "yes_no")
FIRST_WIRE_FIELDS = 5
_OF_ONE = frozenset({"designation", "label"})


class ManyRow(FieldRow):
    """A field of many things. `titles` are words for choices that are ids."""

    def __init__(
        self, field: Field, value: Any, known: Known | None, setter: Setter,
        is_various: bool, titles: Mapping[str, str],
    ) -> None:
        self._is_various, self._titles = is_various, titles
        super().__init__(field, value, known, setter)
        if is_various and isinstance(self.editor, QLineEdit):
            self.editor.setPlaceholderText(_(VARIOUS))
            self.editor.setToolTip(
                _("They differ. Typing sets all; {sign} makes it unknown.").format(sign=UNKNOWN))

    def _choices(self) -> QComboBox:
        box = super()._choices()
        for index in range(box.count()):
            title = self._titles.get(box.itemData(index) or "")
            if title:
                box.setItemText(index, title)
        if self._is_various:
            box.setPlaceholderText(_(VARIOUS))
            box.setCurrentIndex(-1)
        return box


class ManyParts(FormColumn):
    """The form. `rows` are by "parts.NAME" and "wires.NAME"."""

    def __init__(
        self, diagram: Diagram, selection: Sequence[str], do: DO, is_open: bool,
        toggle_more: Callable[[], None],
    ) -> None:
        super().__init__()
        self._diagram, self._do = diagram, do
        self._is_open, self._toggle_more = is_open, toggle_more
        self.rows: dict[str, FieldRow] = {}
        self._parts = [diagram.components[item] for item in selection
                       if item in diagram.components]
        self._wires = [diagram.conductors[item] for item in selection
                       if item in diagram.conductors]
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(7)
        titled(column, _("{count} chosen").format(count=len(selection)), self._counted(),
               _("What is typed here is set for all of them."))
        if self._parts:
            self._add_parts(column)
        if self._wires:
            self._add_wires(column)

    def _counted(self) -> str:
        """Return what is chosen in words: "2 × Fuse, 3 × Conductor"."""
        titles = Counter(kind_of(part).title for part in self._parts)
        if self._wires:
            titles[N_("Conductor")] = len(self._wires)
        return ", ".join(f"{count} × {_(title)}" for title, count in titles.items())

    def _add_parts(self, column: QVBoxLayout) -> None:
        section(column, _("Parts") if self._wires else _("All of them"))
        first, rest = common_fields(self._parts)
        places = {place.id: place.name or place.id for place in self._diagram.places.values()}
        if places:
            first = [*first, Field("place", "Place", "choice", choices=tuple(places))]
        for field in first:
            self._part_row(column, field, places)
        self._add_more(column, rest, lambda field: self._part_row(column, field, places))

    def _add_wires(self, column: QVBoxLayout) -> None:
        section(column, _("Conductors") if self._parts else _("All of them"))
        shown = [field for field in WIRE_FIELDS if field.name not in _OF_ONE]
        for field in shown[:FIRST_WIRE_FIELDS]:
            self._wire_row(column, field)
        self._add_more(column, shown[FIRST_WIRE_FIELDS:],
                       lambda field: self._wire_row(column, field))

    def _add_more(
        self, column: QVBoxLayout, rest: Sequence[Field], add: Callable[[Field], None]
    ) -> None:
        if not rest:
            return
        button = QToolButton()
        button.setObjectName("family")
        button.setText(_("{count} more fields in common").format(count=len(rest)))
        button.clicked.connect(self._toggle_more)
        column.addWidget(button)
        for field in rest if self._is_open else ():
            add(field)

    def _part_row(self, column: QVBoxLayout, field: Field, titles: Mapping[str, str]) -> None:
        is_own = all(kind_of(part).field(field.name) is not None for part in self._parts)
        values = [part.parameters.get(field.name) if is_own else getattr(part, field.name) or None
                  for part in self._parts]
        knowns = {part.known.get(field.name) for part in self._parts}
        ids = [part.id for part in self._parts]

        def put(value: Any, known: Known | None) -> str | None:
            if value is None and field.type == "text" and not is_own:
                value = ""
            return self._do(parts_field_edit(self._diagram, ids, field, value, known))

        self._row(column, f"parts.{field.name}", field, values, knowns, put, titles)

    def _wire_row(self, column: QVBoxLayout, field: Field) -> None:
        is_size = field.name == "size"
        values = [size_shown(wire.size) or None if is_size else getattr(wire, field.name)
                  for wire in self._wires]
        knowns = {wire.known.get(field.name) for wire in self._wires}
        ids = [wire.id for wire in self._wires]

        def put(value: Any, known: Known | None) -> str | None:
            if is_size and value is not None:
                value, problem = read_size(value)
                if problem is not None:
                    return problem
            return self._do(wires_field_edit(self._diagram, ids, field, value, known))

        self._row(column, f"wires.{field.name}", field, values, knowns, put, {})

    def _row(
        self, column: QVBoxLayout, key: str, field: Field, values: Sequence[Any],
        knowns: Iterable[Known | None], put: Setter, titles: Mapping[str, str],
    ) -> None:
        is_various = any(value != values[0] for value in values)
        known = set(knowns)
        told, shown, put = in_boats_unit(
            self._diagram, field, None if is_various else values[0], put)
        row = ManyRow(told, shown, next(iter(known)) if len(known) == 1 else None, put,
                      is_various, titles)
        self.rows[key] = row
        column.addWidget(row)


def common_fields(parts: Sequence[Component]) -> tuple[list[Field], list[Field]]:
    """Return the fields that all parts have, those that come first and the rest.

    A choice offers what all of them may be.
    """
    kinds = {part.kind: kind_of(part) for part in parts}
    fields = [{field.name: field for field in kind.fields
               if not field.drawing and field.type in SHOWN_TYPES} for kind in kinds.values()]
    names = reduce(lambda a, b: a & b, (set(own) for own in fields))
    common = []
    for field in fields[0].values():
        others = [own[field.name] for own in fields if field.name in names]
        if field.name not in names or any(
                (other.type, other.unit) != (field.type, field.unit) for other in others):
            continue
        choices = tuple(choice for choice in field.choices
                        if all(choice in other.choices for other in others))
        if field.type != "choice" or choices:
            common.append(replace(field, choices=choices,
                                  first=any(other.first for other in others)))
    general = [field for field in (*GENERAL_FIELDS, *MORE_GENERAL_FIELDS)
               if field.name not in _OF_ONE and not any(field.name in own for own in fields)]
    return ([field for field in common if field.first],
            [*(field for field in common if not field.first), *general])
