"""Loose breakers or fuses with one feed made a panel with ways, and a panel taken apart.

Cables and loads stay as they are; only what they end on changes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from app.drafting.fixes import drawn_edit
from app.drafting.parts import new_component
from app.drafting.removal import remove_edit
from app.drawing.frame import drawing_area
from app.drawing.placing import placed_part, placed_parts
from app.drawing.routing import snapped
from app.words import _
from model.analysis.copper import copper_mm2
from model.diagram import Component, Conductor, Diagram, End, Mode
from model.edits import Change, Edit, apply, changed, merge, setting
from model.errors import ModelError
from model.kinds import kind_of
from model.kinds.distribution import WAY_COLUMNS, panel_ways
from model.naming import fresh_ids
from model.storage.plain import natural_key

DEVICES = ("breaker", "fuse")
ROW_MM, BAR_MM, LOAD_MM = 12.5, 20.0, 55.0


class NotOnePanel(ModelError):
    """Parts that cannot be made one panel, or a panel that cannot be taken apart."""


class Fed(Struct, frozen=True):
    """A loose device: the conductor that feeds it, the far part, and its load-side terminal."""

    device: Component
    feed: Conductor
    source: End
    load_side: str


def fed_from_one(diagram: Diagram, items: Iterable[str]) -> tuple[Fed, ...]:
    """Return the chosen devices with the one node that feeds them all; raise NotOnePanel."""
    devices = sorted((diagram.components[item] for item in items), key=_reading_order)
    if len(devices) < 2 or any(device.kind not in DEVICES for device in devices):
        raise NotOnePanel("Choose two or more loose breakers or fuses to make a panel of.")
    ways = [_ways_in(diagram, device) for device in devices]
    common = set.intersection(*(set(found) for found in ways))
    if not common:
        raise NotOnePanel("These have no feed in common; lead them from one bar or stud first.",
                          tuple(device.id for device in devices))
    node = min(common)
    return tuple(found[node] for found in ways)


def _reading_order(part: Component) -> tuple[float, float, tuple[Any, ...]]:
    """Return a key that puts parts as they stand: from the top down, then from the left."""
    x, y = part.at or (0.0, 0.0)
    return (y, x, natural_key(part.id))


def _ways_in(diagram: Diagram, device: Component) -> dict[str, Fed]:
    """Return, by the node a terminal is led to, the way in from there: one single core."""
    found: dict[str, Fed] = {}
    for terminal, other in (("a", "b"), ("b", "a")):
        wires = [(wire, far) for wire in diagram.conductors.values()
                 for near, far in (wire.ends(), wire.ends()[::-1])
                 if (near.component, near.terminal) == (device.id, terminal)]
        if len(wires) == 1 and wires[0][0].cores == ("+",):
            wire, far = wires[0]
            found[_node(diagram, far)] = Fed(device, wire, far, other)
    return found


def _node(diagram: Diagram, end: End) -> str:
    """Return a name for what a terminal is joined to: a whole bar, or the terminal alone."""
    part = diagram.components[end.component]
    links = kind_of(part).links(part.parameters)
    is_bar = bool(links) and all(link.role == "join" for link in links)
    return part.id if is_bar else f"{part.id}.{end.terminal}"


def make_panel_edit(diagram: Diagram, items: Iterable[str]) -> Edit:
    """Return the edit that makes loose devices the ways of one panel; raise NotOnePanel.

    The thickest of their feeds becomes the panel's; the others go.
    """
    fed = fed_from_one(diagram, items)
    is_fused = all(one.device.kind == "fuse" for one in fed)
    label = (_("Make a panel of {count} fuses") if is_fused
             else _("Make a panel of {count} breakers")).format(count=len(fed))
    kept = max((one.feed for one in fed), key=lambda wire: copper_mm2(wire) or 0.0)
    (item,) = fresh_ids(["P"], diagram)
    places = {one.device.place for one in fed}
    panel = Component(
        id=item, kind="fuse_block" if is_fused else "panel",
        place=places.pop() if len(places) == 1 else None, at=_room_at(diagram, fed),
        parameters={"ways": tuple(  # type: ignore[arg-type]
            _way(diagram, one, f"w{number}") for number, one in enumerate(fed, start=1))})
    way_of = {one.device.id: (f"w{number}", one.load_side)
              for number, one in enumerate(fed, start=1)}
    wires = [_on_panel(wire, item, way_of) for wire in diagram.conductors.values()
             if wire.id not in {one.feed.id for one in fed}]
    wires = [wire for wire in wires if wire != diagram.conductors[wire.id]]
    wires.append(_led_to(kept, way_of, End(component=item, terminal="in")))
    rows = [changed(diagram.components[load], at=None, row_of=f"{item}.{way_of[device][0]}",
                    label_at=None) for load, device in _only_loads(diagram, fed).items()]
    modes = [_panel_mode(mode, item, way_of) for mode in diagram.modes.values()]
    step = setting(diagram, label, panel, *wires, *rows,
                   *(mode for mode in modes if mode != diagram.modes[mode.id]))
    gone = remove_edit(apply(diagram, step), [
        *way_of, *(one.feed.id for one in fed if one.feed.id != kept.id)])
    return drawn_edit(diagram, replace(merge(step, gone), label=label))


def _only_loads(diagram: Diagram, fed: tuple[Fed, ...]) -> dict[str, str]:
    """Return the loads that hang on nothing but one of the devices, each with that device.

    They are drawn in the panel's rows; a load with more conductors stays where it stands.
    """
    on: dict[str, list[End]] = {}
    for wire in diagram.conductors.values():
        for here, there in (wire.ends(), wire.ends()[::-1]):
            on.setdefault(here.component, []).append(there)
    sides = {(one.device.id, one.load_side) for one in fed}
    return {item: ends[0].component for item, ends in on.items()
            if len(ends) == 1 and (ends[0].component, ends[0].terminal) in sides
            and kind_of(diagram.components[item]).role == "load"}


def _way(diagram: Diagram, fed: Fed, way: str) -> dict[str, Any]:
    """Return the row of a device: the fields both have, labelled by its name or its load's."""
    columns = {column.name for column in WAY_COLUMNS} - {"id", "label", "note"}
    row = {name: value for name, value in fed.device.parameters.items() if name in columns}
    if row.get("poles") not in ("+", "both"):
        row.pop("poles", None)
    label = fed.device.name or _load_name(diagram, fed)
    return {"id": way, "device": fed.device.kind, **({"label": label} if label else {}), **row}


