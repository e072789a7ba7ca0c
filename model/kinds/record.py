"""What a kind of component is: one record, from which everything else is read.

Parts list, details form, validation, JSON Schema, graph, drawing and schedules all read these
records. Knows no diagram.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from typing import Any, Literal

from msgspec import Struct, field

Parameters = Mapping[str, Any]
FieldType = Literal[
    "number", "count", "text", "choice", "yes_no", "id", "ids", "records", "numbers"
]
LinkRole = Literal["join", "contact", "overcurrent", "source", "load", "diode", "converter"]



class Typical(Struct, frozen=True):
    """A value to offer while editing, never used silently; with where it comes from."""

    value: Any
    source: str


class Field(Struct, frozen=True):
    """One field of a kind: its name, unit, type and range, and the checks that read it."""

    name: str
    title: str
    type: FieldType
    unit: str = ""
    choices: tuple[str, ...] = ()
    minimum: float | None = None
    maximum: float | None = None
    sentence: str = ""
    checks: tuple[str, ...] = ()
    typical: Typical | None = None
    first: bool = False
    drawing: bool = False
    columns: tuple[Field, ...] = ()

    def expected(self, value: Any) -> str | None:
        """Return None when the value fits, else what was expected, as words after "must be"."""
        return _CHECKS[self.type](self, value)


def _number_problem(spec: Field, value: Any) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return f"a number{f' in {spec.unit}' if spec.unit else ''}"
    if not math.isfinite(value):
        return "a finite number"
    low = 0 if spec.minimum is None else spec.minimum
    if value < low:
        return f"{low:g} or more"
    if spec.maximum is not None and value > spec.maximum:
        return f"{spec.maximum:g} or less"
    return None


def _count_problem(spec: Field, value: Any) -> str | None:
    if isinstance(value, bool) or not isinstance(value, int):
        return "a whole number"
    return _number_problem(spec, value)


def _text_problem(_spec: Field, value: Any) -> str | None:
    return None if isinstance(value, str) else "text"


def _choice_problem(spec: Field, value: Any) -> str | None:
    return None if value in spec.choices else f"one of: {', '.join(spec.choices)}"


def _yes_no_problem(_spec: Field, value: Any) -> str | None:
    return None if isinstance(value, bool) else "yes or no"


def _ids_problem(_spec: Field, value: Any) -> str | None:
    fits = isinstance(value, tuple | list) and all(isinstance(item, str) for item in value)
    return None if fits else "a list of ids"


def _numbers_problem(spec: Field, value: Any) -> str | None:
    if not isinstance(value, tuple | list):
        return "a list of numbers"
    return next((p for item in value if (p := _number_problem(spec, item))), None)


def _records_problem(spec: Field, value: Any) -> str | None:
    if not isinstance(value, tuple | list) or not all(isinstance(row, Mapping) for row in value):
        return "a list of records"
    columns = {column.name: column for column in spec.columns}
    seen: set[str] = set()
    for row in value:
        if not isinstance(row.get("id"), str) or row["id"] in seen:
            return "a list of records, each with an id of its own"
        seen.add(row["id"])
        for name, item in row.items():
            if name not in columns:
                return f"a list of records without '{name}'"
            problem = columns[name].expected(item)
            if problem:
                return f"a list of records whose '{name}' is {problem}"
    return None


_CHECKS: Mapping[str, Callable[[Field, Any], str | None]] = {
    "number": _number_problem,
    "count": _count_problem,
    "text": _text_problem,
    "choice": _choice_problem,
    "yes_no": _yes_no_problem,
    "id": _text_problem,
    "ids": _ids_problem,
    "numbers": _numbers_problem,
    "records": _records_problem,
}


class Port(Struct, frozen=True):
    """A place where a conductor may end: which pole goes to which terminal of the component."""

    id: str
    poles: Mapping[str, str]

    def terminal_for(self, core: str, core_count: int) -> str | None:
        """Return the terminal a core goes to, or None.

        A single core may go to a port of one terminal whatever its pole (a series link joins a
        minus to a plus).
        """
        if core in self.poles:
            return self.poles[core]
        terminals = set(self.poles.values())
        if core_count == 1 and len(terminals) == 1:
            return next(iter(terminals))
        return None


class Link(Struct, frozen=True):
    """A way through a component from terminal `a` to terminal `b`.

    `handle` names the switch that works it ("" for the component's only one) and `closed_in` the
    positions in which it conducts. `item` is what a finding names: "" for the component itself,
    "w3" for a way of a panel. `one_way` conducts from `a` to `b` only. `device` holds the fields
    of the overcurrent device or contact.
    """

    a: str
    b: str
    role: LinkRole
    handle: str | None = None
    closed_in: frozenset[str] = frozenset()
    item: str = ""
    one_way: bool = False
    device: Mapping[str, Any] = field(default_factory=dict)


class Handle(Struct, frozen=True):
    """Something a hand (or a coil) works: its positions and the one it normally stands in."""

    id: str
    positions: tuple[str, ...]
    normal: str
    manual: bool = True
    isolates: bool = True


class EnergySource(Struct, frozen=True):
    """How a kind feeds the network: from which terminals, stiffly or limited by itself."""

    kind: Literal["battery", "alternator", "sun", "wind", "shore", "generator"]
    terminals: tuple[str, ...]
    letter: str


def no_links(_parameters: Parameters) -> tuple[Link, ...]:
    """Return no links: for kinds that only hold terminals."""
    return ()


def no_handles(_parameters: Parameters) -> tuple[Handle, ...]:
    """Return no handles: for kinds that nothing switches."""
    return ()


class Kind(Struct, frozen=True):
    """A kind of component, declared once."""

    slug: str
    title: str
    letter: str
    family: str
    sentence: str
    fields: tuple[Field, ...]
    ports: Callable[[Parameters], tuple[Port, ...]]
    links: Callable[[Parameters], tuple[Link, ...]] = no_links
    handles: Callable[[Parameters], tuple[Handle, ...]] = no_handles
    source: EnergySource | None = None
    role: Literal["source", "storage", "converter", "switch", "protection", "distribution",
                  "measuring", "load", "earth", "engine", "box"] = "box"
    inline: bool = False

    def field(self, name: str) -> Field | None:
        """Return the field of that name, or None."""
        return next((f for f in self.fields if f.name == name), None)
