"""In a system without earthed negative both sides need protection."""

from __future__ import annotations

from typing import Any

from rules.engine import check
from rules.rule import Finding
from tests.boat_builder import Boat
from tests.rules.bases import DEVICE, run


def unprotected(**fuse: Any) -> list[Finding]:
    """Return the findings of 1.1 on a 24 V boat of two-core cables with one fuse."""
    boat = Boat("us", 24, earthing=fuse.pop("earthing", "insulated"), returns="drawn")
    boat.battery("G1", series_count=2).fuse("F1", 20, **DEVICE, **fuse).load("E1", current_a=5)
    boat.wire("W1", "G1.+", "F1.a", "6 mm2", **run(0.1))
    boat.wire("W2", "G1.-", "F1.a", "6 mm2", **{**run(0.1), "cores": ("-",)})
    boat.wire("W3", "F1.b", "E1.+", "6 mm2", cores=("+", "-"), **run(3))
    report = check(boat.diagram(), strict=True)
    assert report is not None
    return [finding for finding in report.findings if finding.number == "1.1"]


def test_a_fuse_in_the_positive_alone_leaves_the_negative_open() -> None:
    assert [finding.where for finding in unprotected(poles="+")] == [("W2", "G1", "E1")]


def test_a_device_of_both_poles_protects_both() -> None:
    assert unprotected(poles="both") == []


def test_with_an_earthed_negative_the_negative_needs_none() -> None:
    assert unprotected(poles="+", earthing="negative_earthed") == []