def _load_name(diagram: Diagram, fed: Fed) -> str:
    far = [other.component for wire in diagram.conductors.values()
           for here, other in (wire.ends(), wire.ends()[::-1])
           if (here.component, here.terminal) == (fed.device.id, fed.load_side)]
    return diagram.components[far[0]].name if len(far) == 1 else ""


def _on_panel(
    wire: Conductor, panel: str, way_of: Mapping[str, tuple[str, str]]
) -> Conductor:
    """Return a conductor with the ends that were on a device's load side on the panel's way."""
    fields: dict[str, Any] = {}
    for side, end in (("start", wire.start), ("finish", wire.finish)):
        way, load_side = way_of.get(end.component, ("", ""))
        if way and end.terminal == load_side:
            fields |= {side: changed(end, component=panel, terminal=way), "path": None,
                       "label_at": None}
    made: Conductor = changed(wire, **fields) if fields else wire
    return made


def _led_to(feed: Conductor, way_of: Mapping[str, Any], end: End) -> Conductor:
    side = "start" if feed.start.component in way_of else "finish"
    made: Conductor = changed(feed, **{side: end}, path=None, label_at=None)
    return made


def _panel_mode(mode: Mode, panel: str, way_of: Mapping[str, tuple[str, str]]) -> Mode:
    positions = {
        f"{panel}.{way_of[handle][0]}" if handle in way_of else handle: position
        for handle, position in mode.positions.items()}
    made: Mode = changed(mode, positions=positions)
    return made


