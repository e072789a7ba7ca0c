"""Parts and the conductors between them as text, to be pasted here or in another window."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any

from app.drafting.belonging import in_its_place
from app.drafting.excerpt import excerpt
from app.drawing.routing import snapped
from app.words import _
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, changed, setting
from model.errors import ModelError
from model.kinds import kind_of
from model.naming import fresh_ids
from model.record import BadRecord
from model.storage.plain import from_plain, to_plain
from model.validity import check_parameters

MIME_TYPE = "application/x-loomwright-parts+json"


class NotParts(ModelError):
    """What is on the clipboard are no parts of a diagram."""

    def __init__(self) -> None:
        super().__init__("What is on the clipboard is not a part of a diagram; nothing was pasted.")


def copied(diagram: Diagram, items: Iterable[str]) -> str:
    """Return the chosen parts, what is drawn in their rows, and the conductors between them."""
    piece = excerpt(diagram, items)
    return json.dumps({
        "loomwright_parts": 1,
        "components": [to_plain(piece.components[item]) for item in sorted(piece.components)],
        "conductors": [to_plain(wire) for wire in piece.conductors.values()],
    }, ensure_ascii=False)


def paste_edit(
    diagram: Diagram, text: str, shift: tuple[float, float]
) -> tuple[Edit, tuple[str, ...]]:
    """Return the edit that pastes parts under new ids, and those ids; raise NotParts."""
    components, conductors = _parsed(text)
    letters = [kind_of(component).letter for component in components]
    ids = fresh_ids([*letters, *("W" for _ in conductors)], diagram)
    part_ids = dict(zip((c.id for c in components), ids, strict=False))
    step = (snapped(shift[0]), snapped(shift[1]))
    parts = [in_its_place(diagram, _renamed(component, part_ids, step))
             for component in components]
    wires = [
        _rewired(wire, item, part_ids, step)
        for wire, item in zip(conductors, ids[len(components):], strict=True)
    ]
    return setting(diagram, _label(parts), *parts, *wires), tuple(ids)


def _label(parts: list[Component]) -> str:
    what = parts[0].id if len(parts) == 1 else _("{count} parts").format(count=len(parts))
    return _("Paste {what}").format(what=what)


def _parsed(text: str) -> tuple[list[Component], list[Conductor]]:
    try:
        plain = json.loads(text)
        if not isinstance(plain, dict) or plain.get("loomwright_parts") != 1:
            raise NotParts
        components = [from_plain("components", item) for item in plain["components"]]
        conductors = [from_plain("conductors", item) for item in plain["conductors"]]
        for component in components:
            check_parameters(component)  # type: ignore[arg-type]
    except (ValueError, KeyError, TypeError, RecursionError, BadRecord) as error:
        raise NotParts from error
    ids = {component.id for component in components}  # type: ignore[attr-defined]
    ends = {end.component for wire in conductors for end in wire.ends()}  # type: ignore[attr-defined]
    if not components or len(ids) < len(components) or not ends <= ids:
        raise NotParts
    return components, conductors  # type: ignore[return-value]


def _renamed(
    component: Component, ids: Mapping[str, str], step: tuple[float, float]
) -> Component:
    fields: dict[str, Any] = {"id": ids[component.id], "place": None}
    for name in ("mounted_on", "enclosure"):
        fields[name] = ids.get(getattr(component, name) or "")
    if component.row_of is not None:
        panel, _, way = component.row_of.partition(".")
        fields["row_of"] = f"{ids[panel]}.{way}" if panel in ids else None
    if component.at is not None:
        fields["at"] = (component.at[0] + step[0], component.at[1] + step[1])
    parameters = dict(component.parameters)
    for spec in kind_of(component).fields:
        if spec.type == "id" and spec.name in parameters:
            target = ids.get(parameters.pop(spec.name))
            if target is not None:
                parameters[spec.name] = target
        elif spec.type == "ids" and spec.name in parameters:
            parameters[spec.name] = tuple(ids[i] for i in parameters[spec.name] if i in ids)
    fields["parameters"] = parameters
    if component.designation in ("", component.id):
        fields["designation"] = ""
    after: Component = changed(component, **fields)
    return after


def _rewired(
    wire: Conductor, item: str, ids: Mapping[str, str], step: tuple[float, float]
) -> Conductor:
    ends = [changed(end, component=ids[end.component]) for end in wire.ends()]
    path = None
    if wire.path is not None:
        points = tuple((x + step[0], y + step[1]) for x, y in wire.path.points)
        path = SheetPath(points=points, by_hand=wire.path.by_hand)
    designation = "" if wire.designation in ("", wire.id) else wire.designation
    after: Conductor = changed(
        wire, id=item, designation=designation, start=ends[0], finish=ends[1], path=path, route=()
    )
    return after
