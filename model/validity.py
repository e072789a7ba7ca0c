"""What makes a value fit to stand in a diagram: its fields, and that its references lead home."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from model.diagram import (
    COLLECTIONS,
    Component,
    Conductor,
    DcSystem,
    Diagram,
    Mode,
    Record,
)
from model.errors import (
    BadField,
    MissingPole,
    MissingReference,
    MissingTerminal,
    QuantityError,
    SelfJoined,
    SelfReference,
    UnknownField,
    UnknownPosition,
    WrongId,
)
from model.kinds import kind_of
from model.units import area_mm2


def check_items(diagram: Diagram, items: Iterable[Record]) -> None:
    """Raise the first ModelError found in the given values of the diagram."""
    for item in items:
        check = _CHECKS.get(type(item).__name__)
        if check is not None:
            check(diagram, item)


def check_diagram(diagram: Diagram) -> None:
    """Raise the first ModelError found anywhere in the diagram."""
    for name in COLLECTIONS:
        collection: Mapping[str, Any] = getattr(diagram, name)
        for key, item in collection.items():
            if item.id != key:
                raise WrongId(key, item.id)
        check_items(diagram, collection.values())


def check_parameters(component: Component) -> None:
    """Raise UnknownField or BadField when a parameter does not fit the kind's record."""
    kind = kind_of(component)
    for name, value in component.parameters.items():
        spec = kind.field(name)
        if spec is None:
            raise UnknownField(component.id, kind.title.lower(), name)
        expected = spec.expected(value)
        if expected is not None:
            raise BadField(component.id, name, expected)


def _check_component(diagram: Diagram, component: Component) -> None:
    check_parameters(component)
    for name in ("mounted_on", "enclosure"):
        target = getattr(component, name)
        if target is not None and target not in diagram.components:
            raise MissingReference(component.id, name, target)
    if component.place is not None and component.place not in diagram.places:
        raise MissingReference(component.id, "place", component.place)
    _check_mounting(diagram, component)
    _check_relations(diagram, component)
    if component.row_of is not None:
        panel, _, way = component.row_of.partition(".")
        if not has_item(diagram, panel, way):
            raise MissingReference(component.id, "row_of", component.row_of)


def _check_mounting(diagram: Diagram, component: Component) -> None:
    seen = {component.id}
    at = component.mounted_on
    while at is not None:
        if at in seen:
            raise SelfReference(component.id, "mounted_on")
        seen.add(at)
        target = diagram.components.get(at)
        at = target.mounted_on if target is not None else None


def _check_relations(diagram: Diagram, component: Component) -> None:
    kind = kind_of(component)
    for name, value in component.parameters.items():
        spec = kind.field(name)
        if spec is None or spec.type not in ("id", "ids"):
            continue
        for target in (value,) if spec.type == "id" else value:
            if target not in diagram.components:
                raise MissingReference(component.id, name, target)


def _check_conductor(diagram: Diagram, conductor: Conductor) -> None:
    _check_size(conductor)
    terminals = []
    for end in conductor.ends():
        component = diagram.components.get(end.component)
        if component is None:
            raise MissingReference(conductor.id, "end", end.component)
        ports = kind_of(component).ports(component.parameters)
        port = next((p for p in ports if p.id == end.terminal), None)
        if port is None:
            raise MissingTerminal(
                conductor.id, end.component, end.terminal, tuple(p.id for p in ports)
            )
        for core in conductor.cores:
            terminal = port.terminal_for(core, len(conductor.cores))
            if terminal is None:
                raise MissingPole(conductor.id, end.component, end.terminal, core)
            terminals.append((end.component, terminal, core))
    half = len(terminals) // 2
    if any(a[:2] == b[:2] for a, b in zip(terminals[:half], terminals[half:], strict=True)):
        raise SelfJoined(conductor.id)
    for place in conductor.route:
        if place not in diagram.places:
            raise MissingReference(conductor.id, "route", place)


def _check_size(conductor: Conductor) -> None:
    if conductor.size is None:
        return
    try:
        area_mm2(conductor.size.standard, conductor.size.text)
    except QuantityError as error:
        expected = "a conductor size such as 16 mm2 or 2/0 AWG"
        raise BadField(conductor.id, "size", expected) from error


def _check_system(diagram: Diagram, system: DcSystem) -> None:
    if system.negative_datum is None:
        return
    component_id, _, terminal = system.negative_datum.partition(".")
    component = diagram.components.get(component_id)
    if component is None:
        raise MissingReference(system.id, "negative_datum", system.negative_datum)
    ports = kind_of(component).ports(component.parameters)
    names = {name for port in ports for name in port.poles.values()}
    if terminal not in names:
        raise MissingReference(system.id, "negative_datum", system.negative_datum)


def _check_mode(diagram: Diagram, mode: Mode) -> None:
    for handle_id, position in mode.positions.items():
        component_id, _, item = handle_id.partition(".")
        component = diagram.components.get(component_id)
        handles = kind_of(component).handles(component.parameters) if component else ()
        handle = next((h for h in handles if h.id == item), None)
        if handle is None:
            raise UnknownPosition(handle_id, position, ())
        if position not in handle.positions:
            raise UnknownPosition(handle_id, position, handle.positions)
    for target in (*mode.engines_running, *mode.shore_connected, *mode.generators_running):
        if target not in diagram.components:
            raise MissingReference(mode.id, "running", target)


def has_item(diagram: Diagram, component_id: str, item: str) -> bool:
    """Return whether the component has a link or handle of that item id."""
    component = diagram.components.get(component_id)
    if component is None:
        return False
    kind = kind_of(component)
    return any(link.item == item for link in kind.links(component.parameters)) or any(
        handle.id == item for handle in kind.handles(component.parameters)
    )




_CHECKS: Mapping[str, Callable[[Diagram, Any], None]] = {
    "Component": _check_component,
    "Conductor": _check_conductor,
    "DcSystem": _check_system,
    "Mode": _check_mode,
}
