"""Networks solved together have the answers they have one by one."""

from __future__ import annotations

import numpy as np
import pytest

from app.drafting.removal import remove_edit
from model.analysis.operating_point import solver
from model.analysis.operating_point.build import build
from model.analysis.operating_point.solver import solve, solve_together
from model.edits import apply
from model.storage import load
from model.survey import Survey
from tests.bench.figures import DEMO

SAME_V = 1e-6


def networks():
    survey = Survey(load(DEMO))
    states = [survey.state(), *(survey.state(mode) for mode in survey.diagram.modes)]
    return [build(survey.graph, state, survey.start_v).network for state in states]


def test_together_and_one_by_one_are_the_same():
    found = networks()
    alone = [solve(network) for network in found]
    assert all(one.settled for one in alone)
    together = solve_together(found, [one.volts + 0.01 for one in alone])
    assert len(together) == len(found)
    for one, other in zip(alone, together, strict=True):
        assert other.settled and other.elements.network == one.elements.network
        assert np.abs(one.volts - other.volts).max() < SAME_V
        assert (one.island == other.island).all()


def test_where_the_search_does_not_settle_in_few_steps_nothing_is_said(monkeypatch):
    found = networks()
    starts = [solve(network).volts for network in found]
    assert len(solve_together(found, starts)) == len(found)
    starts[1] = starts[1] - 3.0
    monkeypatch.setattr(solver, "MOST_NEAR_STEPS", 1)
    assert solve_together(found, starts) == []


@pytest.mark.parametrize("item", ["W13", "X1", "W50"])
def test_a_survey_after_an_edit_has_the_volts_of_a_fresh_one(item):
    diagram = load(DEMO)
    before = Survey(diagram)
    before.duty.points  # noqa: B018  the answers that lend their volts
    edited = apply(diagram, remove_edit(diagram, [item]))
    carried, fresh = Survey(edited, before).duty, Survey(edited).duty
    assert carried.cases == fresh.cases
    for case in fresh.cases:
        one, other = carried.points[case], fresh.points[case]
        assert one.settled == other.settled
        assert one.terminals.keys() == other.terminals.keys()
        assert max(abs(one.terminals[n] - other.terminals[n]) for n in one.terminals) < SAME_V
