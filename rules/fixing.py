"""What a fix does, as Edits: the verbs that the rules' fixes are made of.

Nothing here knows the sheet: a new part has no coordinates and a conductor that ends elsewhere
has no path, and both are laid out when the edit is done.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Any, cast

from msgspec.structs import replace

from model.analysis.ampacity_range import ampacity_range
from model.diagram import Component, Conductor, Diagram, End, Record, Size
from model.edits import Edit, changed, merge, put, setting
from model.edits import apply as applied
from model.frozen_map import FrozenMap
from model.kinds import catalogue, kind_of
from model.naming import fresh_ids
from model.survey import Survey
from model.tables import conductor_sizes
from model.units import area_mm2
from rules.profiles import Profile

PANEL_KINDS = ("panel", "fuse_block")
# What a new length of the same cable keeps of the old one.
_OF_THE_CABLE = ("cores", "purpose", "size", "parallel_count", "insulation_c", "construction",
                 "cable_type", "tinned", "colour", "sleeve_colour", "sheath", "in_enclosure")


def with_fields(diagram: Diagram, title: str, item: str, **fields: Any) -> Edit:
    """Return the edit that sets fields of a conductor, part ("F1"), way ("P1.w2") or the boat.

    None makes a field unknown again. `item` "boat" is the boat itself.
    """
    return setting(diagram, title, _with_fields(diagram, item, fields))


def _with_fields(diagram: Diagram, item: str, fields: dict[str, Any]) -> Record:
    if item == "boat":
        return cast(Record, changed(diagram.boat, **fields))
    owner, _, way = item.partition(".")
    if owner in diagram.conductors:
        return cast(Record, changed(diagram.conductors[owner], **fields))
    part = diagram.components[owner]
    if way:
        column = "main" if way == "main" else "ways"
        rows = tuple({**row, **fields} if row["id"] == way else row
                     for row in part.parameters[column])
        return cast(Record, changed(part, parameters={**part.parameters, column: rows}))
    plain = {name: value for name, value in fields.items() if name in part.field_names()}
    parameters = {**part.parameters, **{k: v for k, v in fields.items() if k not in plain}}
    kept = {name: value for name, value in parameters.items() if value is not None}
    return cast(Record, changed(part, **plain, parameters=kept))


def inserted(
    diagram: Diagram, title: str, conductor: str, at: str, kind: str, length_m: float,
    **parameters: Any,
) -> Edit:
    """Return the edit that cuts a conductor near one end and fits a part there.

    `at` is that end ("G1.+"); the new part is of an in-line kind with terminals a and b, and a
    piece of the same cable, `length_m` long, joins it to that end. The old conductor keeps its id
    and the rest of its length.
    """
    old = diagram.conductors[conductor]
    part, piece = fresh_ids([catalogue()[kind].letter, "W"], diagram)
    end = next(e for e in old.ends() if f"{e.component}.{e.terminal}" == at)
    near = Conductor.read({
        "id": piece, "from": end, "to": End(component=part, terminal="a"),
        "length_m": length_m, "known": {"length_m": "estimated"},
        "engine_space_m": _part_in_engine_space(old, length_m),
        **{name: getattr(old, name) for name in _OF_THE_CABLE}})
    far_end = End(component=part, terminal="b")
    rest_m = None if old.length_m is None else round(max(old.length_m - length_m, 0.0), 3)
    side = "start" if end is old.start else "finish"
    rest = changed(old, **{side: far_end}, length_m=rest_m, path=None, label_at=None)
    device = _part(part, kind, diagram.components[end.component], parameters)
    return setting(diagram, title, device, near, rest)


def _part(item: str, kind: str, beside: Component, parameters: dict[str, Any]) -> Record:
    """Return a new part beside another; a switch is named by what it is."""
    given = FrozenMap({name: value for name, value in parameters.items() if value is not None})
    made = catalogue()[kind]
    return Component(id=item, kind=kind, designation=item, place=beside.place, parameters=given,
                     name=made.title if made.role == "switch" else "",
                     position_note=f"near {beside.designation or beside.id}")


def _part_in_engine_space(old: Conductor, length_m: float) -> float | None:
    """Return how much of a short piece runs in an engine space: all of it when any did. [m]"""
    if old.engine_space_m is None:
        return None
    return length_m if old.engine_space_m > 0 else 0.0


def moved(diagram: Diagram, title: str, conductor: str, from_: str, to: str) -> Edit:
    """Return the edit that takes a conductor's end from one terminal ("X1.s2") to another."""
    old = diagram.conductors[conductor]
    side = "start" if f"{old.start.component}.{old.start.terminal}" == from_ else "finish"
    after = changed(old, **{side: end(to)}, path=None, label_at=None)
    return setting(diagram, title, after)


