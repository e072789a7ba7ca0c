"""Short ways to write the records of kinds: fields, ports and links that many kinds share."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from model.kinds.record import Field, Handle, Link, Parameters, Port, Typical

Ports = Callable[[Parameters], tuple[Port, ...]]


def number(name: str, title: str, unit: str, checks: str = "", sentence: str = "",
           **more: Any) -> Field:
    """Return a field that holds a number of the given unit, zero or more unless said."""
    return Field(name, title, "number", unit, sentence=sentence, checks=tuple(checks.split()),
                 **more)


def count(name: str, title: str, checks: str = "", unit: str = "", **more: Any) -> Field:
    """Return a field that holds a whole number."""
    return Field(name, title, "count", unit, checks=tuple(checks.split()), **more)


def choice(name: str, title: str, choices: str, checks: str = "", sentence: str = "",
           **more: Any) -> Field:
    """Return a field that holds one of the space-separated choices."""
    return Field(name, title, "choice", choices=tuple(choices.split()), sentence=sentence,
                 checks=tuple(checks.split()), **more)


def yes_no(name: str, title: str, checks: str = "", sentence: str = "", **more: Any) -> Field:
    """Return a three-valued yes/no field: absent is not "no"."""
    return Field(name, title, "yes_no", sentence=sentence, checks=tuple(checks.split()), **more)


def text(name: str, title: str, checks: str = "", **more: Any) -> Field:
    """Return a field that holds text."""
    return Field(name, title, "text", checks=tuple(checks.split()), **more)


def reference(name: str, title: str, checks: str = "", **more: Any) -> Field:
    """Return a field that names another component by id."""
    return Field(name, title, "id", checks=tuple(checks.split()), **more)


def references(name: str, title: str, checks: str = "") -> Field:
    """Return a field that names several components by id."""
    return Field(name, title, "ids", checks=tuple(checks.split()))


def typical(value: Any, source: str = "common practice, no source") -> Typical:
    """Return a value to offer while editing, with its source."""
    return Typical(value, source)


def port(port_id: str, pole: str, terminal: str | None = None) -> Port:
    """Return a port of one pole; its terminal has the port's name unless given."""
    return Port(port_id, {pole: terminal or port_id})


def dc_ports(*extra: Port) -> Ports:
    """Return the ports of a two-terminal DC part: '+' (which takes a pair) and '-'."""
    fixed = (Port("+", {"+": "+", "-": "-"}), port("-", "-"), *extra)
    return lambda _parameters: fixed


def fixed_ports(*ports: Port) -> Ports:
    """Return a ports function for a kind whose ports do not depend on its parameters."""
    return lambda _parameters: ports


def ac_poles(prefix: str) -> Mapping[str, str]:
    """Return the poles of an AC port, each with a terminal named prefix.pole."""
    return {pole: f"{prefix}{pole}" for pole in ("L", "L2", "N", "E")}


def through_ports(_parameters: Parameters) -> tuple[Port, ...]:
    """Return ports a and b of a device that sits in a DC line; a pair may pass through it."""
    return (Port("a", {"+": "a+", "-": "a-"}), Port("b", {"+": "b+", "-": "b-"}))


def ac_through_ports(_parameters: Parameters) -> tuple[Port, ...]:
    """Return ports a and b of a device that sits in an AC cable."""
    return (Port("a", ac_poles("a")), Port("b", ac_poles("b")))


def opened_poles(parameters: Parameters) -> frozenset[str]:
    """Return the poles a DC device opens: its field `poles`, the positive unless said."""
    poles = parameters.get("poles", "+")
    return frozenset(("+", "-") if poles == "both" else (poles,))


def through_links(parameters: Parameters, make: Callable[[str, str], Link]) -> tuple[Link, ...]:
    """Return one link for each DC pole: `make` for those the device opens, a join for others."""
    opened = opened_poles(parameters)
    return tuple(
        make(f"a{pole}", f"b{pole}") if pole in opened
        else Link(f"a{pole}", f"b{pole}", "join")
        for pole in ("+", "-")
    )


def ac_opened_poles(parameters: Parameters) -> frozenset[str]:
    """Return the poles an AC device opens: L alone unless `poles_opened` says L_and_N."""
    both = parameters.get("poles_opened") == "L_and_N"
    return frozenset(("L", "L2", "N") if both else ("L", "L2"))


def ac_through_links(parameters: Parameters, make: Callable[[str, str], Link]) -> tuple[Link, ...]:
    """Return one link for each AC pole: `make` for those the device opens, a join for others."""
    opened = ac_opened_poles(parameters)
    return tuple(
        make(f"a{pole}", f"b{pole}") if pole in opened
        else Link(f"a{pole}", f"b{pole}", "join")
        for pole in ("L", "L2", "N", "E")
    )


def on_off(normal: str = "on", **more: Any) -> tuple[Handle, ...]:
    """Return the single on/off handle of a component."""
    return (Handle("", ("on", "off"), normal, **more),)


CLOSED = frozenset({"on"})
