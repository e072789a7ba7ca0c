"""A netlist for ngspice from the text of a `.loom` file.

Written for the comparison alone: it reads the file as JSON and the tables as CSV, and imports
nothing of the program's analysis. What a part does is said here a second time, from the design's
words: batteries accept a limited charge; supplies hold a voltage up to a limit; loads draw a
current, a power or a resistance, and give up at half their nominal voltage; a positive conductor
without a drawn return has a twin of its own.
"""

from __future__ import annotations

import csv
import json
import math
from dataclasses import dataclass, field
from importlib.resources import files
from typing import Any

LOADS = frozenset((
    "load", "lamp", "navigation_light", "pump", "bilge_pump", "motor", "heater", "refrigerator",
    "radio", "instrument", "autopilot", "socket", "alarm", "gas_alarm", "memory_feed", "monitor",
    "dump_load",
))
INLINE = {"fuse": True, "breaker": True, "battery_switch": True, "load_switch": True,
          "disconnector": True, "contactor": True, "float_switch": False}
CONTACT_OHM, JOINT_OHM, DIODE_OHM, SUPPLY_OHM = 1e-5, 1e-5, 0.01, 0.01
OPEN_S, LIMIT_SHARE, LIMIT_SLOPE_S = 1e-9, 1e-4, 1e-3
EFFICIENCY = 0.95
QUIET_PURPOSES = ("bank_link", "control", "sense", "data", "bonding")


@dataclass
class Spice:
    """Lines of a netlist, with the nodes they touch and the resistors of conductors."""

    lines: list[str] = field(default_factory=list)
    nodes: dict[str, float] = field(default_factory=dict)
    joined: list[tuple[str, str]] = field(default_factory=list)
    conductors: dict[str, str] = field(default_factory=dict)
    held: dict[str, float] = field(default_factory=dict)

    def name(self, component: str, terminal: str) -> str:
        """Return a node's name, letters and digits only."""
        words = {"+": "p", "-": "m"}
        clean = "".join(words.get(c, c) if c.isalnum() or c in words else "_" for c in terminal)
        return f"n_{component}_{clean}".lower()

    def resistor(self, name: str, a: str, b: str, ohm: float) -> str:
        """Add a resistor and return its name."""
        self.lines.append(f"r_{name} {a} {b} {max(ohm, CONTACT_OHM):.12g}")
        self.touch(a, b)
        return f"r_{name}"

    def behave(self, name: str, a: str, b: str, current: str) -> None:
        """Add a source whose current from a to b is an expression."""
        self.lines.append(f"b_{name} {a} {b} i={current}")
        self.touch(a, b)

    def touch(self, a: str, b: str) -> None:
        """Note that an element joins two nodes."""
        self.nodes.setdefault(a, 0.0)
        self.nodes.setdefault(b, 0.0)
        self.joined.append((a, b))


def rows(table: str) -> list[dict[str, str]]:
    """Return the rows of a shipped table."""
    text = files("assets").joinpath("tables", f"{table}.csv").read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))


def conductor_ohm(wire: dict[str, Any], returning: bool = False) -> float:
    """Return a conductor's resistance one way at 20 C: IEC 60228 class 5, or AWG geometry."""
    size, length = wire.get("size"), wire.get("length_m")
    if returning and "return_length_m" in wire:
        length = wire["return_length_m"]
    if size is None or length is None:
        return CONTACT_OHM
    if size["standard"] == "mm2":
        row = next(r for r in rows("iec60228_class5")
                   if float(r["nominal_area_mm2"]) == float(size["text"]))
        sort = "tinned" if wire.get("tinned") else "plain"
        per_km = float(row[f"class5_{sort}_max_r20c_ohm_per_km"])
    else:
        text = size["text"]
        gauge = 1 - len(text.split("/")[0]) if set(text.split("/")[0]) == {"0"} else (
            1 - int(text.split("/")[0]) if "/" in text else int(text))
        diameter_mm = 0.127 * 92 ** ((36 - gauge) / 39)  # ASTM B258
        per_km = 0.017241 * 1.02 * 1000 / (math.pi / 4 * diameter_mm**2)
    return per_km * length / 1000 / wire.get("parallel_count", 1)


