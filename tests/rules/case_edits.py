"""The small language of the rule cases: edits as data, applied as the program's own Edits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from model.diagram import Component, Conductor, Diagram, Record
from model.edits import Edit, apply, changed, put
from tests.boat_builder import Boat, end, size

Step = Mapping[str, Any]


def edited(diagram: Diagram, steps: Iterable[Step]) -> Diagram:
    """Return the diagram after the steps; each is one Edit, checked as in the program."""
    for step in steps:
        diagram = apply(diagram, Edit("case", tuple(_changes(diagram, step))))
    return diagram


def _changes(diagram: Diagram, step: Step) -> list[Any]:
    if "remove" in step:
        return [put(diagram, _collection(diagram, step["remove"]), step["remove"], None)]
    if "wire" in step:
        fields = {k: v for k, v in step.items() if k not in ("wire", "from", "to", "size")}
        boat = Boat().wire(step["wire"], step["from"], step["to"], step.get("size"), **fields)
        new: Record = boat._items["conductors"][step["wire"]]
        return [put(diagram, "conductors", step["wire"], new)]
    if "part" in step:
        before = diagram.components.get(step["part"])
        kept = {} if before is None else {
            name: value for name in ("name", "position_note", "installed")
            if (value := getattr(before, name))}
        fields = {**kept, **{k: v for k, v in step.items() if k not in ("part", "kind")}}
        boat = Boat().part(step["part"], step["kind"], **fields)
        return [put(diagram, "components", step["part"], boat._items["components"][step["part"]])]
    path = step.get("set") or step["clear"]
    item, _, field = path.partition(".")
    collection = _collection(diagram, item)
    before = diagram.boat if item == "boat" else getattr(diagram, collection)[item]
    return [put(diagram, collection, "" if item == "boat" else item,
                _with_field(before, field, step.get("to")))]


def _collection(diagram: Diagram, item: str) -> str:
    if item == "boat":
        return "boat"
    names = ("conductors", "systems", "places", "modes")
    return next((name for name in names if item in getattr(diagram, name)), "components")


def _with_field(record: Any, field: str, value: Any) -> Any:
    if isinstance(record, Conductor):
        return _conductor_with(record, field, value)
    if isinstance(record, Component) and field not in Component.field_names():
        return changed(record, parameters=_parameters_with(record, field, value))
    return changed(record, **{field: value})


def _conductor_with(wire: Conductor, field: str, value: Any) -> Conductor:
    side, _, part = field.partition(".")
    if part:  # "from.stack"
        name = "start" if side == "from" else "finish"
        return changed(wire, **{name: changed(getattr(wire, name), **{part: value})})
    if field in ("from", "to"):
        return changed(wire, **{"start" if field == "from" else "finish": end(value)})
    if field == "size" and value is not None:
        value = size(value)
    return changed(wire, **{field: value})


def _parameters_with(part: Component, field: str, value: Any) -> dict[str, Any]:
    parameters = dict(part.parameters)
    way, _, column = field.partition(".")
    if column:
        parameters["ways"] = tuple(
            _filled(row, column, value) if row["id"] == way else row
            for row in parameters["ways"])
        return parameters
    return _filled(parameters, field, value)


def _filled(row: Mapping[str, Any], name: str, value: Any) -> dict[str, Any]:
    """Return the row with a value set, or without it when None."""
    without = {k: v for k, v in row.items() if k != name}
    return without if value is None else {**without, name: value}


def differences(one: Diagram, other: Diagram) -> list[str]:
    """Return what differs: a conductor's id, or "P1.field" for each field of another record."""
    found: list[str] = []
    for item in sorted({*one.conductors, *other.conductors}):
        if one.conductors.get(item) != other.conductors.get(item):
            found.append(item)
    for name in ("components", "systems", "places", "modes"):
        before, after = getattr(one, name), getattr(other, name)
        for item in sorted({*before, *after}):
            found += [f"{item}.{field}"
                      for field in _unlike(before.get(item), after.get(item))]
    found += [f"boat.{field}" for field in _unlike(one.boat, other.boat)]
    return found


def _unlike(before: Any, after: Any) -> list[str]:
    if before == after:
        return []
    if before is None or after is None:
        return ["whole"]
    one, other = _flat(before), _flat(after)
    return sorted(name for name in {*one, *other} if one.get(name) != other.get(name))


def _flat(record: Any) -> dict[str, Any]:
    flat: dict[str, Any] = {}
    for name, value in dict(record).items():
        if name != "parameters":
            flat[name] = value
            continue
        for field, inner in value.items():
            if field != "ways":
                flat[field] = inner
                continue
            for row in inner:
                flat.update({f"{row['id']}.{k}": v for k, v in row.items()})
    return flat
