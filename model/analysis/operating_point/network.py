"""A network as arrays: nodes by number, elements by sort. Knows no boats.

Volts in V, amperes in A, conductances in S. Every element joins two or more nodes; a current is
counted from its first node through the element to its second.
"""

from __future__ import annotations

from dataclasses import dataclass, field

JOINT_S = 1e5  # copper on copper, and a dead short; above it, rounding is worse than the error
OPEN_S = 1e-9  # a conductance so small that nothing on a boat notices it


@dataclass(slots=True)
class Resistors:
    """Conductors, contacts, shunts, heaters: i = g (v_a - v_b)."""

    a: list[int] = field(default_factory=list)
    b: list[int] = field(default_factory=list)
    g_s: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Batteries:
    """An EMF behind a resistance, from minus to plus, that accepts a limited charge."""

    minus: list[int] = field(default_factory=list)
    plus: list[int] = field(default_factory=list)
    emf_v: list[float] = field(default_factory=list)
    g_s: list[float] = field(default_factory=list)
    accepts_a: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Supplies:
    """Sources of constant voltage up to a current and a power limit, that never absorb.

    The voltage is held between the two sense nodes; the current leaves at `plus`.
    """

    minus: list[int] = field(default_factory=list)
    plus: list[int] = field(default_factory=list)
    sense_minus: list[int] = field(default_factory=list)
    sense_plus: list[int] = field(default_factory=list)
    set_v: list[float] = field(default_factory=list)
    g_s: list[float] = field(default_factory=list)
    most_a: list[float] = field(default_factory=list)
    most_w: list[float] = field(default_factory=list)


@dataclass(slots=True)
class PowerLoads:
    """Loads that draw one power while their voltage is above a floor, less below it."""

    a: list[int] = field(default_factory=list)
    b: list[int] = field(default_factory=list)
    power_w: list[float] = field(default_factory=list)
    floor_v: list[float] = field(default_factory=list)


@dataclass(slots=True)
class CurrentLoads:
    """Loads that draw one current while their voltage is above a floor, less below it."""

    a: list[int] = field(default_factory=list)
    b: list[int] = field(default_factory=list)
    current_a: list[float] = field(default_factory=list)
    floor_v: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Diodes:
    """Forward drop and slope; backwards next to nothing."""

    a: list[int] = field(default_factory=list)
    b: list[int] = field(default_factory=list)
    drop_v: list[float] = field(default_factory=list)
    g_s: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Converters:
    """DC to DC: a constant output voltage up to limits, drawn from the input with its losses.

    `input_most_a` limits what is taken in (an array gives no more). Below `floor_v` the input
    draws less than its power asks for, so that a starved converter has an answer.
    """

    in_plus: list[int] = field(default_factory=list)
    in_minus: list[int] = field(default_factory=list)
    out_plus: list[int] = field(default_factory=list)
    out_minus: list[int] = field(default_factory=list)
    set_v: list[float] = field(default_factory=list)
    g_s: list[float] = field(default_factory=list)
    most_a: list[float] = field(default_factory=list)
    input_most_a: list[float] = field(default_factory=list)
    efficiency: list[float] = field(default_factory=list)
    floor_v: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Network:
    """All elements, the number of nodes, and volts to start from (the EMF side).

    `pieces` are the pieces that the first `pieced` resistors join, where they were worked out.
    """

    nodes: int = 0
    start_v: list[float] = field(default_factory=list)
    resistors: Resistors = field(default_factory=Resistors)
    batteries: Batteries = field(default_factory=Batteries)
    supplies: Supplies = field(default_factory=Supplies)
    power_loads: PowerLoads = field(default_factory=PowerLoads)
    current_loads: CurrentLoads = field(default_factory=CurrentLoads)
    diodes: Diodes = field(default_factory=Diodes)
    converters: Converters = field(default_factory=Converters)
    pieces: list[int] = field(default_factory=list)
    pieced: int = 0

    def node(self, start_v: float = 0.0) -> int:
        """Return a new node."""
        self.nodes += 1
        self.start_v.append(start_v)
        return self.nodes - 1
