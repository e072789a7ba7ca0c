"""Limits of lithium batteries: their own, else those that their external unit keeps."""

from __future__ import annotations

from typing import Any

import pytest

from model.analysis.management import stated_limit
from tests.boat_builder import Boat


@pytest.mark.parametrize(("own", "field", "limit"), [
    ({}, "max_charge_a", 50), ({"max_charge_a": 40}, "max_charge_a", 40),
    ({}, "max_discharge_a", 100), ({}, "max_charge_v", None)])
def test_a_unit_states_the_currents_a_battery_does_not(
    own: dict[str, Any], field: str, limit: float | None
) -> None:
    boat = Boat().battery("G1", chemistry="lfp", management="external", management_unit="A1", **own)
    boat.part("A1", "battery_management_unit", charge_limit_a=50, discharge_limit_a=100)
    diagram = boat.diagram()
    assert stated_limit(diagram, diagram.components["G1"], field) == limit