ACCEPTS = {"flooded": 0.2, "agm": 0.4, "lfp": 0.5}  # of capacity: battery_chemistry.csv
BLOCK_OHM = {"flooded": 0.005, "agm": 0.003, "lfp": 0.0025}  # 12 V, 100 Ah: the rule catalogue
TABLES = {"flooded": "flooded lead-acid (BCI", "agm": "AGM", "lfp": "LFP 4 cells"}
CHARGED = 0.8


def blocks(p: dict[str, Any]) -> float:
    """Return how many 12 V blocks stand in series."""
    return p["block_nominal_v"] * p.get("series_count", 1) / 12


def battery_ohm(p: dict[str, Any]) -> float:
    """Return the maker's resistance, that of the cranking test, or that of chemistry."""
    if "internal_resistance_ohm" in p:
        return p["internal_resistance_ohm"]
    if "cranking_a" in p:
        return (12.6 - 7.2) * blocks(p) / p["cranking_a"]
    return BLOCK_OHM[p["chemistry"]] * blocks(p) * 100 / p["capacity_ah"]


def battery_emf_v(p: dict[str, Any]) -> float:
    """Return the stated rest voltage, or that of the table at 80 % of charge."""
    if "rest_v" in p:
        return p["rest_v"]
    name = next(r["chemistry"] for r in rows("ocv_soc")
                if r["chemistry"].startswith(TABLES[p["chemistry"]]))
    points = sorted((float(r["state_of_charge_percent"]) / 100,
                     float(r["open_circuit_voltage_12v_v"]))
                    for r in rows("ocv_soc") if r["chemistry"] == name)
    low = max(point for point in points if point[0] <= CHARGED)
    high = min(point for point in points if point[0] >= CHARGED)
    share = 0.0 if low == high else (CHARGED - low[0]) / (high[0] - low[0])
    return (low[1] + share * (high[1] - low[1])) * blocks(p)


