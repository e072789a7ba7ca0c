"""A row of the conductors' table as a conductor: its ends found, its fields read."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from app.drafting.wires import cores_between, purpose_between
from app.exchange.cells import BadCell, cell_value
from app.exchange.columns import Column, plain
from app.panels.form_fields import WIRE_FIELDS
from model.diagram import Component, Conductor, Diagram, End
from model.errors import ModelError
from model.kinds import Port, kind_of
from model.units import QuantityError, parse_size

Cells = Mapping[str, tuple[Column, str]]
Told = list[tuple[str, str]]
PORT_WORDS = {"positive": "+", "plus": "+", "pos": "+", "negative": "-", "minus": "-", "neg": "-"}
POLES = frozenset({"+", "-", "L", "L2", "N", "E", "signal"})
CORE_WORDS: Mapping[str, tuple[str, ...]] = {
    "positive": ("+",), "plus": ("+",), "negative": ("-",), "minus": ("-",),
    "+-": ("+", "-"), "+/-": ("+", "-"), "pair": ("+", "-"),
    "ac": ("L", "N", "E"), "lne": ("L", "N", "E"), "l/n/e": ("L", "N", "E"),
    "earth": ("E",), "e": ("E",), "bonding": ("E",),
}  # fmt: skip
FIELDS = tuple(field for field in WIRE_FIELDS if field.name not in ("designation", "size"))


def read_wire(diagram: Diagram, cells: Cells) -> tuple[Conductor, Told, Told]:
    """Return the conductor, what was guessed and what was refused; raise ModelError."""
    guesses: Told = []
    refusals: Told = []
    item = _text(cells, "id")
    if not item:
        raise ModelError("a conductor needs an id.")
    cores = _cores(cells)
    start, finish = (_end(diagram, cells, side, cores, guesses) for side in ("from", "to"))
    ports = [_port(diagram, end) for end in (start, finish)]
    cores = cores or cores_between(*ports)
    if not cores:
        raise ModelError(f"{_text(cells, 'from')} and {_text(cells, 'to')} have no core in common.")
    values: dict[str, Any] = {"purpose": purpose_between(cores, *ports)}
    for name, (heading, text) in cells.items():
        if name not in ("id", "from", "to", "cores"):
            _take(values, name, heading, text, guesses, refusals)
    wire = Conductor.read({"id": item, "designation": item, "cores": cores, "from": start,
                           "to": finish, **values})
    return wire, guesses, refusals


def _text(cells: Cells, name: str) -> str:
    return cells[name][1].strip() if name in cells else ""


def _cores(cells: Cells) -> tuple[str, ...]:
    text = _text(cells, "cores")
    if not text:
        return ()
    poles = tuple(re.split(r"[\s,]+", text))
    found = poles if set(poles) <= POLES else CORE_WORDS.get(plain(text))
    if found is None:
        raise ModelError(f"'{text}' names no cores; +, -, pair, AC, earth or signal was expected.")
    return found


def _end(
    diagram: Diagram, cells: Cells, side: str, cores: tuple[str, ...], guesses: Told
) -> End:
    text = _text(cells, side)
    if not text:
        raise ModelError(f"'{side}' is empty.")
    owner, _, said = text.partition(".")
    if owner.strip() not in diagram.components:
        owner, _, said = _split(text)
    part = diagram.components.get(owner.strip())
    if part is None:
        raise ModelError(f"'{side}' names {owner.strip()}, which is not among the parts.")
    said = said.strip()
    ports = kind_of(part).ports(part.parameters)
    wanted = PORT_WORDS.get(plain(said), said)
    for port in ports:
        if port.id == wanted or plain(port.id) == plain(wanted) != "":
            return End(component=part.id, terminal=port.id)
    if said:
        names = ", ".join(port.id for port in ports)
        raise ModelError(f"{part.id} has no terminal {said}; it has {names}.")
    port = _free_port(diagram, part, ports, cores)
    if len(ports) > 1:
        guesses.append((side, f"{text} was taken for its terminal {port.id}"))
    return End(component=part.id, terminal=port.id)


def _split(text: str) -> tuple[str, str, str]:
    """Return part and terminal of "G1 +", "G1:+" or "G1 (positive)"."""
    found = re.match(r"\s*(\w+)\s*[:/( ]?\s*([^)\s]*)", text)
    return (found[1], "", found[2]) if found else (text, "", "")


def _free_port(
    diagram: Diagram, part: Component, ports: tuple[Port, ...], cores: tuple[str, ...]
) -> Port:
    """Return the first terminal nothing ends on that takes the cores, else the first that does."""
    taken = {end.terminal for wire in diagram.conductors.values() for end in wire.ends()
             if end.component == part.id}
    wanted = cores[0] if cores else "+"
    fitting = [port for port in ports if port.terminal_for(wanted, max(len(cores), 1))] or [*ports]
    return next((port for port in fitting if port.id not in taken), fitting[0])


def _port(diagram: Diagram, end: End) -> Port:
    part = diagram.components[end.component]
    return next(port for port in kind_of(part).ports(part.parameters) if port.id == end.terminal)


def _take(
    values: dict[str, Any], name: str, heading: Column, text: str, guesses: Told, refusals: Told
) -> None:
    if name == "size":
        _take_size(values, heading, text, refusals)
        return
    field = next((f for f in FIELDS if name in (f.name, plain(f.name), plain(f.title))), None)
    if field is None:
        refusals.append((heading.heading, f"a conductor has no such field; '{text}' is left out"))
        return
    try:
        values[field.name], is_guess = cell_value(field, text, heading.unit)
    except BadCell as error:
        refusals.append((heading.heading, f"'{text}' {error}; the field stays unknown"))
        return
    if is_guess:
        guesses.append((heading.heading, f"'{text}' was taken for {values[field.name]}"))


def _take_size(values: dict[str, Any], heading: Column, text: str, refusals: Told) -> None:
    is_bare = re.fullmatch(r"[\d.,]+(/0)?", text.strip()) is not None
    try:
        with_unit = f"{text} {heading.unit}" if is_bare and heading.unit else text
        standard, printed = parse_size(with_unit)
    except QuantityError as error:
        refusals.append((heading.heading, f"{error}; the field stays unknown"))
        return
    values["size"] = {"standard": standard, "text": printed}
