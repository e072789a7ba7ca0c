"""What feeds each inverter: the device before it and the conductors from there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.leads import Lead
from model.analysis.taps import Circuit

if TYPE_CHECKING:
    from model.survey import Survey

INVERTERS = ("inverter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class InverterFeed:
    """An inverter, its own figures [W], [V], [A], and what feeds it.

    `device` is "" and `rated_a` None when no device is before it; `unknown` are devices whose
    rating would have to be known. `conductors` run from the last device or battery.
    """

    inverter: str
    rated_w: float | None
    lowest_v: float | None
    nominal_v: float | None
    efficiency: float | None
    maker_fuse_a: float | None
    device: str
    rated_a: float | None
    unknown: tuple[str, ...]
    conductors: tuple[str, ...]


def inverter_feeds(survey: Survey) -> Iterator[InverterFeed]:
    """Yield the feed of each inverter that a battery reaches."""
    for part in survey.diagram.components.values():
        if part.kind not in INVERTERS:
            continue
        node = survey.graph.number[f"{part.id}.+"]
        edge = next((survey.graph.edges[i] for i in survey.graph.edges_at[node]
                     if survey.graph.edges[i].role == "conductor"), None)
        conductors = _conductors(survey, part.id)
        if edge is None or not conductors:
            continue
        guard, p = survey.guard(edge, edge.other(node)), part.parameters
        rated_a = None if guard is None or guard.unknown else guard.rated_a
        yield InverterFeed(
            part.id, p.get("rated_w"), p.get("min_dc_v"),
            survey.potentials[node].nominal_v or p.get("input_v"), p.get("efficiency"),
            p.get("maker_fuse_a"), "" if guard is None else guard.device, rated_a,
            () if guard is None else guard.unknown, conductors)


def _conductors(survey: Survey, inverter: str) -> tuple[str, ...]:
    """Return the conductors of the shortest way that ends at the inverter without a device."""
    starts: list[Circuit | Lead] = [*survey.circuits, *survey.leads]
    found = [end.conductors for start in starts for end in start.ends
             if end.item == inverter and end.kind in ("load", "converter")]
    return min(found, key=len, default=())
