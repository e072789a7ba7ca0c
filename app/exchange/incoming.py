"""Two tables of a boat, read: what was understood, what was guessed, what was refused.

Nothing is written here; the caller shows the preview and then takes the diagram or leaves it.
"""

from __future__ import annotations

import csv
import difflib
import io
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Literal

from msgspec import Struct

from app.exchange.cells import BadCell, cell_value, is_blank
from app.exchange.columns import Column, Table, aliases, column, plain
from app.exchange.wires import read_wire
from app.new_boat import new_diagram
from model.diagram import Component, DcSystem, Diagram, Place
from model.edits import apply, setting
from model.errors import ModelError
from model.frozen_map import FrozenMap
from model.kinds import catalogue
from model.kinds.record import Field, Kind
from model.kinds.storage import nominal_v
from model.record import BadRecord
from model.table_files import table_rows

BASE = ("id", "kind", "name", "place")
PANELS = ("panel", "fuse_block", "ac_panel")
SPACES = {"engine": "engine_space", "bilge": "bilge", "galley": "galley", "heads": "heads",
          "deck": "deck", "helm": "helm", "locker": "locker", "cabin": "accommodation",
          "saloon": "accommodation"}  # fmt: skip


class Remark(Struct, frozen=True):
    """What was guessed or refused: the table, its line (1 is the heading), column and words."""

    sort: Literal["guessed", "refused"]
    table: Table
    line: int
    heading: str
    text: str

    def sentence(self) -> str:
        """Return the remark as it is told."""
        where = f"{self.table}, line {self.line}" if self.line else self.table
        return f"{where}{f', {self.heading}' if self.heading else ''}: {self.text}"


class Preview(Struct, frozen=True):
    """The boat as it would be, and all remarks."""

    diagram: Diagram
    remarks: tuple[Remark, ...]

    def of(self, sort: str) -> tuple[Remark, ...]:
        """Return the remarks of a sort."""
        return tuple(remark for remark in self.remarks if remark.sort == sort)


class Line(Struct, frozen=True):
    """A row of a table: its number in the file and its cells by column."""

    number: int
    cells: Mapping[Column, str]


def read_table(path: Path) -> list[Line]:
    """Return the rows of a CSV file, its separator found out; raise ModelError."""
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except OSError as error:
        raise ModelError(f"{path} cannot be read ({error.strerror}).") from error
    except UnicodeDecodeError as error:
        raise ModelError(f"{path}: byte {error.start} is not UTF-8 text.") from error
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text)))
    if not rows or not any(cell.strip() for cell in rows[0]):
        raise ModelError(f"{path}: the first line must hold the headings of the columns.")
    columns = [column(heading) for heading in rows[0]]
    return [Line(number, dict(zip(columns, row, strict=False)))
            for number, row in enumerate(rows[1:], start=2) if any(cell.strip() for cell in row)]


def preview_text(found: Preview) -> str:
    """Return what was understood, guessed and refused, as lines."""
    diagram = found.diagram
    ways = sum(len(part.parameters.get("ways", ())) for part in diagram.components.values())
    lines = [f"Understood: {len(diagram.components)} parts with {ways} ways, "
             f"{len(diagram.conductors)} conductors, {len(diagram.places)} places."]
    for sort in ("guessed", "refused"):
        remarks = found.of(sort)
        if remarks:
            lines += [f"{sort.capitalize()}: {len(remarks)}",
                      *(f"  {remark.sentence()}" for remark in remarks)]
    return "\n".join(lines)


def _separator(text: str) -> str:
    heading = text.partition("\n")[0]
    return max(",;\t", key=heading.count)


def preview(
    components: Iterable[Line], conductors: Iterable[Line], name: str = "", rule_set: str = "iso"
) -> Preview:
    """Return the boat of two tables, with what was guessed and refused on the way."""
    reading = _Reading(new_diagram(name, rule_set))
    lines = list(components)
    for line in lines:
        reading.component(line)
    for line in lines:
        reading.way(line)
    reading.relations()
    reading.systems()
    for line in conductors:
        reading.conductor(line)
    return Preview(reading.diagram, tuple(reading.remarks))