def _room_at(diagram: Diagram, fed: tuple[Fed, ...]) -> tuple[float, float] | None:
    """Return where the devices stood when the panel has room there, None to look for room."""
    gone = {one.device.id for one in fed} | set(_only_loads(diagram, fed))
    ats = [one.device.at for one in fed if one.device.at is not None]
    if not ats:
        return None
    at = (min(x for x, _ in ats), min(y for _, y in ats))
    ways = tuple({"id": f"w{n}"} for n, _ in enumerate(fed))
    placed = placed_part(Component(id="new", kind="panel", at=at,
                                   parameters={"ways": ways}))  # type: ignore[arg-type]
    others = [part.body for item, part in placed_parts(diagram).items() if item not in gone]
    is_free = placed is not None and not any(
        placed.body.grown(4.0).meets(body) for body in others)
    return at if is_free else None


def loosen_panel_edit(diagram: Diagram, item: str) -> Edit:
    """Return the edit that takes a panel apart into a bar and a loose device for each way.

    Raise NotOnePanel when a cable of several cores ends on a way: its negative would lose its bar.
    """
    panel = diagram.components[item]
    if panel.kind not in ("panel", "fuse_block"):
        raise NotOnePanel(f"{item} is not a DC panel.", (item,))
    mixed = [wire.id for wire in diagram.conductors.values() if len(wire.cores) > 1
             and item in {end.component for end in wire.ends()}]
    if mixed:
        raise NotOnePanel(
            f"{mixed[0]} brings both poles to {item}; draw its negative by itself first.",
            (item, *mixed))
    label = _("Take {item} apart").format(item=item)
    work = _Apart(diagram, panel)
    step = Edit(label, tuple(work.changes()))
    gone = remove_edit(apply(diagram, step), [item])
    return drawn_edit(diagram, replace(merge(step, gone), label=label))


