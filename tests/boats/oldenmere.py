"""Oldenmere, old ketch of many rewires, 12 V; negative earthed, returns not drawn.

Few sizes, lengths and ratings are known. What can be seen, and is wrong:
1. W12 has a joint that is only soldered.
2. W13 has a household connector.
3. W14 is household cable of solid core.
4. Fuse F5 is marked 32 V AC and nothing else.
5. W32, welding cable (a note only), has a wing nut on 35 mm2.
6. W15 has an open crimp in the bilge.
7. W16 is black and positive.
"""

from __future__ import annotations

from typing import Any

from model.diagram import Diagram, Joint
from tests.boats.yard import Yard


def oldenmere() -> Diagram:
    """Return the old ketch, of which much is not recorded."""
    yard = Yard("iso")
    yard.boat(name="Oldenmere", hull="wood", kept="afloat")
    yard.place("PL1", "bilge", "bilge")
    yard.place("PL2", "accommodation", "saloon")
    _house(yard)
    _loads(yard)
    _start(yard)
    return yard.diagram()


def _old(yard: Yard, item: str, start: str, finish: str, size: str | None = None,
         **more: Any) -> None:
    yard.wire(item, start, finish, size, **{"colour": "red", **more})


def _joint(kind: str, **more: Any) -> tuple[Joint, ...]:
    return (Joint(type=kind, **{"sealed": False, **more}),)  # type: ignore[arg-type]


def _house(yard: Yard) -> None:
    yard.battery("G1", chemistry="flooded", capacity_ah=200, duty="house")
    yard.fuse("F1", on_post=True).switch("Q1", role="bank", normal="closed", poles="+")
    yard.busbar("X1", pole="+", stud_count=8)
    _old(yard, "W1", "G1.+", "F1.a", "50 mm2")
    _old(yard, "W2", "F1.b", "Q1.a", "50 mm2")
    _old(yard, "W3", "Q1.b", "X1.s1", "50 mm2")
    yard.panel("P1", *({"label": label} for label in
                       ("masthead light", "side lights", "cabin lamps", "galley lamp", "pump",
                        "radio")))
    _old(yard, "W4", "X1.s2", "P1.in", "25 mm2")
    yard.fuse("F5", 10, rated_ac_v=32, **{"class": "glass"})
    yard.load("E9", "load", current_a=3, own_switch=True)
    _old(yard, "W51", "X1.s3", "F5.a")
    _old(yard, "W52", "F5.b", "E9.+")


def _loads(yard: Yard) -> None:
    yard.load("E1", "navigation_light").load("E2", "navigation_light")
    yard.load("E3", "lamp").load("E4", "lamp").load("E5", "pump").load("E6", "radio")
    _old(yard, "W11", "P1.w1", "E1.+")
    _old(yard, "W12", "P1.w2", "E2.+", joints=_joint("soldered"))
    _old(yard, "W13", "P1.w3", "E3.+", joints=_joint("household"))
    _old(yard, "W14", "P1.w4", "E4.+", construction="solid")
    _old(yard, "W15", "P1.w5", "E5.+", joints=_joint("crimped", place="PL1"))
    _old(yard, "W16", "P1.w6", "E6.+", colour="black")
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", stays_live=True)
    yard.fuse("F20")
    _old(yard, "W201", "G1.+", "F20.a")
    _old(yard, "W202", "F20.b", "E20.+")
    yard.part("P9", "monitor").fuse("F22")
    _old(yard, "W221", "G1.+", "F22.a")
    _old(yard, "W222", "F22.b", "P9.+")


def _start(yard: Yard) -> None:
    yard.battery("G2", chemistry="flooded", duty="start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical")
    yard.part("M1", "starter", driven_by="M2")
    yard.switch("Q2", role="bank", normal="closed", poles="+")
    _old(yard, "W31", "G2.+", "Q2.a", "35 mm2")
    _old(yard, "W32", "Q2.b", "M1.+", "35 mm2", cable_type="welding", joints=_joint("wing_nut"))
    yard.part("G5", "alternator", driven_by="M2").fuse("F10")
    _old(yard, "W101", "X3.s3", "F10.a")
    _old(yard, "W102", "F10.b", "G5.+")
    yard.part("K1", "voltage_sensing_relay").fuse("F11").fuse("F12")
    _old(yard, "W111", "X3.s1", "F11.a")
    _old(yard, "W112", "F11.b", "K1.a")
    _old(yard, "W121", "G2.+", "F12.a")
    _old(yard, "W122", "F12.b", "K1.b")
    yard.busbar("X3", pole="+", stud_count=6)
    yard.fuse("F13")
    _old(yard, "W131", "G1.+", "F13.a")
    _old(yard, "W132", "F13.b", "X3.s2")
