"""Boats that the cases on isolation and back-feed start from beside the tidy one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from model.diagram import Diagram
from model.edits import apply, changed, setting
from tests.boat_builder import Boat

Base = Callable[[], Diagram]


def bases(tidy: Base) -> dict[str, Base]:
    """Return the boats by name, made from the tidy one: each has one mode of its own."""
    linked = {"Q3": "on"}
    return {
        "moded": lambda: with_mode(
            tidy(), purpose="passage", usual=True, positions={"K1": "off"}),
        "away": lambda: with_mode(
            tidy(), purpose="at_anchor", usual=True, positions=linked, absent=("G2",)),
        "emergency": lambda: with_mode(tidy(), purpose="emergency", positions=linked),
        "motoring": lambda: motoring(tidy()),
    }


def with_mode(boat: Diagram, **fields: Any) -> Diagram:
    """Return a boat with a mode."""
    made = Boat().mode("N1", **fields)._items["modes"]["N1"]
    return apply(boat, setting(boat, "case", changed(made, name="on the quiet")))


def motoring(boat: Diagram) -> Diagram:
    """Return a boat whose relay between the banks is closed by a coil while the engine runs."""
    built = Boat().part("K1", "relay", normal="open").part("M9", "engine_block")
    boat = apply(boat, setting(boat, "case", *built._items["components"].values()))
    return with_mode(boat, purpose="motoring", usual=True, positions={"K1": "on"},
                     engines_running=("M9",))