class _Apart:
    """What stands in a panel's place: bars, devices, and who is led to which of them."""

    def __init__(self, diagram: Diagram, panel: Component) -> None:
        self.diagram, self.panel = diagram, panel
        main = panel.parameters.get("main") or ()
        self.ways = {way["id"]: way for way in panel_ways(panel.parameters, panel.kind)}
        self.ends = [(wire, side, end) for wire in diagram.conductors.values()
                     for side, end in (("start", wire.start), ("finish", wire.finish))
                     if end.component == panel.id]
        returns = [end for wire, _, end in self.ends if wire.cores == ("-",)]
        rows = [*(way for way in self.ways.values() if way.get("device") != "none"), *main[:1]]
        letters = ["X", *["F"] * len(rows), *["W"] * len(rows), *(["X"] if returns else [])]
        ids = fresh_ids(letters, diagram)
        self.bar = ids[0]
        self.devices = {row["id"] if row not in main else "main": ids[1 + number]
                        for number, row in enumerate(rows)}
        self.links = dict(zip(self.devices, ids[1 + len(rows):], strict=False))
        self.negative = ids[-1] if returns else ""
        self.rows = {row["id"] if row not in main else "main": row for row in rows}
        feeds = [end for wire, _, end in self.ends
                 if wire.cores != ("-",) and end.terminal not in self.devices]
        # A feed takes the stud in its own corner; each device then has one in line with it.
        self.feed_studs = iter(range(1, 1000))
        self.studs = iter(range(max(len(feeds), 1) + 1, 1000))
        self.returns = iter(range(1, 1000))
        self.first_mm = ROW_MM * (max(len(feeds), 1) if "main" not in self.devices else 1)

    def changes(self) -> Iterable[Change]:
        """Yield what is new and what ends elsewhere."""
        parts = [self._device(way) for way in self.devices]
        links = [self._link(way) for way in self.devices]
        wires: dict[str, Conductor] = {}
        for wire, side, end in self.ends:
            moved = changed(wires.get(wire.id, wire), path=None, label_at=None,
                            **{side: self._new_end(wire, end)})
            wires[wire.id] = moved
        loads = [self._load(part) for part in self.diagram.components.values()
                 if (part.row_of or "").partition(".")[0] == self.panel.id]
        bars = [self._bar(self.bar, "+", next(self.studs) - 1, (0.0, 0.0))]
        if self.negative:
            bars.append(self._bar(self.negative, "-", next(self.returns) - 1,
                                  (-BAR_MM, self.first_mm + ROW_MM * len(self.devices))))
        values = [*bars, *parts, *links, *wires.values(), *loads, *self._modes()]
        return setting(self.diagram, "", *values).changes

    def _at(self, dx: float, dy: float) -> tuple[float, float] | None:
        """Return a point by its distance from the bar's upper end, which keeps all in the frame."""
        at = self.panel.at
        if at is None:
            return None
        area = drawing_area(self.diagram.sheet)
        foot_mm = self.first_mm + ROW_MM * (len(self.devices) + 1)
        top = max(min(at[1], snapped(area.y1 - foot_mm)), snapped(area.y0 + ROW_MM))
        return (at[0] + dx, top + dy)

    def _bar(self, item: str, pole: str, studs: int, at: tuple[float, float]) -> Component:
        made: Component = changed(
            new_component(self.diagram, "busbar", (0, 0)), id=item, at=self._at(*at),
            turn=90 if pole == "+" else 0, place=self.panel.place,
            name=f"{self.panel.name or self.panel.id}, {'bus' if pole == '+' else 'negative'}",
            parameters={"pole": pole, "stud_count": max(studs, 1), **(
                {"stud_at_mm": tuple(ROW_MM * n for n in range(studs))} if pole == "+" else {})})
        return made

    def _row_mm(self, way: str) -> float:
        """Return how far below the bar's upper end the row of a way is. [mm]"""
        ways = [name for name in self.devices if name != "main"]
        number = ways.index(way) if way in ways else len(ways)
        return self.first_mm + ROW_MM * number

    def _device(self, way: str) -> Component:
        row = self.rows[way]
        kind = "fuse" if str(row.get("device", "")).startswith("fuse") else "breaker"
        fields = {field.name for field in kind_of(Component(id="F", kind=kind)).fields}
        parameters = {name: value for name, value in row.items() if name in fields}
        at = self._at(BAR_MM, self._row_mm(way))
        if way == "main":
            at = self._at(-BAR_MM, 0.0)
        made: Component = changed(
            Component(id=self.devices[way], kind=kind), at=at, turn=270, place=self.panel.place,
            name=row.get("label", ""), parameters=parameters)
        return made

    def _link(self, way: str) -> Conductor:
        """Return the short conductor from the bar to a device; nobody measured it yet."""
        studs = self.feed_studs if way == "main" else self.studs
        device, bar = self.devices[way], End(component=self.bar, terminal=f"s{next(studs)}")
        ends = ((End(component=device, terminal="b"), bar) if way == "main"
                else (bar, End(component=device, terminal="a")))
        return Conductor(id=self.links[way], start=ends[0], finish=ends[1])

    def _new_end(self, wire: Conductor, end: End) -> End:
        if wire.cores == ("-",):
            made = changed(end, component=self.negative, terminal=f"s{next(self.returns)}")
        elif end.terminal in self.devices:
            made = changed(end, component=self.devices[end.terminal], terminal="b")
        elif end.terminal == "in" and "main" in self.devices:
            made = changed(end, component=self.devices["main"], terminal="a")
        else:
            made = changed(end, component=self.bar, terminal=f"s{next(self.feed_studs)}")
        after: End = made
        return after

    def _load(self, part: Component) -> Component:
        """Return a load that was drawn in a row, standing beside the row's device."""
        way = (part.row_of or "").partition(".")[2]
        others = [p.id for p in self.diagram.components.values() if p.row_of == part.row_of]
        at = self._at(LOAD_MM + 20.0 * others.index(part.id), self._row_mm(way))
        made: Component = changed(part, row_of=None, at=at, turn=270)
        return made

    def _modes(self) -> list[Mode]:
        changes = []
        for mode in self.diagram.modes.values():
            positions = {}
            for handle, position in mode.positions.items():
                owner, _, way = handle.partition(".")
                own = owner == self.panel.id and way in self.devices
                positions[self.devices[way] if own else handle] = position
            if positions != mode.positions:
                changes.append(changed(mode, positions=positions))
        return changes