def connected(diagram: Diagram, title: str, from_: str, to: str, **fields: Any) -> Edit:
    """Return the edit that adds a conductor between two terminals; `fields` are its own."""
    (item,) = fresh_ids(["W"], diagram)
    wire = Conductor.read(
        {"id": item, "designation": item, "from": end(from_), "to": end(to), **fields})
    return setting(diagram, title, wire)


def negative_home(survey: Survey, item: str, feed: Conductor) -> str | None:
    """Return the terminal where a part's missing negative belongs: the way that feeds it, else the
    negative bus with the fewest conductors on a stud, else the post of a battery.
    """
    components = survey.diagram.components
    for far in feed.ends():
        is_way = far.component != item and components[far.component].kind in PANEL_KINDS
        if is_way and far.terminal not in ("in", "-"):
            return f"{far.component}.{far.terminal}"
    studs = [f"{part.id}.{port.id}" for part in components.values()
             if part.parameters.get("pole") == "-" and kind_of(part).role == "distribution"
             for port in kind_of(part).ports(part.parameters)]
    posts = [f"{part.id}.-" for part in components.values() if part.kind == "battery_bank"
             and survey.potentials[survey.graph.number[f"{part.id}.-"]].side == "-"]
    return freest(survey.diagram, studs) or next(iter(posts), None)


def freest(diagram: Diagram, terminals: Iterable[str]) -> str | None:
    """Return of some terminals ("X2.s1") the first at which the fewest conductors end."""
    taken = Counter(f"{end.component}.{end.terminal}"
                    for wire in diagram.conductors.values() for end in wire.ends())
    return min(terminals, key=lambda terminal: taken[terminal], default=None)


def placed(
    diagram: Diagram, title: str, kind: str, beside: str, **parameters: Any
) -> tuple[str, Edit]:
    """Return the id of a new part in the same place as another, and the edit that adds it."""
    (item,) = fresh_ids([catalogue()[kind].letter], diagram)
    part = _part(item, kind, diagram.components[beside], parameters)
    return item, setting(diagram, title, part)


def end(terminal: str) -> End:
    """Return the conductor end at a terminal written "F1.a"."""
    component, _, port = terminal.partition(".")
    return End(component=component, terminal=port)


def without(diagram: Diagram, title: str, conductors: Iterable[str]) -> Edit:
    """Return the edit that takes conductors away."""
    return Edit(title, tuple(put(diagram, "conductors", item, None) for item in conductors))


def together(diagram: Diagram, title: str, *makers: Any) -> Edit:
    """Return one edit of several: each maker is given the diagram as the ones before left it."""
    done = Edit(title, ())
    for make in makers:
        edit = make(diagram)
        diagram = applied(diagram, edit)
        done = merge(done, edit)
    return replace(done, label=title)


def thicker(
    survey: Survey, conductor: str, profile: Profile, carries_a: float = 0.0,
    least_mm2: float = 0.0,
) -> Size | None:
    """Return the smallest size of the conductor's own standard that carries `carries_a` [A] where
    it runs and has `least_mm2` [mm2] of copper; None when the table has none.
    """
    old = survey.diagram.conductors[conductor]
    standard = "mm2" if old.size is None else old.size.standard
    for size in conductor_sizes(standard):
        if area_mm2(size.standard, size.text) < least_mm2:
            continue
        bounds = ampacity_range(changed(old, size=size), survey.diagram, profile.ampacity_table)
        if bounds.low_a is not None and bounds.low_a >= carries_a:
            return size
    return None
