"""A boat with every return drawn, for the rules on conductors."""

from __future__ import annotations

from typing import Any

from model.diagram import Diagram, Place
from model.edits import changed
from tests.boat_builder import Boat
from tests.mains import mains
from tests.rules.charging_facts import SHORE

DRY = {"insulation_c": 105, "engine_space_m": 0}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 10000}


def plus(length_m: float, **more: Any) -> dict[str, Any]:
    """Return the fields of a positive conductor of that length."""
    return {**DRY, "colour": "red", "length_m": length_m, **more}


def minus(length_m: float, **more: Any) -> dict[str, Any]:
    """Return the fields of a negative conductor of that length."""
    return {**DRY, "colour": "yellow", "cores": ("-",), "length_m": length_m, **more}


def drawn() -> Diagram:
    """Return a 12 V boat, US practice, whose negatives are all drawn; nothing to say of it.

    Bank G1 with fuse F1, switch Q1, positive bus X1 and negative bus X2; load E1 behind fuse F2,
    panel P1 with E2 and E3, charger T1. All in the cabin but the shore inlet on deck.
    """
    boat = Boat("us", returns="drawn")
    boat.boat(length_m=10, shore_nominal_v=120)
    boat.battery("G1", chemistry="agm", capacity_ah=200, cranking_a=900, max_charge_v=14.6)
    boat.fuse("F1", 300, **DEVICE).switch("Q1")
    boat.busbar("X1", stud_count=8).busbar("X2", stud_count=8, pole="-")
    boat.wire("W1", "G1.+", "F1.a", "70 mm2", **plus(0.15))
    boat.wire("W2", "F1.b", "Q1.a", "70 mm2", **plus(0.5))
    boat.wire("W3", "Q1.b", "X1.s1", "70 mm2", **plus(0.5))
    boat.wire("N1", "G1.-", "X2.s1", "70 mm2", **minus(1))
    boat.fuse("F2", 30, **DEVICE).load("E1", current_a=8)
    boat.wire("W4", "X1.s2", "F2.a", "6 mm2", **plus(0.1))
    boat.wire("W5", "F2.b", "E1.+", "6 mm2", **plus(3))
    boat.wire("N5", "E1.-", "X2.s2", "6 mm2", **minus(3))
    boat.panel("P1", {"rated_a": 10, **DEVICE}, {"rated_a": 20, **DEVICE}, negative_bar=True)
    boat.wire("W6", "X1.s3", "P1.in", "70 mm2", **plus(1))
    boat.wire("N6", "P1.-", "X2.s3", "16 mm2", **minus(1))
    boat.load("E2", "lamp", current_a=4).load("E3", "pump", current_a=6)
    boat.wire("W7", "P1.w1", "E2.+", "2.5 mm2", **plus(4))
    boat.wire("N7", "E2.-", "P1.w1", "2.5 mm2", **minus(4))
    boat.wire("W8", "P1.w2", "E3.+", "2.5 mm2", **plus(3.5))
    boat.wire("N8", "E3.-", "P1.w2", "2.5 mm2", **minus(3.5))
    boat.part("T1", "shore_charger", rated_a=30, **SHORE)
    mains(boat, "W20", "T1.ac")
    boat.fuse("F3", 40, **DEVICE)
    boat.wire("W11", "G1.+", "F3.a", "10 mm2", **plus(0.15))
    boat.wire("W12", "F3.b", "T1.1+", "10 mm2", **plus(3))
    boat.wire("N12", "T1.-", "X2.s4", "10 mm2", **minus(3))
    boat.wire("N99", "X2.s8", "E99.n", "25 mm2", **minus(2))
    return placed(boat.diagram())


def placed(diagram: Diagram) -> Diagram:
    """Return a boat with places, all its parts in the cabin but the shore inlet."""
    places = {
        "cabin": Place(id="cabin", name="Cabin", environment="accommodation",
                       distance_to_m={"deck": 0.8}),
        "deck": Place(id="deck", name="Deck", environment="deck"),
        "engine": Place(id="engine", name="Engine space", environment="engine_space"),
        "tank": Place(id="tank", name="Tank space", environment="petrol_tank_space"),
        "bilge": Place(id="bilge", name="Bilge", environment="bilge"),
    }
    components = {
        item: changed(part, place="deck" if part.kind == "shore_inlet" else "cabin")
        for item, part in diagram.components.items()}
    return Diagram.read({**dict(diagram), "places": places, "components": components})


CONDUCTOR_BASES = {"all_drawn": drawn}
