"""What charges a battery at once, and what controllers can pass on."""

from __future__ import annotations

import pytest

from model.analysis.charging import outlets
from model.survey import Survey
from rules.charging_output import output_at
from rules.charging_sum import charging_sum, sum_of_all
from tests.boat_builder import Boat


def boat_of(**alternator: float) -> Boat:
    """Return a bank with a shore charger of 40 A, a controller of 20 A and an alternator."""
    boat = Boat().battery("G1").part("T1", "shore_charger", rated_a=40)
    boat.part("T2", "solar_controller", rated_output_a=20).part("G5", "alternator", **alternator)
    boat.wire("W1", "T1.1+", "G1.+").wire("W2", "T2.out+", "G1.+")
    return boat.wire("W3", "G5.+", "G1.+")


@pytest.mark.parametrize(("rated_a", "sources", "given_a"), [
    (30, ("T1", "T2"), 60),  # 40 + 20
    (50, ("G5", "T2"), 70),  # 50 + 20
])
def test_shore_power_and_engine_count_apart_and_the_sun_with_both(
    rated_a: float, sources: tuple[str, ...], given_a: float
) -> None:
    survey = Survey(boat_of(rated_a=rated_a).diagram())
    found = charging_sum(survey, outlets(survey.graph))
    assert (found.sources, found.given_a, found.missing) == (sources, given_a, ())


def test_an_engine_run_on_shore_power_gives_on_top() -> None:
    survey = Survey(boat_of(rated_a=30).diagram())
    found = sum_of_all(survey, outlets(survey.graph))
    assert (found.sources, found.given_a) == (("G5", "T1", "T2"), 90)  # 40 + 20 + 30


def test_what_is_missing_of_either_is_named() -> None:
    survey = Survey(boat_of().diagram())
    assert charging_sum(survey, outlets(survey.graph)).missing == ("G5.rated_a",)


@pytest.mark.parametrize(("count", "amperes"), [(1, 8.3), (None, 20)])
def test_a_controller_passes_on_what_its_panels_give(count: int | None, amperes: float) -> None:
    known = {} if count is None else {"series_count": count}
    boat = boat_of(rated_a=30).part("G6", "solar_array", panel_w=100, parallel_count=1, **known)
    survey = Survey(boat.wire("W4", "G6.+", "T2.pv+").diagram())
    outlet = next(one for one in outlets(survey.graph) if one.source == "T2")
    assert output_at(survey, outlet).amperes == amperes  # 100 W / 12 V


def test_what_is_stored_gives_nothing() -> None:
    boat = Boat().battery("G1").part("T1", "shore_charger", rated_a=40, stored=True)
    survey = Survey(boat.wire("W1", "T1.1+", "G1.+").diagram())
    assert outlets(survey.graph) == ()
