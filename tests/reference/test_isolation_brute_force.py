"""Isolation against brute force over devices, on hundreds of small random boats.

The reference is written from the definitions alone: every choice of devices, each handle in each
of its positions, in order of weight; what is live is asked of networkx. It shares nothing with
the analysis but the records of the kinds.
"""

from __future__ import annotations

import functools
import itertools
import random
from typing import Any

import networkx
import pytest

from model.diagram import Diagram
from model.errors import ModelError
from model.kinds import kind_of, port_of
from model.survey import Survey
from tests.boat_builder import Boat

SEEDS = 400
AUTOMATIC = ("voltage_sensing_relay", "push_button", "float_switch")
INLINE = ("battery_switch", "fuse", "breaker", "load_switch", "contactor", "emergency_link",
          "disconnector", "push_button")
OTHERS = ("selector_switch", "selector_switch", "panel", "panel", "diode_isolator",
          "dc_dc_converter", "busbar", "stud", "voltage_sensing_relay")
SOURCES = ("battery_bank", "battery_bank", "solar_array", "alternator", "alternator",
           "wind_generator")


def random_part(
    boat: Boat, item: str, kind: str, rng: random.Random, insulated: bool = False
) -> None:
    fields: dict[str, Any] = {}
    if kind in INLINE and kind not in ("fuse", "breaker"):
        fields["remote"] = rng.choice(["none", "none", "none", "with_override", "without"])
    if kind in INLINE:
        fields["poles"] = rng.choice(["both", "both", "+"] if insulated else ["+", "both"])
    if kind in ("battery_switch", "load_switch", "contactor", "emergency_link"):
        fields["normal"] = rng.choice(["closed", "closed", "open"])
    if kind == "push_button":
        fields = {"poles": fields["poles"]}
    if kind == "breaker":
        fields["reset"] = rng.choice(["manual_trip_free", "manual_trip_free", "automatic"])
    if kind == "selector_switch":
        fields["normal_position"] = rng.choice(["1", "B", "2", "B", "0"])
    if kind == "panel":
        fields["ways"] = ({"id": "w1", "device": "breaker", "poles": rng.choice(["+", "both"])},
                          {"id": "w2", "device": rng.choice(["fuse", "none"])})
        if rng.random() < 0.7:
            fields["main"] = ({"id": "main", "device": "breaker"},)
    if kind == "dc_dc_converter":
        fields["isolated"] = rng.random() < 0.5
    if kind == "alternator":
        fields["driven_by"] = "M1"
    if kind == "wind_generator":
        fields["stop_by"] = rng.choice(["none", "brake"])
    boat.part(item, kind, **fields)


def add_shore(boat: Boat, rng: random.Random) -> None:
    """A charger behind a breaker, or behind a transfer switch with a generating set."""
    boat.part("X9", "shore_inlet").part("T9", "shore_charger")
    ac: dict[str, Any] = {"cores": ("L", "N", "E")}
    if rng.random() < 0.6:
        boat.part("Q9", "ac_breaker").wire("V1", "X9.ac", "Q9.a", **ac)
        boat.wire("V2", "Q9.b", "T9.ac", **ac)
        return
    boat.part("G9", "generating_set")
    boat.part("Q9", "ac_transfer_switch", type=rng.choice(["rotary", "relay"]))
    boat.wire("V1", "X9.ac", "Q9.1", **ac).wire("V2", "G9.ac", "Q9.2", **ac)
    boat.wire("V3", "Q9.c", "T9.ac", **ac)


def try_wire(boat: Boat, item: str, a: str, b: str, pair: bool) -> None:
    """Wire a pair where both ends take one; from a battery, a conductor from each post."""
    tries: list[tuple[str, str, str, tuple[str, ...]]] = [(item, a, b, ("+",))]
    if pair:
        tries = [(item, a, b, ("+", "-")), *tries,
                 (f"N{item}", a.replace("G0.+", "G0.-"), b.replace("G0.+", "G0.-"), ("-",))]
    for name, start, finish, cores in tries:
        if cores == ("+",) and item in boat._items["conductors"]:
            continue
        try:
            boat.wire(name, start, finish, cores=cores).diagram()
        except ModelError:
            boat._items["conductors"].pop(name, None)


