"""Short ways to fit out the invented boats: wires whose ampacity is known, fused branches.

Branch number n has fuse Fn, the wire Wn1 from the source to the fuse and Wn2 onwards.
"""

from __future__ import annotations

from typing import Any

from tests.boat_builder import Boat

DRY = {"insulation_c": 105, "engine_space_m": 0, "construction": "stranded",
       "cable_type": "marked", "in_bilge": False, "near_fuel": False}
FUSE = {"class": "class_t", "rated_dc_v": 125, "interrupt_a": 20000}
WAY = {"rated_dc_v": 58, "interrupt_a": 5000, "reset": "manual_trip_free", "switch_duty": True}
BREAKER = {"rated_dc_v": 58, "interrupt_a": 10000, "reset": "manual_trip_free",
           "switch_duty": True}
NEAR_M = 0.15


class Yard(Boat):
    """A boat being fitted out. No id may be given twice."""

    def part(self, item: str, kind: str, **fields: Any) -> Boat:
        """Add a component as the builder does."""
        assert item not in self._items["components"], item
        return super().part(item, kind, **fields)

    def wire(self, item: str, start: str, finish: str, wire_size: str | None = None,
             **fields: Any) -> Boat:
        """Add a conductor as the builder does."""
        assert item not in self._items["conductors"], item
        return super().wire(item, start, finish, wire_size, **fields)

    def plus(self, item: str, start: str, finish: str, size: str, length_m: float = NEAR_M,
             **more: Any) -> None:
        """Add a red conductor of which everything is recorded."""
        self.wire(item, start, finish, size, length_m=length_m, **{**DRY, "colour": "red", **more})

    def minus(self, item: str, start: str, finish: str, size: str, length_m: float = 1,
              **more: Any) -> None:
        """Add a yellow negative conductor of which everything is recorded."""
        self.wire(item, start, finish, size, length_m=length_m, cores=("-",),
                  **{**DRY, "colour": "yellow", **more})

    def pair(self, item: str, start: str, finish: str, size: str, length_m: float,
             **more: Any) -> None:
        """Add a sheathed cable of a positive and a negative core."""
        self.wire(item, start, finish, size, length_m=length_m, cores=("+", "-"),
                  **{**DRY, "sheath": "whole", **more})

    def fused(self, n: int, start: str, finish: str, rated_a: float, size: str,
              length_m: float, device: dict[str, Any] | None = None,
              near: dict[str, Any] | None = None, **more: Any) -> None:
        """Add a branch with fuse Fn close to its source; `near` are fields of the wire to it."""
        self.fuse(f"F{n}", rated_a, **{**FUSE, "holder_rated_a": rated_a, **(device or {})})
        self.plus(f"W{n}1", start, f"F{n}.a", size, **(near or {}))
        self.plus(f"W{n}2", f"F{n}.b", finish, size, length_m, **more)

    def fused_both(self, n: int, plus: str, minus: str, finish: str, rated_a: float, size: str,
                   length_m: float, near: dict[str, Any] | None = None, **more: Any) -> None:
        """Add a branch with a fuse in each pole, close to its source, and a pair onwards."""
        self.fuse(f"F{n}", rated_a, poles="both", **{**FUSE, "holder_rated_a": rated_a})
        self.plus(f"W{n}1", plus, f"F{n}.a", size, **(near or {}))
        self.minus(f"N{n}1", minus, f"F{n}.a", size, NEAR_M, **(near or {}))
        self.pair(f"W{n}2", f"F{n}.b", finish, size, length_m, **more)

    def earth(self, item: str, start: str, finish: str, size: str = "16 mm2") -> None:
        """Add a green earth or bonding conductor."""
        self.wire(item, start, finish, size, length_m=2, cores=("E",), purpose="bonding",
                  **{**DRY, "colour": "green"})

    def shore(self, item: str, start: str, finish: str, length_m: float = 2) -> None:
        """Add a sheathed AC cable."""
        self.wire(item, start, finish, "2.5 mm2", cores=("L", "N", "E"), length_m=length_m,
                  sheath="whole", insulation_c=90, construction="stranded", cable_type="marked",
                  engine_space_m=0)


def way(rated_a: float, label: str = "", **more: Any) -> dict[str, Any]:
    """Return a panel's way with a breaker of which everything is recorded."""
    return {"rated_a": rated_a, "label": label, **WAY, **more}
