"""The plan a boat is drawn up on: parts and conductors are added, then it becomes a diagram.

The builders of bank, engine, sources and the rest add to it. It numbers things, takes studs of
busbars, chooses sizes and devices, and draws negatives where they are wanted. Every length and
figure it writes is known as "estimated".
"""

from __future__ import annotations

from typing import Any

from app.new_boat.answers import Answers
from app.new_boat.figures import figure
from app.new_boat.sizing import INSULATION_C, fuse_fields, next_rating_a, thinnest
from model.diagram import (
    BoatInfo,
    Component,
    Conductor,
    DcSystem,
    Diagram,
    End,
    Known,
    Mode,
    Place,
    Sheet,
    Size,
)
from model.frozen_map import FrozenMap
from model.kinds import catalogue
from model.validity import check_diagram

HALF_FOOT_M = 0.1524
NEAR_M = 0.15  # from a post or stud to the device beside it
# Of the volts, what one run may take of the 3 and 5 percent that the stricter rule set allows
# all the way from the bank and back: ABYC E-11, ISO 13297.
CRITICAL_DROP, ORDINARY_DROP, FEEDER_DROP = 0.012, 0.025, 0.008
OWN_FIELDS = frozenset(Component.field_names()) - {"id", "kind", "parameters"}
RECORDED = {"construction": "stranded", "cable_type": "marked", "in_bilge": False,
            "near_fuel": False, "insulation_c": INSULATION_C, "engine_space_m": 0}
COLOURS = {("+",): "red", ("-",): "yellow", ("E",): "green"}
ESTIMATED: Known = "estimated"


