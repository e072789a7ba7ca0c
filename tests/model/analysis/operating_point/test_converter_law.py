"""The law of a converter: it makes no power, and its slopes are what differences say."""

from __future__ import annotations

import numpy as np
import pytest

from model.analysis.operating_point.elements import LIMIT_SLOPE_S, converter_a
from model.survey import Survey
from tests.boat_builder import Boat

EFFICIENCY, FLOOR_V, SET_V = 0.9, 6.0, 14.4
IN, OUT = 0, 2
RNG = np.random.default_rng(7)
VOLTS = [(RNG.uniform(-2, 20), RNG.uniform(-2, 20)) for _ in range(60)]
HOLDING = [(RNG.uniform(0, 20), SET_V - RNG.uniform(0, 0.4)) for _ in range(40)]


def currents(in_v: float, out_v: float, input_most_a: float = 1e9):
    fields = {"in_plus": IN, "in_minus": 1, "out_plus": OUT, "out_minus": 3, "set_v": SET_V,
              "g_s": 100.0, "most_a": 30.0, "input_most_a": input_most_a,
              "efficiency": EFFICIENCY, "floor_v": FLOOR_V}
    found = converter_a({name: np.array([value]) for name, value in fields.items()},
                        np.array([in_v, 0.0, out_v, 0.0]))
    out, into, slopes = found
    return float(out[0]), float(into[0]), [[float(by[0]) for by in pair] for pair in slopes]


@pytest.mark.parametrize(("in_v", "out_v"), VOLTS + HOLDING)
def test_it_gives_no_more_than_it_takes_times_its_efficiency(in_v, out_v):
    out, into, _ = currents(in_v, out_v)
    slack_a = LIMIT_SLOPE_S * SET_V  # by which a source at its limit gives way, for one answer
    assert out * max(out_v, 0) <= EFFICIENCY * into * max(in_v, 0) + slack_a * max(out_v, 0)
    assert into >= 0


@pytest.mark.parametrize("out_v", [0.0, 5.0, 12.0])
def test_without_an_input_it_gives_nothing(out_v):
    assert currents(0.0, out_v)[:2] == (0.0, 0.0)
    assert currents(-1.0, out_v)[:2] == (0.0, 0.0)


def test_at_half_its_least_input_it_gives_a_quarter():
    """Like a resistance: a quarter of the power at half the volts."""
    assert currents(FLOOR_V / 2, 12.0)[0] == pytest.approx(30 / 4, rel=1e-3)


@pytest.mark.parametrize(("in_v", "out_v"), VOLTS + HOLDING)
@pytest.mark.parametrize("input_most_a", [1e9, 8.0])
def test_its_slopes_are_those_of_small_differences(in_v, out_v, input_most_a):
    step = 1e-6
    slopes = currents(in_v, out_v, input_most_a)[2]
    for place, change in ((0, (0, step)), (1, (step, 0))):
        more = currents(in_v + change[0], out_v + change[1], input_most_a)
        less = currents(in_v - change[0], out_v - change[1], input_most_a)
        for which in (0, 1):
            by_difference = (more[which] - less[which]) / (2 * step)
            assert slopes[which][place] == pytest.approx(by_difference, rel=1e-3, abs=1e-3)


def test_two_converters_that_feed_each_other_alone_light_no_lamp():
    boat = Boat().load("E1", power_w=20, nominal_v=12)
    for item in ("T1", "T2"):
        boat.part(item, "dc_dc_converter", input_v=12, output_v=12, rated_output_a=10)
    boat.wire("W1", "T1.out+", "T2.in+", "6 mm2", length_m=1)
    boat.wire("W2", "T2.out+", "T1.in+", "6 mm2", length_m=1)
    boat.wire("W3", "T2.out+", "E1.+", "6 mm2", length_m=1)
    survey = Survey(boat.diagram())
    found = survey.operating_point(survey.state())
    assert found.settled
    assert found.parts["E1"].state == "no supply"
