"""Kinds that share a supply out: busbars, studs, panels."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from typing import Any

from model.kinds.building import (
    ac_poles,
    choice,
    count,
    number,
    port,
    text,
    yes_no,
)
from model.kinds.protection import FUSE_CLASSES
from model.kinds.record import Field, Handle, Kind, Link, Parameters, Port

STUD_COUNT = 6


def stud_ids(parameters: Parameters) -> tuple[str, ...]:
    """Return the ids of a busbar's studs, s1 to sn."""
    return tuple(f"s{i + 1}" for i in range(parameters.get("stud_count", STUD_COUNT)))


def _bar_ports(parameters: Parameters) -> tuple[Port, ...]:
    pole = parameters.get("pole", "+")
    return tuple(port(stud, pole) for stud in stud_ids(parameters))


def _bar_links(parameters: Parameters) -> tuple[Link, ...]:
    studs = stud_ids(parameters)
    return tuple(Link(a, b, "join") for a, b in itertools.pairwise(studs))


BAR_FIELDS = (
    choice("pole", "Pole", "+ - L N E bonding", "1.3 4.11", first=True),
    number("rated_a", "Rated current", "A", "1.26", first=True),
    count("stud_count", "Studs", "4.11 4.16", minimum=1, maximum=40, first=True),
    yes_no("one_screw_each", "One screw for each", "4.12"),
    yes_no("covered", "Covered", "5.9"),
    yes_no("enclosed", "In an enclosure", "1.3"),
    Field("stud_at_mm", "Studs drawn at", "numbers", "mm", drawing=True),
    number("length_mm", "Drawn length", "mm", drawing=True),
)

BUSBAR = Kind(
    "busbar", "Busbar", "X", "distribution", "A bar with studs that joins many conductors.",
    BAR_FIELDS, _bar_ports, _bar_links, role="distribution",
)

TERMINAL_BLOCK = Kind(
    "terminal_block", "Terminal block", "X", "distribution",
    "A short row of joined terminals.",
    BAR_FIELDS, _bar_ports, _bar_links, role="distribution",
)

STUD = Kind(
    "stud", "Stud", "X", "distribution", "One bolt on which several lugs meet.",
    (
        choice("pole", "Pole", "+ - L N E bonding", "1.3", first=True),
        number("rated_a", "Rated current", "A", "1.26", first=True),
        yes_no("covered", "Covered", "5.9"),
    ),
    lambda p: (port("s", p.get("pole", "+")),), role="distribution",
)


def _untraced_ports(parameters: Parameters) -> tuple[Port, ...]:
    pole = parameters.get("pole", "+")
    return (Port("end", ac_poles("end")) if pole == "ac" else port("end", pole),)


UNTRACED_END = Kind(
    "untraced_end", "Untraced end", "X", "distribution",
    "Where a conductor was lost sight of. It goes on; nobody knows yet where to.",
    (choice("pole", "Pole", "+ - L N E bonding signal ac", "4.16", first=True),),
    _untraced_ports,
)

WAY_COLUMNS = (
    text("id", "Way"),
    text("label", "Label"),
    choice("device", "Device", "breaker fuse fuse_and_switch none"),
    choice("class", "Class of its fuse", FUSE_CLASSES),
    number("rated_a", "Rated current", "A"),
    number("rated_dc_v", "Rated DC voltage", "V"),
    number("interrupt_a", "Interrupting rating", "A"),
    choice("poles", "Opens", "+ both"),
    choice("reset", "Reset", "manual_trip_free automatic"),
    yes_no("switch_duty", "May be used as a switch"),
    yes_no("spare", "Spare"),
    text("note", "Note"),
)
MAIN_COLUMNS = tuple(c for c in WAY_COLUMNS if c.name not in ("note", "spare"))


def plain_way(number: int, kind: str) -> dict[str, Any]:
    """Return a way w1 to wn with a device of unknown rating: in a fuse block it is a fuse."""
    return {"id": f"w{number}", "device": "fuse" if kind == "fuse_block" else "breaker"}


def panel_ways(parameters: Parameters, kind: str = "panel") -> tuple[Mapping[str, Any], ...]:
    """Return the ways of a panel; one without a list has six plain ones."""
    return tuple(parameters.get("ways") or (
        plain_way(number, kind) for number in range(1, 7)))


def _way_positions(way: Mapping[str, Any]) -> tuple[str, ...]:
    return ("in", "pulled") if way.get("device") == "fuse" else ("on", "off")


def _way_link(way: Mapping[str, Any], a: str, b: str, handle: str) -> Link:
    if way.get("device") == "none":
        return Link(a, b, "join", item=handle)
    closed = frozenset(_way_positions(way)[:1])
    return Link(a, b, "overcurrent", handle, closed, item=handle, device=way)