@cache
def kind_words() -> Mapping[str, tuple[str, bool]]:
    """Return kinds by the words people use for them, and whether that is a guess."""
    words = {plain(row["words"]): (row["kind"], row["standing"] == "guess")
             for row in table_rows("import_kinds")}
    for kind in catalogue().values():
        words[plain(kind.slug)] = words[plain(kind.title)] = (kind.slug, False)
    return words


class _Reading:
    """The diagram as it grows, line by line."""

    def __init__(self, diagram: Diagram) -> None:
        self.diagram = diagram
        self.remarks: list[Remark] = []
        self._relations: list[tuple[Line, str, str, Any]] = []

    def _say(self, sort: Literal["guessed", "refused"], table: Table, line: Line, heading: str,
             text: str) -> None:
        self.remarks.append(Remark(sort, table, line.number, heading, text))

    def component(self, line: Line) -> None:
        """Take a part; a row of the kind "way" is taken later."""
        base = _base(line)
        item, said = base.get("id", ""), base.get("kind", "")
        if not item:
            self._say("refused", "components", line, "id",
                      "a part needs an id; the row is left out")
            return
        kind = self._kind(line, said)
        if kind is None:
            return
        values = self._values(line, kind)
        named = {f.name: values.pop(f.name) for f in kind.fields
                 if f.type in ("id", "ids") and f.name in values}
        place = self._place(line, base.get("place", ""))
        try:
            part = Component.read({"id": item, "designation": item, "kind": kind.slug,
                                   "name": base.get("name", ""), "place": place,
                                   "parameters": values})
            if item in self.diagram.components:
                raise ModelError(f"there is another part called {item}.")
            self.diagram = apply(self.diagram, setting(self.diagram, "Import", part))
        except (ModelError, BadRecord) as error:
            self._say("refused", "components", line, "", f"{error} The row is left out")
            return
        self._relations += [(line, item, name, value) for name, value in named.items()]

    def relations(self) -> None:
        """Join parts that name each other, once all are there."""
        for line, item, name, value in self._relations:
            part = self.diagram.components[item]
            after = part.changed(parameters={**part.parameters, name: value})
            try:
                self.diagram = apply(self.diagram, setting(self.diagram, "Import", after))
            except ModelError as error:
                self._say("refused", "components", line, name, f"{error} The field stays unknown")

    def _kind(self, line: Line, said: str) -> Kind | None:
        found = kind_words().get(plain(said))
        if found is None:
            near = difflib.get_close_matches(plain(said), kind_words(), 3)
            hint = f"; did you mean {' or '.join(near)}?" if near else ""
            self._say("refused", "components", line, "kind",
                      f"'{said}' is no kind of part{hint} The row is left out")
            return None
        slug, is_guess = found
        if slug == "way":
            return None
        if is_guess:
            self._say("guessed", "components", line, "kind",
                      f"'{said}' was taken for {catalogue()[slug].title.lower()}")
        return catalogue()[slug]

    def _values(self, line: Line, kind: Kind) -> dict[str, Any]:
        values: dict[str, Any] = {}
        base = _base_columns(line)
        for heading, text in line.cells.items():
            field = _field(heading, kind.fields)
            if heading in base or is_blank(text, field):
                continue
            if field is None:
                self._say("refused", "components", line, heading.heading,
                          f"a {kind.title.lower()} has no such field; '{text}' is left out")
                continue
            self._take(values, field, line, heading, text)
        return values

    def _take(self, values: dict[str, Any], field: Field, line: Line, heading: Column,
              text: str) -> None:
        try:
            values[field.name], is_guess = cell_value(field, text, heading.unit)
        except BadCell as error:
            self._say("refused", "components", line, heading.heading,
                      f"'{text}' {error}; the field stays unknown")
            return
        if is_guess:
            self._say("guessed", "components", line, heading.heading,
                      f"'{text}' was taken for {values[field.name]}")

    def _place(self, line: Line, name: str) -> str | None:
        if is_blank(name):
            return None
        item = plain(name).replace(" ", "_").replace("/", "_").replace("+", "_")[:60]
        if item not in self.diagram.places:
            space = next((space for word, space in SPACES.items() if word in plain(name)), None)
            if space is not None:
                self._say("guessed", "components", line, "place",
                          f"'{name}' was taken for a place of the sort {space.replace('_', ' ')}")
            place = Place.read({"id": item, "name": name.strip(), "environment": space})
            self.diagram = apply(self.diagram, setting(self.diagram, "Import", place))
        return item

    def way(self, line: Line) -> None:
        """Take a row that is a way of a panel: its id is that of the panel, a point, its own."""
        base = _base(line)
        if kind_words().get(plain(base.get("kind", "")), ("", False))[0] != "way":
            return
        owner, _, way = base.get("id", "").partition(".")
        panel = self.diagram.components.get(owner)
        if panel is None or panel.kind not in PANELS or not way:
            self._say("refused", "components", line, "id",
                      "a way is called after its panel, such as P1.w3; the row is left out")
            return
        kind = catalogue()[panel.kind]
        columns = next(f.columns for f in kind.fields if f.name == "ways")
        row: dict[str, Any] = {"id": way, "label": base.get("name", "")}
        for heading, text in line.cells.items():
            field = _field(heading, columns)
            if field is not None and field.name != "id" and not is_blank(text, field):
                self._take(row, field, line, heading, text)
        ways = (*panel.parameters.get("ways", ()), {k: v for k, v in row.items() if v != ""})
        try:
            after = panel.changed(parameters={**panel.parameters, "ways": ways})
            self.diagram = apply(self.diagram, setting(self.diagram, "Import", after))
        except (ModelError, BadRecord) as error:
            self._say("refused", "components", line, "", f"{error} The row is left out")

    def systems(self) -> None:
        """Give each voltage of the batteries a DC system of its own, negative earthed: a guess."""
        volts = sorted({v for part in self.diagram.components.values()
                        if part.kind == "battery_bank"
                        and (v := nominal_v(part.parameters)) is not None})
        if not volts:
            return
        systems = {f"dc{v:g}": DcSystem(id=f"dc{v:g}", name=f"{v:g} V", nominal_v=v,
                                        earthing="negative_earthed") for v in volts}
        self.diagram = self.diagram.replaced(systems=FrozenMap(systems))
        named = " and ".join(f"{v:g} V" for v in volts)
        self.remarks.append(Remark("guessed", "components", 0, "",
                                   f"DC of {named}, the negative earthed, from the batteries"))

    def conductor(self, line: Line) -> None:
        """Take a conductor."""
        named = {_meant(heading, "conductors") or heading.words: (heading, text)
                 for heading, text in line.cells.items()}
        cells = {name: cell for name, cell in named.items()
                 if not is_blank(cell[1]) or (name == "cores" and cell[1].strip() == "-")}
        try:
            wire, guesses, refusals = read_wire(self.diagram, cells)
            if wire.id in self.diagram.conductors or wire.id in self.diagram.components:
                raise ModelError(f"there is another {wire.id}.")
            self.diagram = apply(self.diagram, setting(self.diagram, "Import", wire))
        except (ModelError, BadRecord) as error:
            self._say("refused", "conductors", line, "", f"{error} The row is left out")
            return
        for heading, text in guesses:
            self._say("guessed", "conductors", line, heading, text)
        for heading, text in refusals:
            self._say("refused", "conductors", line, heading, text)


