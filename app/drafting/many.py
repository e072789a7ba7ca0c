"""The same field of many parts and conductors at once, as one step."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from app.drafting.next_part import Figures
from app.drafting.parts import set_title
from app.words import _, within
from model.diagram import Component, Conductor, Diagram, Known
from model.edits import Edit, changed, setting
from model.kinds import kind_of
from model.kinds.record import Field


def parts_field_edit(
    diagram: Diagram, items: Iterable[str], field: Field, value: Any, known: Known | None = None
) -> Edit:
    """Return the edit that sets one field of many parts; None makes it unknown."""
    chosen = sorted(items)
    values = [_with(diagram.components[item], field.name, value, known) for item in chosen]
    return setting(diagram, _label(within(field.title), chosen, "parts"), *values,
                   merge_key=f"{','.join(chosen)}.{field.name}")


def _with(component: Component, name: str, value: Any, known: Known | None) -> Component:
    if kind_of(component).field(name) is None:
        made: Component = changed(component, **{name: value})
        return made
    how = component.known.with_item(name, known if value is not None else None)
    made = changed(component, parameters=component.parameters.with_item(name, value), known=how)
    return made


def wires_field_edit(
    diagram: Diagram, items: Iterable[str], field: Field, value: Any, known: Known | None = None
) -> Edit:
    """Return the edit that sets one field of many conductors; None makes it unknown."""
    chosen = sorted(items)
    how = known if value is not None else None
    values = [_wire_with(diagram.conductors[item], {field.name: value},
                         {field.name: how}) for item in chosen]
    return setting(diagram, _label(within(field.title), chosen, "conductors"), *values,
                   merge_key=f"{','.join(chosen)}.{field.name}")


def figures_edit(diagram: Diagram, items: Iterable[str], figures: Figures) -> Edit:
    """Return the edit that gives conductors a size, a length or both."""
    chosen, fields = sorted(items), figures.fields()
    values = [_wire_with(diagram.conductors[item], fields, dict.fromkeys(fields))
              for item in chosen]
    words = " and ".join(name.removesuffix("_m") for name in fields)
    return setting(diagram, _label(words, chosen, "conductors"), *values)


def _wire_with(
    wire: Conductor, fields: dict[str, Any], known: dict[str, Known | None]
) -> Conductor:
    made: Conductor = changed(wire, **fields, known=wire.known.with_items(known.items()))
    return made


def _label(words: str, chosen: list[str], things: str) -> str:
    if len(chosen) == 1:
        what = chosen[0]
    else:
        what = (_("{count} parts") if things == "parts" else _("{count} conductors")).format(
            count=len(chosen))
    return set_title(words, what)
