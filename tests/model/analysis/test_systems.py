"""The systems of a boat by their nominal volts, whatever a battery's label counts."""

from __future__ import annotations

import pytest

from model.analysis.negatives import earthing
from model.analysis.systems import systems_of
from model.survey import Survey
from tests.boat_builder import Boat


@pytest.mark.parametrize(("volts", "found"), [
    (12, ["S1"]), (12.8, ["S1"]), (-12.8, ["S1"]), (24, ["S2"]), (25.6, ["S2"]),
    (36, []), (0, []), (None, [])])
def test_a_label_of_lithium_is_of_its_system(volts: float | None, found: list[str]) -> None:
    diagram = Boat().system("S2", 24).diagram()
    assert [system.id for system in systems_of(diagram, [volts])] == found


def test_a_lithium_bank_has_the_earthing_of_its_system() -> None:
    boat = Boat(nominal_v=24, earthing="insulated").system("S2", 12)
    survey = Survey(boat.battery("G1", block_nominal_v=12.8, chemistry="lfp").diagram())
    assert earthing(survey, "G1") == ("negative_earthed", "S2")
