"""Removing things, and whatever would be left pointing at them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from app.words import _
from model.diagram import Component, Diagram, Mode
from model.edits import Change, Edit, changed, put
from model.frozen_map import FrozenMap
from model.kinds import kind_of


def remove_edit(diagram: Diagram, items: Iterable[str]) -> Edit:
    """Return the edit that removes parts, conductors and places, and cleans up after them."""
    wanted = set(items)
    parts = wanted & set(diagram.components)
    parts |= {c.id for c in diagram.components.values()
              if c.row_of is not None and c.row_of.partition(".")[0] in parts}
    places = wanted & set(diagram.places)
    wires = wanted & set(diagram.conductors)
    wires |= {w.id for w in diagram.conductors.values()
              if {end.component for end in w.ends()} & parts}
    changes = [put(diagram, "conductors", wire, None) for wire in sorted(wires)]
    changes += _left_behind(diagram, parts, places, wires)
    changes += [put(diagram, "components", part, None) for part in sorted(parts)]
    changes += [put(diagram, "places", place, None) for place in sorted(places)]
    named = sorted(wanted)
    label = _("Remove {what}").format(what=named[0]) if len(named) == 1 else _(
        "Remove {count} things").format(count=len(named))
    return Edit(label, tuple(changes))


def _left_behind(
    diagram: Diagram, parts: set[str], places: set[str], wires: set[str]
) -> list[Change]:
    """Return changes to what stays and refers to what goes."""
    changes: list[Change] = []
    for component in diagram.components.values():
        if component.id not in parts:
            after = _without(component, parts, places)
            if after != component:
                changes.append(put(diagram, "components", component.id, after))
    for wire in diagram.conductors.values():
        if wire.id not in wires and set(wire.route) & places:
            route = tuple(place for place in wire.route if place not in places)
            changes.append(put(diagram, "conductors", wire.id, changed(wire, route=route)))
    for mode in diagram.modes.values():
        after_mode = _mode_without(mode, parts)
        if after_mode != mode:
            changes.append(put(diagram, "modes", mode.id, after_mode))
    for system in diagram.systems.values():
        datum = system.negative_datum
        if datum is not None and datum.partition(".")[0] in parts:
            changes.append(put(diagram, "systems", system.id,
                               changed(system, negative_datum=None)))
    return changes


def _without(component: Component, parts: set[str], places: set[str]) -> Component:
    fields: dict[str, Any] = {}
    for name in ("mounted_on", "enclosure"):
        if getattr(component, name) in parts:
            fields[name] = None
    if component.place in places:
        fields["place"] = None
    parameters: dict[str, Any] = dict(component.parameters)
    for spec in kind_of(component).fields:
        value = parameters.get(spec.name)
        if spec.type == "id" and value in parts:
            del parameters[spec.name]
        elif spec.type == "ids" and value is not None and set(value) & parts:
            parameters[spec.name] = tuple(item for item in value if item not in parts)
    if parameters != component.parameters:
        fields["parameters"] = FrozenMap(parameters)
    after: Component = changed(component, **fields) if fields else component
    return after


def _mode_without(mode: Mode, parts: set[str]) -> Mode:
    positions = {handle: position for handle, position in mode.positions.items()
                 if handle.partition(".")[0] not in parts}
    after: Mode = changed(
        mode,
        positions=positions,
        engines_running=tuple(i for i in mode.engines_running if i not in parts),
        shore_connected=tuple(i for i in mode.shore_connected if i not in parts),
        generators_running=tuple(i for i in mode.generators_running if i not in parts),
        absent=tuple(i for i in mode.absent if i not in parts),
        load_current_a={i: a for i, a in mode.load_current_a.items() if i not in parts},
        state_of_charge={i: part for i, part in mode.state_of_charge.items() if i not in parts},
    )
    return after
