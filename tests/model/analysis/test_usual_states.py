"""Usual states: as things stand, and each mode that is a normal way of living."""

from __future__ import annotations

from model.analysis.usual_states import usual_states
from tests.boat_builder import Boat


def test_modes_for_need_are_no_usual_states() -> None:
    boat = (Boat().switch("Q1").part("M1", "engine_block")
            .mode("anchor", usual=True, positions={"Q1": "off"})
            .mode("unsaid", engines_running=("M1",))
            .mode("seldom", usual=False)
            .mode("need", purpose="emergency", usual=True)
            .mode("Combine_both", usual=True))
    states = list(usual_states(boat.diagram()))
    assert [state.mode for state in states] == ["", "anchor", "unsaid"]
    assert states[1].positions == {"Q1": "off"}
    assert [state.charging for state in states] == [False, False, True]
