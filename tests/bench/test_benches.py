"""Each bench runs once; what the times are is for `python -m tests.bench` to say."""

from __future__ import annotations

import pytest

from tests.bench import fleet, isolation, layouts, operating_point, recheck, sheet
from tests.bench.figures import Figure
from tests.boats import BOATS


@pytest.mark.parametrize("bench", [
    recheck.recheck, sheet.frame, sheet.drag, sheet.fitting, isolation.isolation,
    operating_point.operating_point, fleet.fleet_frame,
])
def test_a_bench_runs_and_prints_its_figures(qapp, bench):
    for figure in bench(runs=1):
        assert "median" in figure.text()
        assert figure.median_ms > 0


def test_our_layout_crosses_and_bends_less_than_the_layered_one_on_a_boat():
    found = layouts.compared("tidewright", BOATS["tidewright"]())
    assert "crossings" in found.text() and "overlaps 0" in found.text()
    assert found.ours.crossings < found.other.crossings
    assert found.ours.bends < found.other.bends


def test_a_figure_tells_both_sides_and_the_goal():
    text = Figure("Something", (4.0, 6.0, 5.0), goal=2.0, floor_ms=(2.0, 4.0, 2.0)).text()
    assert "ours" in text and "floor" in text
    assert "2.50 times the floor, goal under 2 times: MISSED" in text
    assert "5.0 ms, goal under 30 ms: met" in Figure("Other", (5.0,), goal=30.0).text()
