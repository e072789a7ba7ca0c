"""Boats that the cases on isolation and back-feed start from beside the tidy one."""

from __future__ import annotations

from collections.abc import Callable

from model.diagram import Diagram
from model.edits import apply, setting
from tests.boat_builder import Boat

Base = Callable[[], Diagram]


def bases(tidy: Base) -> dict[str, Base]:
    """Return the boats by name, made from the tidy one."""
    return {"moded": lambda: moded(tidy())}


def moded(boat: Diagram) -> Diagram:
    """Return a boat with a usual mode in which the relay K1 stands open."""
    made = Boat().mode("N1", purpose="passage", usual=True, positions={"K1": "off"})
    return apply(boat, setting(boat, "case", made._items["modes"]["N1"]))
