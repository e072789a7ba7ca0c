"""Boats that the rule cases start from, by name."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from model.diagram import Diagram
from model.edits import changed
from model.frozen_map import FrozenMap
from tests.boat_builder import Boat
from tests.mains import mains
from tests.papered import aged, papered
from tests.rules import bases_charging, bases_isolation, bases_lithium, bases_negative
from tests.rules.bases_conductors import CONDUCTOR_BASES
from tests.rules.bases_overcurrent import OVERCURRENT_BASES
from tests.rules.charging_facts import ALTERNATOR, MANAGED, RELAY, SHORE, SHORE_48

DRY = {"insulation_c": 105, "engine_space_m": 0, "colour": "red"}
NEAR = {**DRY, "length_m": 0.15}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 10000}


def run(length_m: float, **more: Any) -> dict[str, Any]:
    """Return the fields of a conductor of that length whose ampacity is fully known."""
    return {**DRY, "length_m": length_m, **more}


def tidy() -> Diagram:
    """Return a 12 V boat, US practice, of which the rule book has nothing to say.

    House bank G1 with main fuse F1, switch Q1, bus X1 and panel P1; start bank G2 with switch Q2
    and starter M1; charger T1, alternator G5, relay K1 between the banks, emergency link Q3, and a
    bilge pump E9 that is always on. Each has its fuse at the battery.
    """
    boat = Boat("us")
    _house(boat)
    _start(boat)
    _charging(boat)
    return boat.diagram()


def _house(boat: Boat) -> None:
    boat.battery("G1", chemistry="agm", capacity_ah=200, parallel_count=2, cranking_a=1200,
                 max_charge_v=14.6, duty="house")
    boat.fuse("F1", 300, **DEVICE).switch("Q1").busbar("X1", stud_count=8)
    boat.wire("W1", "G1.+", "F1.a", "70 mm2", **NEAR)
    boat.wire("W2", "F1.b", "Q1.a", "70 mm2", **run(0.5))
    boat.wire("W3", "Q1.b", "X1.s1", "70 mm2", **run(0.5))
    boat.fuse("F2", 30, **DEVICE).load("E1", current_a=8)
    boat.wire("W4", "X1.s2", "F2.a", "6 mm2", **run(0.1))
    boat.wire("W5", "F2.b", "E1.+", "6 mm2", **run(3))
    boat.panel("P1", {"rated_a": 10, **DEVICE}, {"rated_a": 20, **DEVICE})
    boat.wire("W6", "X1.s3", "P1.in", "70 mm2", **run(3))
    boat.load("E2", "lamp", current_a=4).wire("W7", "P1.w1", "E2.+", "2.5 mm2", **run(4))
    boat.load("E3", "pump", current_a=9).wire("W8", "P1.w2", "E3.+", "2.5 mm2", **run(3.5))
    boat.fuse("F8", 10, **DEVICE).load("E9", "bilge_pump", role="bilge_pump_automatic",
                                       current_a=6)
    boat.wire("W60", "G1.+", "F8.a", "2.5 mm2", **NEAR)
    boat.wire("W61", "F8.b", "E9.+", "2.5 mm2", **run(4))


def _start(boat: Boat) -> None:
    boat.battery("G2", chemistry="flooded", capacity_ah=70, cranking_a=650, max_charge_v=14.8,
                 duty="start")
    boat.switch("Q2").part("M1", "starter", cranking_a=180)
    boat.wire("W30", "G2.+", "Q2.a", "50 mm2", **run(0.8))
    boat.wire("W31", "Q2.b", "M1.+", "50 mm2", **run(1.5))
    boat.switch("Q3", "emergency_link")
    boat.wire("W50", "Q1.b", "Q3.a", "50 mm2", **run(0.5))
    boat.wire("W51", "Q3.b", "Q2.b", "50 mm2", **run(0.5))


def _charging(boat: Boat) -> None:
    boat.part("T1", "shore_charger", rated_a=30, **SHORE)
    mains(boat, "W20", "T1.ac")
    boat.fuse("F3", 40, **DEVICE)
    boat.wire("W11", "G1.+", "F3.a", "10 mm2", **NEAR)
    boat.wire("W12", "F3.b", "T1.1+", "10 mm2", **run(3))
    boat.part("G5", "alternator", rated_a=90, **ALTERNATOR).fuse("F5", 150, **DEVICE)
    boat.wire("W33", "G1.+", "F5.a", "50 mm2", **NEAR)
    boat.wire("W32", "F5.b", "G5.+", "50 mm2", **run(4))
    boat.part("K1", "voltage_sensing_relay", rated_a=100, **RELAY)
    boat.fuse("F6", 100, **DEVICE).fuse("F7", 100, **DEVICE)
    boat.wire("W40", "G1.+", "F6.a", "35 mm2", **NEAR)
    boat.wire("W41", "F6.b", "K1.a", "35 mm2", **run(1))
    boat.wire("W42", "K1.b", "F7.a", "35 mm2", **run(1))
    boat.wire("W43", "F7.b", "G2.+", "35 mm2", **NEAR)


def tidy_48() -> Diagram:
    """Return a 48 V lithium bank with fuse, switch, load and charger; nothing to say of it."""
    boat = Boat("us", 48).battery("G1", block_nominal_v=48, chemistry="lfp", capacity_ah=100,
                                   **MANAGED)
    boat.fuse("F1", 100, **DEVICE).switch("Q1").load("E1", current_a=20)
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", **NEAR)
    boat.wire("W2", "F1.b", "Q1.a", "35 mm2", **run(1))
    boat.wire("W3", "Q1.b", "E1.+", "35 mm2", **run(3))
    boat.part("T1", "shore_charger", rated_a=30, **SHORE_48)
    mains(boat, "W20", "T1.ac")
    boat.fuse("F3", 40, **DEVICE)
    boat.wire("W11", "G1.+", "F3.a", "10 mm2", **NEAR)
    boat.wire("W12", "F3.b", "T1.1+", "10 mm2", **run(3))
    return boat.diagram()


def bilged() -> Diagram:
    """Return the tidy boat with a bilge PL9 and a locker PL8 noted."""
    boat = Boat("us").place("PL9", "bilge", "bilge").place("PL8", "locker", "aft locker")
    _house(boat)
    _start(boat)
    _charging(boat)
    return boat.diagram()


def laid_out() -> Diagram:
    """Return the 48 V boat with every part at a place on the sheet."""
    diagram = tidy_48()
    return changed(diagram, components=FrozenMap({
        item: changed(part, at=(20.0 * place, 50.0))
        for place, (item, part) in enumerate(diagram.components.items())}))


def left_on_shore() -> Diagram:
    """Return the tidy boat with a mode in which it is left alone on the shore lead."""
    boat = Boat("us").mode("MO1", purpose="left_unattended", shore_connected=("G9",))
    _house(boat)
    _start(boat)
    _charging(boat)
    return boat.diagram()


def engine_room() -> Diagram:
    """Return the 48 V boat with its bank in the engine space, PL1, which its maker allows."""
    diagram = tidy_48()
    bank = diagram.components["G1"]
    made = Boat().place("PL1", "engine_space", "engine room")._items["places"]
    return changed(diagram, places=FrozenMap(made), components=FrozenMap({
        **diagram.components,
        "G1": changed(bank, place="PL1", parameters=FrozenMap({**bank.parameters, "max_c": 60}))}))


def with_galley() -> Diagram:
    """Return the tidy boat with a galley and a cabin noted."""
    boat = Boat("us").place("galley", "galley", "galley").place("cabin", "accommodation", "cabin")
    _house(boat)
    _start(boat)
    _charging(boat)
    return boat.diagram()


def listed() -> Diagram:
    """Return the 48 V boat with the class of each fuse written down."""
    diagram = tidy_48()
    return changed(diagram, components=FrozenMap({
        item: changed(part, parameters=FrozenMap({**part.parameters, "class": "class_t"}))
        if part.kind == "fuse" else part for item, part in diagram.components.items()}))


def limited() -> Diagram:
    """Return the 48 V boat with the limits of its lithium bank written down."""
    diagram = tidy_48()
    bank = diagram.components["G1"]
    limits = {"max_charge_v": 57.6, "max_charge_a": 50, "max_discharge_a": 100}
    return changed(diagram, components=FrozenMap({
        **diagram.components,
        "G1": changed(bank, parameters=FrozenMap({**bank.parameters, **limits}))}))


def dated() -> Diagram:
    """Return the 48 V boat with date and edition in its title block."""
    diagram = tidy_48()
    return changed(diagram, boat=changed(diagram.boat, date="2026-05-01", edition="2"))


_MADE = {
    "with_galley": with_galley, "left_on_shore": left_on_shore, "engine_room": engine_room,
    "listed": listed, "limited": limited, "dated": dated, "laid_out": laid_out, "tidy": tidy,
    "bilged": bilged, "tidy_48": tidy_48,
    **CONDUCTOR_BASES, **OVERCURRENT_BASES, **bases_isolation.bases(tidy), **bases_negative.BASES,
    **bases_charging.bases(tidy), **bases_lithium.BASES,
}


def _with_papers(make: Callable[[], Diagram]) -> Callable[[], Diagram]:
    return lambda: aged(papered(make()))


BASES = {name: _with_papers(make) for name, make in _MADE.items()}
