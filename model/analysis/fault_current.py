"""Prospective fault currents: the largest a device must break, the smallest that must trip it.

`i_max_a`: copper at 20 C, contacts and fuses next to nothing, batteries full and at rest voltage,
chargers out. `i_min_a`: copper hot, contacts as they are in practice. Never one figure for both.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from model.analysis.battery_model import resistance_ohm
from model.analysis.fault_margins import ON_THE_WAY, Margin, fault_margins
from model.analysis.operating_point.network import JOINT_S
from model.analysis.operating_point.state import State

if TYPE_CHECKING:
    from model.survey import Survey

COLD_C, HOT_C = 20.0, 70.0  # at 70 C copper has 1.2 times its resistance: IEC 60228
CONTACT_OHM = 2e-4  # a contact or fuse in practice: common practice, no source
HALF_CHARGED, FULL = 0.5, 1.0  # the weakest and strongest bank: common practice, no source


@dataclass(frozen=True, slots=True)
class FaultCurrent:
    """Both figures at a terminal [A], what the largest goes through, what was assumed, and how
    the overcurrent devices on the way stand it."""

    at: str
    i_max_a: float
    i_min_a: float
    through: Mapping[str, float]
    assumed: tuple[str, ...] = ()
    devices: tuple[Margin, ...] = ()


def fault_current(survey: Survey, at: str, back: str | None = None) -> FaultCurrent:
    """Return the fault currents between a terminal and its return, or another terminal.

    Raise KeyError for a terminal that is not there.
    """
    graph = survey.graph
    nodes = (graph.number[at], None if back is None else graph.number[back])
    charge = {c.id: FULL for c in graph.diagram.components.values()}
    state = State(positions={}, fault=nodes, loads_run=False, charge=charge, copper_c=COLD_C)
    strong = survey.operating_point(state)
    low = dict.fromkeys(charge, HALF_CHARGED)
    weak = survey.operating_point(
        replace(state, copper_c=HOT_C, contact_ohm=CONTACT_OHM, charge=low))
    i_max_a, i_min_a = abs(strong.fault_v) * JOINT_S, abs(weak.fault_v) * JOINT_S
    through = {wire: abs(a) for wire, a in strong.conductors.items()
               if abs(a) > ON_THE_WAY * i_max_a}
    system_v = survey.potentials[nodes[0]].nominal_v or 0.0
    devices = fault_margins(graph, strong.element_a, weak.element_a, i_max_a, system_v)
    return FaultCurrent(at, i_max_a, i_min_a, through, tuple(_bases(survey)), devices)


def _bases(survey: Survey) -> list[str]:
    """Return from what each battery's resistance was taken."""
    return [f"{c.id}: internal resistance by {resistance_ohm(c.parameters).basis}"
            for c in survey.diagram.components.values() if c.kind == "battery_bank"]