def _main_of(parameters: Parameters) -> Mapping[str, Any] | None:
    main = parameters.get("main") or ()
    return main[0] if main else None


def _panel_links(parameters: Parameters) -> tuple[Link, ...]:
    main = _main_of(parameters)
    feed = _way_link(main, "in+", "bus+", "main") if main else Link("in+", "bus+", "join")
    links = [feed]
    for way in panel_ways(parameters):
        out = way["id"]
        links.append(_way_link(way, "bus+", f"{out}+", out))
        if way.get("poles") == "both":
            links.append(_way_link(way, "-", f"{out}-", out))
        else:
            links.append(Link("-", f"{out}-", "join"))
    return tuple(links)


def _panel_ports(parameters: Parameters) -> tuple[Port, ...]:
    ways = (
        Port(way["id"], {"+": f"{way['id']}+", "-": f"{way['id']}-"})
        for way in panel_ways(parameters)
    )
    return (Port("in", {"+": "in+", "-": "-"}), port("-", "-"), *ways)


def _panel_handles(parameters: Parameters) -> tuple[Handle, ...]:
    devices = [(way["id"], way) for way in panel_ways(parameters)]
    main = _main_of(parameters)
    if main:
        devices.insert(0, ("main", main))
    return tuple(
        Handle(item, _way_positions(way), _way_positions(way)[0])
        for item, way in devices if way.get("device") != "none"
    )


PANEL_FIELDS = (
    Field("ways", "Ways", "records", columns=WAY_COLUMNS, first=True,
          checks=("1.3", "1.4", "1.20", "12.8")),
    Field("main", "Main device", "records", columns=MAIN_COLUMNS, checks=("1.4",)),
    number("bus_rated_a", "Bus rating", "A", "1.24 1.26", first=True),
    yes_no("negative_bar", "Own negative bar", "4.11", first=True),
    yes_no("enclosed", "Enclosed", "1.3", first=True),
    number("width_mm", "Drawn width", "mm", drawing=True),
)

PANEL = Kind(
    "panel", "DC panel", "P", "distribution", "Breakers or fuses in one frame, a way for each.",
    PANEL_FIELDS, _panel_ports, _panel_links, _panel_handles, role="distribution",
)


def _of_fuses(parameters: Parameters) -> Parameters:
    return {**parameters, "ways": panel_ways(parameters, "fuse_block")}


FUSE_BLOCK = Kind(
    "fuse_block", "Fuse block", "P", "distribution", "A block of fuses with a common feed.",
    PANEL_FIELDS, _panel_ports, lambda p: _panel_links(_of_fuses(p)),
    lambda p: _panel_handles(_of_fuses(p)), role="distribution",
)


LEAK = count("residual_ma", "Residual current trip", "9.2 9.12", unit="mA")
AC_PANEL_FIELDS = (
    Field("ways", "Ways", "records", columns=(*WAY_COLUMNS, LEAK), first=True,
          checks=("9.2", "9.9", "9.11", "12.8")),
    Field("main", "Main device", "records", columns=(*MAIN_COLUMNS, LEAK),
          checks=("9.1", "9.2", "9.10")),
    *PANEL_FIELDS[2:],
    choice("dc_parts_in_box", "DC parts in the same box", "none behind_barrier open", "9.18"),
)


def _ac_panel_ports(parameters: Parameters) -> tuple[Port, ...]:
    ways = (Port(way["id"], ac_poles(way["id"])) for way in panel_ways(parameters))
    return (Port("in", ac_poles("in")), *ways)


def _ac_panel_links(parameters: Parameters) -> tuple[Link, ...]:
    main = _main_of(parameters)
    live = _way_link(main, "inL", "busL", "main") if main else Link("inL", "busL", "join")
    links = [live]
    for way in panel_ways(parameters):
        out = way["id"]
        links.append(_way_link(way, "busL", f"{out}L", out))
        neutral = (_way_link(way, "inN", f"{out}N", out) if way.get("poles") == "both"
                   else Link("inN", f"{out}N", "join"))
        links += [neutral, Link("inE", f"{out}E", "join")]
    return tuple(links)


AC_PANEL = Kind(
    "ac_panel", "AC panel", "P", "distribution", "AC breakers in one frame.",
    AC_PANEL_FIELDS, _ac_panel_ports, _ac_panel_links, _panel_handles, role="distribution",
)

KINDS = (BUSBAR, TERMINAL_BLOCK, STUD, UNTRACED_END, PANEL, FUSE_BLOCK, AC_PANEL)