@functools.cache
def random_boat(seed: int) -> Diagram:
    """A small boat: sources, devices and a load on a random tree of wires, with some loops."""
    rng = random.Random(seed)
    insulated = rng.random() < 0.4
    boat = Boat(earthing="insulated" if insulated else "negative_earthed").part(
        "M1", "engine_block")
    boat.load("E1")
    boat.battery("G0")
    for number in range(1, rng.randint(1, 4)):
        random_part(boat, f"G{number}", rng.choice(SOURCES), rng)
    for number in range(rng.randint(2, 5)):
        random_part(boat, f"A{number}", rng.choice(INLINE), rng, insulated)
    for number in range(rng.randint(0, 3)):
        random_part(boat, f"B{number}", rng.choice(OTHERS), rng)
    if rng.random() < 0.3:
        add_shore(boat, rng)
    ends: dict[str, list[str]] = {}
    for component in boat.diagram().components.values():
        ports = [f"{component.id}.{port.id}" for port in kind_of(component).ports(
            component.parameters) if "+" in port.poles]
        if ports:
            ends[component.id] = ports
    items = [item for item in ends if item[0] != "G"]
    inlets = [end for item in items for end in ends[item]
              if end.endswith((".a", ".1", ".2")) and item[0] != "T"]
    rng.shuffle(items)
    for number, item in enumerate(items[1:], start=1):
        other = rng.choice(items[max(0, number - 3):number])
        a, b = (rng.choice([end for end in ends[part] if end not in inlets or rng.random() < 0.2]
                           or ends[part]) for part in (other, item))
        try_wire(boat, f"W{number}", a, b, insulated)
    for item in ends:
        if item[0] == "G":
            try_wire(boat, f"S{item}", f"{item}.+", rng.choice(inlets), insulated)
    for number in range(rng.randint(0, 2)):
        a, b = rng.sample(items, 2)
        try_wire(boat, f"Y{number}", rng.choice(ends[a]), rng.choice(ends[b]), insulated)
    return boat.diagram()


def random_target(diagram: Diagram, rng: random.Random) -> str:
    ways = [f"{c.id}.w1" for c in diagram.components.values() if c.kind == "panel"]
    return rng.choice(["E1", "E1", rng.choice(sorted(diagram.components)),
                       rng.choice(sorted(diagram.conductors)), *ways])


