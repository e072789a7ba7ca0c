"""A panel drawn as one part and the same panel drawn as busbar and breakers are one thing."""

from __future__ import annotations

from typing import Any

import pytest

from model.survey import Survey
from rules.engine import check
from tests.boat_builder import Boat
from tests.papered import papered
from tests.rules.bases import DEVICE, run

# What stands for what: an id of the drawing with a panel, then with busbar and breakers.
SAME = {"P1": "X1", "P1.w1": "F1", "P1.w2": "F2"}
INSIDE = {"insulation_c": 105, "engine_space_m": 0, "colour": "red", "in_enclosure": True}


def common(feed: dict[str, Any]) -> Boat:
    boat = Boat().battery("G1", max_charge_v=14.4).fuse("F9", feed["rated_a"], **DEVICE)
    boat.switch("Q1").load("E1", current_a=4).load("E2", current_a=12)
    boat.wire("W1", "G1.+", "F9.a", "70 mm2", **run(feed["from_battery_m"], sheath="none"))
    return boat.wire("W2", "F9.b", "Q1.a", "70 mm2", **run(0.5))


def rated_as(rated_a: float | None) -> dict[str, Any]:
    return DEVICE if rated_a is None else {"rated_a": rated_a, **DEVICE}


def as_panel(feed: dict[str, Any], ratings: tuple[float | None, float], thin: str | None) -> Boat:
    boat = common(feed)
    boat.panel("P1", *(rated_as(rated) for rated in ratings), enclosed=True)
    boat.wire("W3", "Q1.b", "P1.in", feed["size"], **run(2))
    boat.wire("W4", "P1.w1", "E1.+", thin, **run(3))
    return boat.wire("W5", "P1.w2", "E2.+", "6 mm2", **run(3))


def as_parts(feed: dict[str, Any], ratings: tuple[float | None, float], thin: str | None) -> Boat:
    boat = common(feed).busbar("X1")
    boat.wire("W3", "Q1.b", "X1.s1", feed["size"], **run(2))
    for number, rated in enumerate(ratings, start=1):
        boat.part(f"F{number}", "breaker", **rated_as(rated))
        boat.wire(f"I{number}", f"X1.s{number + 1}", f"F{number}.a", "6 mm2", length_m=0.1,
                  **INSIDE)
    boat.wire("W4", "F1.b", "E1.+", thin, **run(3))
    return boat.wire("W5", "F2.b", "E2.+", "6 mm2", **run(3))


SOUND = {"rated_a": 250, "from_battery_m": 0.1, "size": "70 mm2"}
BOATS = {
    "sound": (SOUND, (10, 40), "2.5 mm2"),
    "breaker too large": (SOUND, (60, 40), "2.5 mm2"),
    "size not recorded": (SOUND, (10, 40), None),
    "fuse too far": ({**SOUND, "from_battery_m": 1.0}, (10, 40), "2.5 mm2"),
    "feed too thin": ({**SOUND, "size": "10 mm2"}, (10, 40), "2.5 mm2"),
    "rating not recorded": (SOUND, (None, 40), "2.5 mm2"),
}


def translated(item: str) -> str:
    owner, dot, field = item.rpartition(".")
    return SAME.get(item) or (f"{SAME[owner]}{dot}{field}" if owner in SAME else item)


@pytest.mark.parametrize("name", BOATS)
def test_both_drawings_give_equal_findings(name: str) -> None:
    panel = check(papered(as_panel(*BOATS[name]).diagram()), strict=True)
    parts = check(papered(as_parts(*BOATS[name]).diagram()), strict=True)
    assert panel is not None
    assert parts is not None
    one = sorted((f.rule, f.severity, tuple(map(translated, f.where)), sorted(f.figures.items()))
                 for f in panel.findings)
    other = sorted((f.rule, f.severity, f.where, sorted(f.figures.items()))
                   for f in parts.findings)
    assert one == other
    assert sorted((c.rule, sorted(map(translated, c.missing))) for c in panel.cannot_tell) == (
        sorted((c.rule, sorted(c.missing)) for c in parts.cannot_tell))


@pytest.mark.parametrize("opened", [{}, {"w1": "off"}, {"w2": "off"}, {"w1": "off", "w2": "off"}])
def test_both_drawings_have_equal_live_sets_and_volts(opened: dict[str, str]) -> None:
    panel = Survey(as_panel(*BOATS["sound"]).diagram())
    parts = Survey(as_parts(*BOATS["sound"]).diagram())
    one = panel.live({f"P1.{way}": position for way, position in opened.items()})
    other = parts.live({SAME[f"P1.{way}"]: position for way, position in opened.items()})
    for load in ("E1", "E2", "F9", "Q1"):
        assert one.components[load] == other.components[load]
        own = panel.potentials[panel.graph.nodes_of(load)[0]]
        assert own == parts.potentials[parts.graph.nodes_of(load)[0]]