class Plan:
    """A boat being drawn up from answers."""

    def __init__(self, answers: Answers) -> None:
        self.answers = answers
        self.house_v = float(answers.house_v)
        self.parts: dict[str, Component] = {}
        self.wires: dict[str, Conductor] = {}
        self.modes: list[Mode] = []
        self.places: dict[str, Place] = {}
        self.systems: dict[str, DcSystem] = {}
        self.boat: dict[str, Any] = {}
        self.slots: dict[str, tuple[str, int, str]] = {}
        self._studs: dict[str, int] = {}
        self._numbers: dict[str, int] = {}
        self._columns: dict[str, int] = {}
        self.named: dict[str, str] = {}
        self.currents: dict[str, float] = {}
        self.engines: list[dict[str, str]] = []

    # Parts

    def part(self, kind: str, name: str = "", slot: tuple[str, int, str] | None = None,
             **fields: Any) -> str:
        """Add a part and return its id; fields of the part and of its kind may be mixed."""
        own = {key: fields.pop(key) for key in OWN_FIELDS & set(fields)}
        if "row_of" not in own:
            own.setdefault("place", "bow" if slot is not None and slot[0] == "bow" else "locker")
        item = self.number(catalogue()[kind].letter)
        known = FrozenMap({key: ESTIMATED for key, value in fields.items()
                           if isinstance(value, int | float) and not isinstance(value, bool)})
        self.parts[item] = Component(id=item, kind=kind, designation=item, name=name,
                                     parameters=FrozenMap(fields), known=known, **own)
        if slot is not None:
            self.slots[item] = slot
        return item

    def bar(self, name: str, pole: str, rated_a: float, slot: tuple[str, int, str]) -> str:
        """Add a busbar that has as many studs as are taken of it."""
        return self.part("busbar", name, slot, pole=pole, rated_a=rated_a, one_screw_each=True,
                         covered=True)

    def stud(self, bar: str) -> str:
        """Take the next stud of a busbar."""
        self._studs[bar] = self._studs.get(bar, 0) + 1
        return f"{bar}.s{self._studs[bar]}"

    def column(self, zone: str) -> int:
        """Take the next column of a zone of the sheet."""
        self._columns[zone] = self._columns.get(zone, -1) + 1
        return self._columns[zone]

    def fuse(self, rated_a: float, name: str, slot: tuple[str, int, str], **more: Any) -> str:
        """Add a fuse for a place near a bank."""
        return self.part("fuse", name, slot, **{**fuse_fields(rated_a), **more})

    def number(self, letter: str) -> str:
        """Return the next designation of a letter."""
        self._numbers[letter] = self._numbers.get(letter, 0) + 1
        return f"{letter}{self._numbers[letter]}"

    # Conductors

    def run_m(self, name: str) -> float:
        """Return an estimated length of cable, by the length of the boat. [m]"""
        return max(0.5, round(figure(f"run_{name}") * self.answers.length_m, 1))

    def amperes(self, name: str, volts: float | None = None) -> float:
        """Return the current of something rated in watts. [A]"""
        return round(figure(f"{name}_w") / (volts or self.house_v), 2)

    def size(self, carries_a: float, current_a: float = 0, length_m: float = 0,
             drop: float = 0, volts: float | None = None, hot: bool = False) -> Size:
        """Return the thinnest size that carries a current and keeps within a share of drop."""
        return thinnest(self.answers.rule_set, carries_a, hot, current_a, length_m,
                        drop * (volts or self.house_v))

    def wire(self, start: str, finish: str, size: Size, length_m: float = NEAR_M,
             cores: tuple[str, ...] = ("+",), **more: Any) -> str:
        """Add a conductor of which everything is recorded."""
        item = self.number("W")
        if self.answers.rule_set == "us":  # whole and half feet
            length_m = max(1, round(length_m / HALF_FOOT_M)) * HALF_FOOT_M
        colour = {"colour": COLOURS[cores]} if cores in COLOURS else {}
        fields = {**RECORDED, "sheath": "whole", **colour, **more}
        self.wires[item] = Conductor.read({
            "id": item, "designation": item, "from": _end(start), "to": _end(finish),
            "cores": cores, "size": size, "length_m": length_m,
            "known": {"length_m": ESTIMATED}, **fields})
        return item

    @property
    def pair(self) -> tuple[str, ...]:
        """Return the cores of a small cable: with its negative where negatives are drawn."""
        return ("+", "-") if self.answers.negatives else ("+",)

    @property
    def bus_size(self) -> Size:
        """Return the size of the conductor to the battery bus."""
        bus = self.named["battery bus"]
        size = next(w.size for w in self.wires.values() if w.finish.component == bus)
        assert size is not None
        return size

    def minus(self, start: str, size: Size, length_m: float, bar: str = "", **more: Any) -> None:
        """Draw the negative of something to the negative bus, where negatives are drawn."""
        if self.answers.negatives:
            self.wire(start, self.stud(bar or self.named["negative bus"]), size, length_m,
                      ("-",), **more)

    def branch(self, start: str, finish: str, minus: str, rated_a: float, length_m: float,
               name: str, slot: tuple[str, int, str], *, current_a: float = 0,
               drop: float = ORDINARY_DROP, volts: float | None = None, hot_m: float = 0,
               minus_bar: str = "", **device: Any) -> str:
        """Lead from a bus or post through a fuse of its own to a part; return the fuse."""
        size = self.size(rated_a, current_a or rated_a, length_m, drop, volts, hot_m > 0)
        if slot[0] in ("charge", "heavy"):
            minus_bar = minus_bar or self.named.get("upper negative", "")
        fuse = self.fuse(rated_a, name, slot, **device)
        self.wire(start, f"{fuse}.a", size)
        self.wire(f"{fuse}.b", finish, size, length_m, engine_space_m=hot_m)
        if minus:
            self.minus(minus, size, length_m, minus_bar, engine_space_m=hot_m)
        return fuse

    def cable(self, start: str, finish: str, rated_a: float, length_m: float) -> None:
        """Draw an AC cable of three cores for a device."""
        self.wire(start, finish, self.size(rated_a), length_m, ("L", "N", "E"))

    def earth(self, start: str, finish: str) -> None:
        """Draw a protective earth conductor, as thick as those to the engine ask for."""
        size = self.size(figure("earth_carries_a"))
        self.wire(start, finish, size, 2.0, ("E",), purpose="bonding")

    def ground(self) -> str:
        """Return where the earth of the AC side meets the ship's own: the nearest negative bus."""
        return self.stud(self.named.get("upper negative", self.named["negative bus"]))

    def size_behind(self, fuse: str) -> Size:
        """Return the size of the conductor that leads on from a fuse."""
        sizes = [wire.size for wire in self.wires.values()
                 if (wire.start.component, wire.start.terminal) == (fuse, "b")]
        assert sizes[0] is not None
        return sizes[0]

    # The diagram

    def diagram(self, paper: Any) -> Diagram:
        """Return the diagram on a paper, checked."""
        for bar, count in self._studs.items():
            part = self.parts[bar]
            self.parts[bar] = part.replaced(
                parameters=FrozenMap({**part.parameters, "stud_count": max(2, count)}))
        diagram = Diagram(
            sheet=Sheet(size=paper), boat=BoatInfo.read(self.boat),
            systems=_by_id(self.systems.values()), places=_by_id(self.places.values()),
            components=FrozenMap(self.parts), conductors=FrozenMap(self.wires),
            modes=_by_id(self.modes))
        check_diagram(diagram)
        return diagram


def rating_a(current_a: float, ratio: float = 1.25) -> float:
    """Return the common rating at some ratio above a current. [A]"""
    return next_rating_a(current_a * ratio)


def _end(text: str) -> End:
    component, _, terminal = text.partition(".")
    return End(component=component, terminal=terminal)


def _by_id(items: Any) -> FrozenMap[str, Any]:
    return FrozenMap({item.id: item for item in items})