class Reference:
    """The boat by definition: directed steps with their handles, sources and their stops."""

    def __init__(self, diagram: Diagram) -> None:
        self.diagram = diagram
        self.steps: list[tuple[str, str, str | None, frozenset[str]]] = []
        self.usual: dict[str, str] = {}
        self.choices: dict[str, tuple[tuple[str, ...], int]] = {}
        self.starts: dict[str, list[str]] = {}
        self.stop_of: dict[str, str] = {}
        for component in diagram.components.values():
            self._component(component)
        for wire in diagram.conductors.values():
            for core in wire.cores:
                a, b = (self._terminal(end, core, len(wire.cores)) for end in wire.ends())
                if a and b:
                    self._both(a, b, None, frozenset())

    def _terminal(self, end: Any, core: str, cores: int) -> str | None:
        name = port_of(self.diagram.components[end.component], end.terminal).terminal_for(
            core, cores)
        return f"{end.component}.{name}" if name else None

    def _both(self, a: str, b: str, handle: str | None, closed: frozenset[str]) -> None:
        self.steps += [(a, b, handle, closed), (b, a, handle, closed)]

    def _component(self, component: Any) -> None:
        kind, p, item = kind_of(component), component.parameters, component.id
        automatic = (
            kind.slug in AUTOMATIC or p.get("remote") == "without"
            or (kind.slug == "contactor" and p.get("remote") != "with_override")
            or p.get("reset") == "automatic" or p.get("type") == "relay")
        for handle in () if automatic else kind.handles(p):
            full = f"{item}.{handle.id}" if handle.id else item
            self.usual[full] = handle.normal
            rest = tuple(x for x in handle.positions if x != handle.normal)
            self.choices[full] = (rest, 3 if "pulled" in rest else 1)
        for link in kind.links(p):
            if link.role in ("load", "source"):
                continue
            handle = None
            if link.handle is not None and not automatic:
                handle = f"{item}.{link.handle}" if link.handle else item
            a, b = f"{item}.{link.a}", f"{item}.{link.b}"
            if link.one_way:
                self.steps.append((a, b, handle, link.closed_in))
            else:
                self._both(a, b, handle, link.closed_in)
        self._source(kind.slug, p, item)

    def _source(self, slug: str, p: Any, item: str) -> None:
        if slug == "battery_bank":
            insulated = self.diagram.systems["S1"].earthing == "insulated"
            self.starts[item] = [f"{item}.+", *([f"{item}.-"] if insulated else [])]
        elif slug in ("solar_array", "alternator", "wind_generator"):
            self.starts[item] = [f"{item}.+"]
        elif slug in ("shore_inlet", "generating_set"):
            self.starts[item] = [f"{item}.L", f"{item}.L2"]
        if item in self.starts and slug != "battery_bank" and p.get("stop_by") != "none":
            stop = "M1" if slug == "alternator" else item
            self.stop_of[item] = stop
            self.choices[stop] = (("stopped",), 4 if slug == "solar_array" else 1)

    def goal(self, target: str) -> set[str]:
        owner, _, way = target.partition(".")
        if target in self.diagram.conductors:
            wire = self.diagram.conductors[target]
            return {name for core in wire.cores for end in wire.ends()
                    if (name := self._terminal(end, core, len(wire.cores)))}
        component = self.diagram.components[owner]
        ports = kind_of(component).ports(component.parameters)
        return {f"{owner}.{name}" for port in ports for name in port.poles.values()
                if not way or port.id == way}

    def is_dead(self, target: str, sources: list[str], chosen: dict[str, str]) -> bool:
        positions = {**self.usual, **chosen}
        graph = networkx.DiGraph()
        for source in sources:
            if self.stop_of.get(source) not in chosen:
                graph.add_edges_from(("", start) for start in self.starts[source])
        graph.add_node("")
        graph.add_edges_from((a, b) for a, b, handle, closed in self.steps
                             if handle is None or positions[handle] in closed)
        return self.goal(target).isdisjoint(networkx.descendants(graph, ""))

    def least_sets(self, target: str, sources: list[str]) -> tuple[int, set[frozenset[str]]]:
        """Try every choice by weight; return the least weight and all choices of it."""
        subsets = sorted(
            (sum(self.choices[d][1] for d in subset), subset)
            for count in range(len(self.choices) + 1)
            for subset in itertools.combinations(sorted(self.choices), count))
        least, found = None, set()
        for weight, subset in subsets:
            if least is not None and weight > least:
                break
            if any(self.is_dead(target, sources, dict(zip(subset, places, strict=True)))
                   for places in itertools.product(*(self.choices[d][0] for d in subset))):
                least = weight
                found.add(frozenset(subset))
        assert least is not None
        return least, found


def others_than(diagram: Diagram, reference: Reference, target: str) -> list[str]:
    own_posts = target in diagram.components and diagram.components[
        target].kind == "battery_bank"
    return [s for s in reference.starts if not (own_posts and s == target)]


@pytest.mark.parametrize("seed", range(SEEDS))
def test_all_least_sets_are_those_that_brute_force_finds(seed: int) -> None:
    diagram = random_boat(seed)
    reference = Reference(diagram)
    target = random_target(diagram, random.Random(seed))
    found = Survey(diagram).isolation(target)
    sources = others_than(diagram, reference, target)
    all_used = dict.fromkeys(reference.choices, "off")
    for handle in reference.usual:
        places = reference.choices[handle][0]
        all_used[handle] = next((p for p in places if p in ("off", "pulled", "0")),
                                reference.usual[handle])
    unavoidable = [s for s in sources if not reference.is_dead(target, [s], all_used)]
    assert set(found.unavoidable) == set(unavoidable)
    avoidable = [s for s in sources if s not in unavoidable]
    weight, sets = reference.least_sets(target, avoidable)
    assert found.weight == weight
    assert {frozenset(chosen) for chosen in found.sets} == sets
    assert not found.has_more


def test_the_random_boats_hold_what_makes_the_question_hard() -> None:
    together = several = wide = selectors = 0
    for seed in range(SEEDS):
        diagram = random_boat(seed)
        found = Survey(diagram).isolation(random_target(diagram, random.Random(seed)))
        used = {device for chosen in found.sets for device in chosen}
        steps = [handle for _, _, handle, _ in Reference(diagram).steps]
        together += any(len(chosen) > 1 for chosen in found.sets)
        several += len(found.sets) > 1
        wide += any(steps.count(device) > 2 for device in used)
        selectors += any(diagram.components[device].kind == "selector_switch"
                         for device in used if device in diagram.components)
    assert together > 100 and several > 60 and wide > 60 and selectors > 8
