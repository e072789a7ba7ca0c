"""The states in which the boat is lived in: as everything usually stands, and each usual mode."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from model.diagram import Diagram

AS_USUAL = "as things usually stand"
JOINS_ON_PURPOSE = ("emergency", "combine", "notfall", "notstart")  # in names of modes


class UsualState(Struct, frozen=True):
    """Positions of the switches in one way of living; `mode` is its id, "" as all usually stands.

    `charging` says that an engine, a generating set or shore power is stated to run in it.
    """

    mode: str
    name: str
    positions: Mapping[str, str]
    absent: frozenset[str] = frozenset()
    charging: bool = False


def usual_states(diagram: Diagram) -> Iterator[UsualState]:
    """Yield the usual states. A mode for emergencies, or named for combining, is none."""
    yield UsualState("", AS_USUAL, {})
    for mode in diagram.modes.values():
        named = mode.name.lower()
        if mode.usual is False or mode.purpose == "emergency" or any(
                word in named for word in JOINS_ON_PURPOSE):
            continue
        yield UsualState(
            mode.id, mode.name or mode.id, mode.positions, frozenset(mode.absent),
            bool(mode.engines_running or mode.shore_connected or mode.generators_running))
