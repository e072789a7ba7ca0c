"""Short ways to build small boats for tests: parts, wires, systems; then `.diagram()`.

    Boat().battery("G1").fuse("F1", rated_a=30).load("E1").wire("W1", "G1.+", "F1.a", "10 mm2")

What is not given stays unknown, as in a real drawing.
"""

from __future__ import annotations

from typing import Any

from model.diagram import (
    Acceptance,
    BoatInfo,
    Component,
    Conductor,
    DcSystem,
    Diagram,
    End,
    Mode,
    Place,
    Size,
)
from model.validity import check_diagram

COMPONENT_FIELDS = frozenset(Component.field_names()) - {"id", "kind", "parameters"}


def size(text: str) -> Size:
    """Return the size written as "6 mm2", "10 awg" or "8 sae"."""
    number, _, standard = text.partition(" ")
    return Size(standard=standard, text=number)  # type: ignore[arg-type]


def end(text: str) -> End:
    """Return the end written as "F1.a": component, then its terminal."""
    component, _, terminal = text.partition(".")
    return End(component=component, terminal=terminal)


class Boat:
    """A boat being built. Every method returns the boat, so that calls can be chained."""

    def __init__(self, rule_set: str = "us", nominal_v: float = 12, **system: Any) -> None:
        self._items: dict[str, dict[str, Any]] = {
            "systems": {}, "places": {}, "components": {}, "conductors": {}, "modes": {},
            "acceptances": {},
        }
        self._boat: dict[str, Any] = {"rule_set": rule_set}
        self.system("S1", nominal_v, **system)

    def boat(self, **fields: Any) -> Boat:
        """Set fields of the boat itself."""
        self._boat.update(fields)
        return self

    def system(self, item: str, nominal_v: float, **fields: Any) -> Boat:
        """Add a DC system, negative earthed unless said."""
        fields.setdefault("earthing", "negative_earthed")
        self._items["systems"][item] = DcSystem(id=item, nominal_v=nominal_v, **fields)
        return self

    def place(self, item: str, environment: str, name: str = "") -> Boat:
        """Add a place of an environment."""
        self._items["places"][item] = Place(
            id=item, name=name, environment=environment)  # type: ignore[arg-type]
        return self

    def part(self, item: str, kind: str, **fields: Any) -> Boat:
        """Add a component; fields of the kind's record and of the component may be mixed."""
        own = {name: fields.pop(name) for name in COMPONENT_FIELDS & set(fields)}
        own.setdefault("designation", item)
        self._items["components"][item] = Component(id=item, kind=kind, parameters=fields, **own)
        return self

    def battery(self, item: str, block_nominal_v: float = 12, **fields: Any) -> Boat:
        """Add a battery or bank."""
        return self.part(item, "battery_bank", block_nominal_v=block_nominal_v, **fields)

    def fuse(self, item: str, rated_a: float | None = None, **fields: Any) -> Boat:
        """Add a fuse."""
        return self.part(item, "fuse", **_given(rated_a=rated_a), **fields)

    def switch(self, item: str, kind: str = "battery_switch", **fields: Any) -> Boat:
        """Add a battery switch, or another switch by its kind."""
        return self.part(item, kind, **fields)

    def busbar(self, item: str, **fields: Any) -> Boat:
        """Add a busbar."""
        return self.part(item, "busbar", **fields)

    def panel(self, item: str, *ways: dict[str, Any], **fields: Any) -> Boat:
        """Add a panel with the given ways; each has an id w1, w2 ... unless given."""
        numbered = tuple({"id": f"w{i + 1}", "device": "breaker", **way}
                         for i, way in enumerate(ways))
        return self.part(item, "panel", ways=numbered, **fields)

    def load(self, item: str, kind: str = "load", **fields: Any) -> Boat:
        """Add a load."""
        return self.part(item, kind, **fields)

    def wire(self, item: str, start: str, finish: str, wire_size: str | None = None,
             **fields: Any) -> Boat:
        """Add a conductor from "G1.+" to "F1.a", of one positive core unless said."""
        fields.setdefault("cores", ("+",))
        if wire_size is not None:
            fields["size"] = size(wire_size)
        self._items["conductors"][item] = Conductor.read(
            {"id": item, "designation": item, "from": end(start), "to": end(finish), **fields})
        return self

    def mode(self, item: str, **fields: Any) -> Boat:
        """Add a mode."""
        self._items["modes"][item] = Mode(id=item, name=item, **fields)
        return self

    def accept(self, item: str, rule: str, *where: str, reason: str = "as built",
               **fields: Any) -> Boat:
        """Add an acceptance."""
        self._items["acceptances"][item] = Acceptance(
            id=item, rule=rule, where=where, reason=reason, **fields)
        return self

    def diagram(self) -> Diagram:
        """Return the diagram, checked."""
        diagram = Diagram.read({"boat": BoatInfo(**self._boat), **self._items})
        check_diagram(diagram)
        return diagram


def _given(**fields: Any) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value is not None}
