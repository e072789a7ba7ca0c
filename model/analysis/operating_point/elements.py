"""What each sort of element draws at given volts, and how that changes with them.

Every function returns, for all elements of its sort at once, the currents that leave nodes and
their derivatives, as flat arrays for one sparse matrix. All laws are continuous and piecewise
smooth, so that Newton's steps settle.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import Any

import numpy as np

from model.analysis.operating_point.network import OPEN_S, Network

Array = Any
LIMIT_SHARE = 1e-4  # of a battery's conductance is left when it takes all it accepts
LIMIT_SLOPE_S = 1e-3  # a source at its limit still gives way a little, so that it has one answer


@dataclass(slots=True)
class Stamp:
    """Currents leaving nodes, and (row, column, value) of their derivatives."""

    nodes: list[Array]
    currents: list[Array]
    rows: list[Array]
    columns: list[Array]
    values: list[Array]

    def current(self, node: Array, value: Array) -> None:
        """Add currents leaving nodes."""
        self.nodes.append(node)
        self.currents.append(value)

    def slope(self, row: Array, column: Array, value: Array) -> None:
        """Add derivatives of the current leaving `row` by the volts of `column`."""
        self.rows.append(row)
        self.columns.append(column)
        self.values.append(value)

    def branch(self, a: Array, b: Array, current: Array, slope: Array) -> None:
        """Add a branch from a to b whose current hangs on its own voltage alone."""
        self.current(a, current)
        self.current(b, -current)
        self.slope(a, a, slope)
        self.slope(a, b, -slope)
        self.slope(b, a, -slope)
        self.slope(b, b, slope)


BRANCHES = ("resistors", "batteries", "diodes", "power_loads", "current_loads")
"""What has two ends and a current that hangs on its own voltage alone, in the order stamped."""


SORTS = (*BRANCHES, "supplies", "converters")
INPUTS = "converter_inputs"
Arrays = dict[str, dict[str, Array]]
Currents = dict[str, Array]


class Elements:
    """Elements of all sorts as arrays; `stamp` evaluates them at given volts."""

    def __init__(self, arrays: Arrays) -> None:
        self.arrays = arrays

    @cached_property
    def _branch_ends(self) -> tuple[Array, Array]:
        ends = [self._ends(sort) for sort in BRANCHES]
        return np.concatenate([a for a, _ in ends]), np.concatenate([b for _, b in ends])

    def _ends(self, sort: str) -> tuple[Array, Array]:
        a, b = ("minus", "plus") if sort == "batteries" else ("a", "b")
        return self.arrays[sort][a], self.arrays[sort][b]

    def currents(self, v: Array) -> Currents:
        """Return the current of each element by its sort, with what converters take in. [A]."""
        a = self.arrays
        out, into, _ = converter_a(a["converters"], v)
        return {
            "resistors": resistor_a(a["resistors"], v),
            "batteries": battery_a(a["batteries"], v)[0],
            "supplies": supply_a(a["supplies"], v)[0],
            "power_loads": power_load_a(a["power_loads"], v)[0],
            "current_loads": current_load_a(a["current_loads"], v)[0],
            "diodes": diode_a(a["diodes"], v)[0],
            "converters": out, INPUTS: into,
        }

    def stamp(self, v: Array) -> Stamp:
        """Return all currents and slopes at the volts `v`."""
        found = Stamp([], [], [], [], [])
        a = self.arrays
        laws = ((resistor_a(a["resistors"], v), a["resistors"]["g_s"]),
                battery_a(a["batteries"], v), diode_a(a["diodes"], v),
                power_load_a(a["power_loads"], v), current_load_a(a["current_loads"], v))
        found.branch(*self._branch_ends, np.concatenate([amps for amps, _ in laws]),
                     np.concatenate([slope for _, slope in laws]))
        if len(a["supplies"]["plus"]):
            self._supplies(v, found)
        if len(a["converters"]["out_plus"]):
            self._converters(v, found)
        return found

    def landing(self, v: Array, change: Array) -> float:
        """Return the part of a step after which no source has leapt over its holding stretch."""
        part = 1.0
        for wanted, slope, most in (self._wanted_of_supplies(v, change),
                                    self._wanted_of_converters(v, change)):
            after = wanted + slope
            leaps = ((wanted <= 0) & (after >= most)) | ((wanted >= most) & (after <= 0))
            if np.any(leaps):
                middle = most[leaps] / 2
                part = min(part, float(np.min((middle - wanted[leaps]) / slope[leaps])))
        return part

    def _wanted_of_supplies(self, v: Array, change: Array) -> tuple[Array, Array, Array]:
        r = self.arrays["supplies"]
        held = np.maximum(v[r["plus"]] - v[r["minus"]], 1.0)
        wanted = r["g_s"] * (r["set_v"] - (v[r["sense_plus"]] - v[r["sense_minus"]]))
        slope = -r["g_s"] * (change[r["sense_plus"]] - change[r["sense_minus"]])
        return wanted, slope, np.minimum(r["most_a"], r["most_w"] / held)

    def _wanted_of_converters(self, v: Array, change: Array) -> tuple[Array, Array, Array]:
        r = self.arrays["converters"]
        wanted = r["g_s"] * (r["set_v"] - (v[r["out_plus"]] - v[r["out_minus"]]))
        slope = -r["g_s"] * (change[r["out_plus"]] - change[r["out_minus"]])
        return wanted, slope, np.maximum(_most_of_converters(r, v)[0], 1e-6)

    def _supplies(self, v: Array, to: Stamp) -> None:
        r = self.arrays["supplies"]
        current, by_sense, by_out = supply_a(r, v)
        to.current(r["plus"], -current)
        to.current(r["minus"], current)
        for node, sign in ((r["plus"], -1.0), (r["minus"], 1.0)):
            to.slope(node, r["sense_plus"], sign * by_sense)
            to.slope(node, r["sense_minus"], -sign * by_sense)
            to.slope(node, r["plus"], sign * by_out)
            to.slope(node, r["minus"], -sign * by_out)

    def _converters(self, v: Array, to: Stamp) -> None:
        r = self.arrays["converters"]
        out, into, slopes = converter_a(r, v)
        to.current(r["out_plus"], -out)
        to.current(r["out_minus"], out)
        to.current(r["in_plus"], into)
        to.current(r["in_minus"], -into)
        ends = ((r["out_plus"], -1.0, 0), (r["out_minus"], 1.0, 0),
                (r["in_plus"], 1.0, 1), (r["in_minus"], -1.0, 1))
        for node, sign, which in ends:
            by_out, by_in = slopes[which]
            to.slope(node, r["out_plus"], sign * by_out)
            to.slope(node, r["out_minus"], -sign * by_out)
            to.slope(node, r["in_plus"], sign * by_in)
            to.slope(node, r["in_minus"], -sign * by_in)


class NetworkElements(Elements):
    """The lists of a network as arrays, made once."""

    def __init__(self, network: Network, arrays: Arrays | None = None) -> None:
        self.network = network
        super().__init__(_arrays_of([network])[0] if arrays is None else arrays)


class ElementsTogether(Elements):
    """The elements of several networks as those of one, its nodes theirs in order; `parts` are
    those of each network, of which all arrays are pieces of the same.
    """

    def __init__(self, networks: Sequence[Network]) -> None:
        self.firsts = [0, *accumulate(network.nodes for network in networks)]
        arrays, self._bounds = _arrays_of(networks)
        self.parts = [NetworkElements(network, self._piece(arrays, place))
                      for place, network in enumerate(networks)]
        super().__init__({sort: {name: (
            own + np.repeat(self.firsts[:-1], np.diff(self._bounds[sort]))
            if _is_node(name) else own) for name, own in fields.items()}
            for sort, fields in arrays.items()})

    def _piece(self, arrays: Arrays, place: int) -> Arrays:
        return {sort: {name: own[slice(*self._bounds[sort][place:place + 2])]
                       for name, own in fields.items()} for sort, fields in arrays.items()}

    def currents_of_parts(self, v: Array) -> list[Currents]:
        """Return the currents in each network by themselves. [A]."""
        every = self.currents(v)
        bounds = {**self._bounds, INPUTS: self._bounds["converters"]}
        return [{sort: own[slice(*bounds[sort][place:place + 2])] for sort, own in every.items()}
                for place in range(len(self.parts))]


def _arrays_of(networks: Sequence[Network]) -> tuple[Arrays, dict[str, list[int]]]:
    """Return the elements of networks one after the other, and where by sort each begins."""
    arrays, bounds = {}, {}
    for sort in SORTS:
        every = [getattr(network, sort) for network in networks]
        names = every[0].__slots__
        arrays[sort] = {name: np.asarray(
            [value for elements in every for value in getattr(elements, name)],
            dtype=np.int64 if _is_node(name) else np.float64) for name in names}
        bounds[sort] = [0, *accumulate(len(getattr(elements, names[0])) for elements in every)]
    return arrays, bounds


def _is_node(name: str) -> bool:
    return name in ("a", "b", "minus", "plus", "sense_minus", "sense_plus", "in_plus", "in_minus",
                    "out_plus", "out_minus")


def resistor_a(r: dict[str, Array], v: Array) -> Array:
    """Return the current from a to b of each resistor. [A]."""
    return r["g_s"] * (v[r["a"]] - v[r["b"]])


def battery_a(r: dict[str, Array], v: Array) -> tuple[Array, Array]:
    """Return the current from minus to plus through each battery, and its slope. [A], [S].

    Discharge is (E - V) / R; charging stops growing at what the battery accepts.
    """
    across = v[r["plus"]] - v[r["minus"]]
    raw = r["g_s"] * (r["emf_v"] - across)
    over = raw < -r["accepts_a"]
    current = np.where(over, -r["accepts_a"] + LIMIT_SHARE * (raw + r["accepts_a"]), raw)
    slope = np.where(over, LIMIT_SHARE * r["g_s"], r["g_s"])
    return current, slope


def supply_a(r: dict[str, Array], v: Array) -> tuple[Array, Array, Array]:
    """Return the current each supply gives, with its slopes by sensed and by own volts."""
    sensed = v[r["sense_plus"]] - v[r["sense_minus"]]
    out = v[r["plus"]] - v[r["minus"]]
    held = np.maximum(out, 1.0)
    most = np.minimum(r["most_a"], r["most_w"] / held)
    most_slope = np.where(
        (r["most_w"] / held < r["most_a"]) & (out > 1.0), -r["most_w"] / held**2, 0.0)
    wanted = r["g_s"] * (r["set_v"] - sensed)
    idle = wanted <= 0.0
    limited = wanted >= most
    beyond = LIMIT_SLOPE_S / r["g_s"]
    current = np.where(idle, OPEN_S * (r["set_v"] - sensed),
                       np.where(limited, most + beyond * (wanted - most), wanted))
    by_sense = np.where(idle, -OPEN_S, np.where(limited, -LIMIT_SLOPE_S, -r["g_s"]))
    by_out = np.where(limited & ~idle, most_slope * (1 - beyond), 0.0)
    return current, by_sense, by_out


def power_load_a(r: dict[str, Array], v: Array) -> tuple[Array, Array]:
    """Return the current of each constant-power load and its slope."""
    across = v[r["a"]] - v[r["b"]]
    power, floor = r["power_w"], r["floor_v"]
    above = across >= floor
    held = np.where(above, across, floor)
    current = np.where(above, power / held, power * across / floor**2)
    slope = np.where(above, -power / held**2, power / floor**2)
    return current, slope


def current_load_a(r: dict[str, Array], v: Array) -> tuple[Array, Array]:
    """Return the current of each constant-current load and its slope."""
    across = v[r["a"]] - v[r["b"]]
    wanted, floor = r["current_a"], r["floor_v"]
    above = across >= floor
    current = np.where(above, wanted, wanted * across / floor)
    return current, np.where(above, 0.0, wanted / floor)


def diode_a(r: dict[str, Array], v: Array) -> tuple[Array, Array]:
    """Return the current of each diode and its slope."""
    across = v[r["a"]] - v[r["b"]]
    on = across > r["drop_v"]
    current = OPEN_S * across + np.where(on, r["g_s"] * (across - r["drop_v"]), 0.0)
    return current, OPEN_S + np.where(on, r["g_s"], 0.0)


def _most_of_converters(r: dict[str, Array], v: Array) -> tuple[Array, Array, Array]:
    """Return the most each converter can give, and its slopes by output and by input volts.

    That is its rating, or what the input can give. [A], [S]. Below `floor_v` at the input it is
    ever less, by the square of the volts: there it takes no more than a resistance would.
    """
    out_v, in_v = _volts_of_converters(r, v)
    held = np.maximum(out_v, 1.0)
    by_input = r["efficiency"] * in_v * r["input_most_a"] / held
    starved = by_input < r["most_a"]
    rated = np.minimum(r["most_a"], by_input)
    by_out = np.where(starved & (out_v > 1.0), -by_input / held, 0.0)
    by_in = np.where(starved, r["efficiency"] * r["input_most_a"] / held, 0.0)
    share, share_by_in = _share(r, in_v)
    return share * rated, share * by_out, share_by_in * rated + share * by_in


def _volts_of_converters(r: dict[str, Array], v: Array) -> tuple[Array, Array]:
    return (v[r["out_plus"]] - v[r["out_minus"]],
            np.maximum(v[r["in_plus"]] - v[r["in_minus"]], 0.0))


def _share(r: dict[str, Array], in_v: Array) -> tuple[Array, Array]:
    """Return the part of its rating that a converter can give, and how it grows with the input."""
    below = in_v < r["floor_v"]
    return (np.where(below, (in_v / r["floor_v"]) ** 2, 1.0),
            np.where(below, 2 * in_v / r["floor_v"] ** 2, 0.0))


def converter_a(
    r: dict[str, Array], v: Array
) -> tuple[Array, Array, tuple[tuple[Array, Array], tuple[Array, Array]]]:
    """Return output and input current of each converter, and the slopes of both. [A], [S].

    It takes what it gives over its efficiency. Slopes are pairs (by output volts, by input volts),
    of the output current then of the input.
    """
    out_v, in_v = _volts_of_converters(r, v)
    most, most_by_out, most_by_in = _most_of_converters(r, v)
    wanted = r["g_s"] * (r["set_v"] - out_v)
    idle = wanted <= 0.0
    limited = ~idle & (wanted >= most)
    beyond, beyond_by_in = (part * LIMIT_SLOPE_S / r["g_s"] for part in _share(r, in_v))
    current = np.where(idle, OPEN_S * (r["set_v"] - out_v),
                       np.where(limited, most + beyond * (wanted - most), wanted))
    out_by_out = np.where(idle, -OPEN_S, np.where(
        limited, most_by_out * (1 - beyond) - beyond * r["g_s"], -r["g_s"]))
    out_by_in = np.where(
        limited, most_by_in * (1 - beyond) + beyond_by_in * (wanted - most), 0.0)
    given = np.where(idle, 0.0, np.minimum(wanted, most))  # what keeps the answer one is no power
    given_by_out = np.where(idle, 0.0, np.where(limited, most_by_out, -r["g_s"]))
    given_by_in = np.where(limited, most_by_in, 0.0)
    gives = (out_v > 0.0) & (in_v > 0.0)
    base = r["efficiency"] * np.where(gives, in_v, 1.0)
    into, into_by_out, into_by_in = (np.where(gives, power / base, 0.0) for power in (
        out_v * given, given + out_v * given_by_out,
        out_v * (given_by_in - given / np.where(gives, in_v, 1.0))))
    return current, into, ((out_by_out, out_by_in), (into_by_out, into_by_in))
