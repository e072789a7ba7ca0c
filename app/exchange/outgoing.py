"""A boat as two tables that can be read in again: its parts and ways, its conductors."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from app.exchange.wires import FIELDS
from model.diagram import Component, Diagram
from model.kinds import kind_of
from model.kinds.record import Field
from model.storage.plain import natural_key
from model.storage.save import write_text_atomically

Row = Mapping[str, str]


def write_tables(diagram: Diagram, stem: Path) -> tuple[Path, Path]:
    """Write STEM-components.csv and STEM-conductors.csv; raise UnwritableFile."""
    names = (stem.with_name(f"{stem.name}-components.csv"),
             stem.with_name(f"{stem.name}-conductors.csv"))
    write_text_atomically(names[0], as_csv(component_rows(diagram), "id", "kind"))
    write_text_atomically(names[1], as_csv(conductor_rows(diagram), "id", "from", "to"))
    return names


def as_csv(rows: Iterable[Row], *first: str) -> str:
    """Return rows as CSV: the first columns always, and every other that some row fills."""
    listed = list(rows)
    headings = list(dict.fromkeys([*first, *(name for row in listed for name in row)]))
    text = io.StringIO()
    writer = csv.DictWriter(text, headings, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(listed)
    return text.getvalue()


def component_rows(diagram: Diagram) -> Iterable[Row]:
    """Yield a row for each part, and after a panel one for each of its ways."""
    for item in sorted(diagram.components, key=natural_key):
        part = diagram.components[item]
        kind = kind_of(part)
        place = diagram.places.get(part.place or "")
        yield {"id": item, "kind": kind.slug, "name": part.name,
               "place": "" if place is None else place.name or place.id,
               **_cells(kind.fields, part.parameters)}
        yield from _ways(part, kind.fields)


def _ways(part: Component, fields: tuple[Field, ...]) -> Iterable[Row]:
    columns = next((field.columns for field in fields if field.name == "ways"), ())
    for row in part.parameters.get("ways", ()):
        yield {"id": f"{part.id}.{row['id']}", "kind": "way", "name": row.get("label", ""),
               **{k: v for k, v in _cells(columns, row).items()
                  if k not in ("id", "label")}}


def conductor_rows(diagram: Diagram) -> Iterable[Row]:
    """Yield a row for each conductor."""
    for item in sorted(diagram.conductors, key=natural_key):
        wire = diagram.conductors[item]
        ends = {side: f"{end.component}.{end.terminal}"
                for side, end in zip(("from", "to"), wire.ends(), strict=True)}
        size = "" if wire.size is None else f"{wire.size.text} {wire.size.standard}"
        yield {"id": item, **ends, "cores": " ".join(wire.cores), "size": size,
               **_cells(FIELDS, dict(wire))}


def _cells(fields: Iterable[Field], values: Mapping[str, Any]) -> dict[str, str]:
    """Return the known fields as text, each under its name with the unit in brackets."""
    found = {}
    for field in fields:
        value = values.get(field.name)
        if value is None or value == "" or field.type == "records":
            continue
        unit = f" [{field.unit}]" if field.unit and field.type in ("number", "count") else ""
        found[f"{field.name}{unit}"] = _text(value)
    return found


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return "; ".join(_text(item) for item in value)
    return f"{value:.12g}" if isinstance(value, float) else str(value)