def _base(line: Line) -> dict[str, str]:
    """Return the cells that every part has, by their meaning."""
    return {meaning: line.cells[heading].strip()
            for heading, meaning in _base_columns(line).items() if line.cells[heading].strip()}


def _base_columns(line: Line) -> dict[Column, str]:
    """Return which columns give id, kind, name and place: the plainest heading for each."""
    found: dict[Column, str] = {}
    for meaning in BASE:
        meant = [heading for heading in line.cells if _meant(heading, "components") == meaning]
        plainest = sorted(meant, key=lambda heading: heading.words != meaning)
        if plainest:
            found[plainest[0]] = meaning
    return found


def _meant(heading: Column, table: Table) -> str:
    """Return the field a heading certainly means, or an empty text."""
    fields = aliases(table).get(heading.words, ())
    return fields[0] if len(fields) == 1 else ""


def _field(heading: Column, fields: tuple[Field, ...]) -> Field | None:
    by_name = {field.name: field for field in fields if field.type != "records"}
    spoken = {plain(field.title): field for field in by_name.values()}
    spoken |= {plain(name): field for name, field in by_name.items()}
    if heading.words in spoken:
        return spoken[heading.words]
    wanted = aliases("components").get(heading.words, ())
    return next((by_name[name] for name in wanted if name in by_name), None)