class Boat:
    """One file, read; `write` makes the netlist."""

    def __init__(
        self, text: str, positions: dict[str, str] | None = None, engines_run: bool = True
    ) -> None:
        document = json.loads(text)
        self.parts = {c["id"]: c for c in document["components"]}
        self.wires = document["conductors"]
        self.systems = document["systems"]
        self.positions = positions or {}
        self.engines_run = engines_run
        self.spice = Spice()
        self.implied = any(s.get("returns", "implied") == "implied" for s in self.systems)

    def write(self) -> Spice:
        """Return the netlist's elements."""
        for part in self.parts.values():
            self.part(part, part.get("parameters", {}))
            if part.get("return_by") == "case":
                self.spice.resistor(f"case_{part['id']}", self.spice.name(part["id"], "-"),
                                    self.spice.name(part["mounted_on"], "block"), CONTACT_OHM)
        for wire in self.wires:
            self.wire(wire)
        if self.implied:
            self.returns()
        return self.spice

    def terminal(self, component: str, port: str, core: str, cores: int) -> str:
        """Return the node a core goes to at a port, by the kind of part.

        A single core takes the terminal of that name; of a pair, the minus goes to the minus.
        """
        kind = self.parts[component]["kind"]
        if kind in INLINE:
            return self.spice.name(component, f"{port}{core}")
        if kind == "engine_block":
            return self.spice.name(component, "block")
        if kind in ("wind_controller", "inverter_charger") and port in ("out-", "-"):
            return self.spice.name(component, "-")
        if kind == "panel":
            if port == "-" or (port == "in" and core == "-"):
                return self.spice.name(component, "-")
            return self.spice.name(component, f"{port}{core}")
        if kind == "solar_controller" and (core == "-" or port in ("pv-", "out-")):
            return self.spice.name(component, "-")
        if core == "-" and port == "+" and cores > 1:
            return self.spice.name(component, "-")
        return self.spice.name(component, port)

    def wire(self, wire: dict[str, Any]) -> None:
        """Add a resistor for each core."""
        if set(wire["cores"]) & {"L", "N", "E", "signal"}:
            return
        for core in wire["cores"]:
            a, b = (self.terminal(end["component"], end["terminal"], core, len(wire["cores"]))
                    for end in (wire["from"], wire["to"]))
            suffix = "m" if core == "-" and len(wire["cores"]) > 1 else ""
            name = self.spice.resistor(f"w_{wire['id']}{suffix}", a, b, conductor_ohm(wire))
            if not suffix:
                self.spice.conductors[wire["id"]] = name

    def part(self, part: dict[str, Any], p: dict[str, Any]) -> None:
        """Add what a part is inside."""
        item, kind, n = part["id"], part["kind"], self.spice.name
        if kind == "battery_bank":
            self.battery(item, p)
        elif kind in INLINE:
            usual = "on" if INLINE[kind] else "off"
            if self.positions.get(item, usual) in ("on", "in"):
                self.spice.resistor(item, n(item, "a+"), n(item, "b+"), CONTACT_OHM)
        elif kind == "selector_switch":
            position = self.positions.get(item, p.get("normal_position", "1"))
            for bank in ("1", "2"):
                if position in (bank, "B"):
                    self.spice.resistor(f"{item}_{bank}", n(item, bank), n(item, "c"), CONTACT_OHM)
        elif kind == "shunt":
            self.spice.resistor(item, n(item, "a"), n(item, "b"), CONTACT_OHM)
        elif kind == "panel":
            self.spice.resistor(f"{item}_feed", n(item, "in+"), n(item, "bus"), CONTACT_OHM)
            for way in p["ways"]:
                self.spice.resistor(f"{item}_{way['id']}", n(item, "bus"), n(item, f"{way['id']}+"),
                                    CONTACT_OHM)
                self.spice.resistor(f"{item}_{way['id']}m", n(item, "-"), n(item, f"{way['id']}-"),
                                    CONTACT_OHM)
        elif kind in ("busbar", "terminal_block"):
            for i in range(1, p.get("stud_count", 6)):
                self.spice.resistor(f"{item}_{i}", n(item, f"s{i}"), n(item, f"s{i + 1}"),
                                    CONTACT_OHM)
        elif kind in LOADS:
            self.load(item, p)
        elif kind == "wind_generator":
            self.supply(item, n(item, "-"), n(item, "+"), 1.2 * p["nominal_v"], p["rated_a"])
        elif kind == "wind_controller":
            given = sum(q["parameters"]["rated_a"] for q in self.parts.values()
                        if q["kind"] == "wind_generator")
            self.converter(item, n(item, "in+"), n(item, "-"), n(item, "out+"), n(item, "-"),
                           1.2 * p["output_v"], p["rated_output_a"], 0.999 * given, EFFICIENCY,
                           0.5 * p["output_v"])
        elif kind == "dc_dc_charger":
            self.converter(item, n(item, "in+"), n(item, "-"), n(item, "out+"), n(item, "-"),
                           1.2 * p["output_v"], p["rated_output_a"], 1e9, EFFICIENCY,
                           0.5 * p["input_v"])
        elif kind == "alternator" and self.engines_run:
            self.supply(item, n(item, "-"), n(item, "+"), p["set_v"], p["rated_a"])
        elif kind == "solar_array":
            volts = self.panel_v(p) * p.get("series_count", 1)
            watts = p["panel_w"] * p.get("series_count", 1) * p.get("parallel_count", 1)
            self.supply(item, n(item, "-"), n(item, "+"), volts, watts / volts)
        elif kind == "solar_controller":
            arrays = [q["parameters"] for q in self.parts.values() if q["kind"] == "solar_array"]
            given = sum(q["panel_w"] * q.get("parallel_count", 1) / self.panel_v(q)
                        for q in arrays)
            self.converter(item, n(item, "pv+"), n(item, "-"), n(item, "out+"), n(item, "-"),
                           p["absorption_v"], p["rated_output_a"], 0.999 * given, EFFICIENCY, 6.0)
        elif kind == "dc_dc_converter":
            minus = n(item, "out-") if p.get("isolated") else n(item, "-")
            self.converter(item, n(item, "in+"), n(item, "-"), n(item, "out+"), minus,
                           p["output_v"], p["rated_output_a"], 1e9,
                           p.get("efficiency", EFFICIENCY),
                           p.get("input_min_v", 0.5 * p["input_v"]))

    def panel_v(self, p: dict[str, Any]) -> float:
        """Return a panel's volts at full power, 0.8 of its open-circuit volts if unstated."""
        return p.get("panel_vmp_v") or 0.8 * p["panel_voc_v"]

    def battery(self, item: str, p: dict[str, Any]) -> None:
        """An EMF behind a resistance that accepts a limited charge."""
        minus, plus = self.spice.name(item, "-"), self.spice.name(item, "+")
        g, emf = 1 / battery_ohm(p), battery_emf_v(p)
        accepts = p.get("max_charge_a") or ACCEPTS.get(p.get("chemistry", ""), 1e9) * (
            p.get("capacity_ah", 1.0))
        raw = f"({g:.12g}*({emf:.12g}-v({plus},{minus})))"
        over = f"(-{accepts:.12g}+{LIMIT_SHARE}*({raw}+{accepts:.12g}))"
        self.spice.behave(item, minus, plus, f"({raw} < -{accepts:.12g}) ? {over} : {raw}")
        self.spice.nodes[plus] = emf

    def load(self, item: str, p: dict[str, Any]) -> None:
        """A current, a power or a resistance."""
        plus, minus = self.spice.name(item, "+"), self.spice.name(item, "-")
        if not {"current_a", "power_w", "resistance_ohm"} & set(p):
            return
        across, floor = f"v({plus},{minus})", 0.5 * p.get("nominal_v", 12)
        if "current_a" in p:
            current = p["current_a"]
            self.spice.behave(item, plus, minus, f"({across} >= {floor}) ? {current} : "
                              f"{current}*{across}/{floor}")
        elif "power_w" in p:
            watts = p["power_w"]
            self.spice.behave(item, plus, minus, f"({across} >= {floor}) ? {watts}/{across} : "
                              f"{watts}*{across}/{floor * floor}")
        else:
            self.spice.resistor(item, plus, minus, p["resistance_ohm"])

    def supply(self, item: str, minus: str, plus: str, set_v: float, most_a: float) -> None:
        """A voltage held up to a current, never absorbing."""
        wanted = f"({1 / SUPPLY_OHM:.12g}*({set_v:.12g}-v({plus},{minus})))"
        idle = f"({OPEN_S}*({set_v:.12g}-v({plus},{minus})))"
        beyond = LIMIT_SLOPE_S * SUPPLY_OHM
        limited = f"({most_a:.12g}+{beyond:.12g}*({wanted}-{most_a:.12g}))"
        self.spice.behave(item, minus, plus, f"({wanted} <= 0) ? {idle} : "
                          f"(({wanted} >= {most_a:.12g}) ? {limited} : {wanted})")
        self.spice.nodes.setdefault(plus, 0.0)
        self.spice.held[plus] = set_v - 0.5 * most_a * SUPPLY_OHM

    def converter(
        self, item: str, in_p: str, in_m: str, out_p: str, out_m: str, set_v: float,
        most_a: float, input_most_a: float, efficiency: float, floor_v: float,
    ) -> None:
        """An output held up to limits, drawn from the input with its losses; below its least
        volts an input gives ever less, by their square."""
        out, source = f"v({out_p},{out_m})", f"max(v({in_p},{in_m}),0)"
        share = f"min({source}/{floor_v},1)**2"
        wanted = f"({1 / SUPPLY_OHM:.12g}*({set_v:.12g}-{out}))"
        by_array = f"({efficiency}*{source}*{input_most_a:.12g}/max({out},1))"
        most = f"({share}*min({most_a:.12g},{by_array}))"
        limited = f"({most}+{LIMIT_SLOPE_S * SUPPLY_OHM:.12g}*{share}*({wanted}-{most}))"
        current = (f"(({wanted} <= 0) ? ({OPEN_S}*({set_v:.12g}-{out})) : "
                   f"(({wanted} >= {most}) ? {limited} : {wanted}))")
        watts = f"(max({out},0)*max(min({wanted},{most}),0)/{efficiency})"
        into = f"{watts}/max({source},1e-6)"
        self.spice.behave(f"{item}_out", out_m, out_p, current)
        self.spice.behave(f"{item}_in", in_p, in_m, into)
        self.spice.held[out_p] = set_v

    def returns(self) -> None:
        """Give each positive conductor without a drawn return its twin, home to the datum."""
        home = self.spice.name(*self.systems[0]["negative_datum"].split("."))
        drawn = {end["component"] for w in self.wires for end in (w["from"], w["to"])
                 if (end["terminal"] == "-" or "-" in w["cores"]) and w["cores"] != ["+"]}
        drawn |= {i for i, part in self.parts.items() if part.get("return_by") == "case"}
        nodes: dict[str, str] = {}

        def shadow(component: str) -> str:
            if component in nodes:
                return nodes[component]
            kind = self.parts[component]["kind"]
            near_battery = any(
                {component} < {w["from"]["component"], w["to"]["component"]} and any(
                    self.parts[e["component"]]["kind"] == "battery_bank"
                    for e in (w["from"], w["to"]) if e["component"] != component)
                and w["cores"] == ["+"] for w in self.wires)
            if kind == "battery_bank" or near_battery:
                nodes[component] = home
            elif component in drawn:
                nodes[component] = self.spice.name(component, "-")
            else:
                nodes[component] = f"sh_{component}".lower()
            return nodes[component]

        depth = self.depths()
        for wire in self.wires:
            ends = [wire["from"]["component"], wire["to"]["component"]]
            if wire["cores"] != ["+"] or wire.get("purpose") in QUIET_PURPOSES:
                continue
            far = max(ends, key=lambda c: depth.get(c, 0))
            if far in drawn or any(self.parts[c]["kind"] == "battery_bank" for c in ends):
                continue
            a, b = shadow(ends[0]), shadow(ends[1])
            if a != b:
                self.spice.resistor(f"t_{wire['id']}", a, b, conductor_ohm(wire, returning=True))
        for component, node in list(nodes.items()):
            kind = self.parts[component]["kind"]
            bare = component not in drawn
            if bare and kind not in ("battery_bank", "busbar", "stud", *INLINE):
                self.spice.resistor(f"j_{component}", self.spice.name(component, "-"), node,
                                    JOINT_OHM)

    def depths(self) -> dict[str, int]:
        """Return how many parts each part is from a battery, along positive conductors."""
        depth = {i: 0 for i, part in self.parts.items() if part["kind"] == "battery_bank"}
        queue = list(depth)
        while queue:
            here = queue.pop(0)
            for wire in self.wires:
                ends = [wire["from"]["component"], wire["to"]["component"]]
                if here in ends and wire["cores"] == ["+"]:
                    other = ends[1 - ends.index(here)]
                    if other not in depth:
                        depth[other] = depth[here] + 1
                        queue.append(other)
        return depth
