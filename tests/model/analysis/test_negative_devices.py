"""Devices in a negative conductor and the loads behind them."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def boat(start: str) -> Boat:
    made = Boat().battery("G1").fuse("F1", 10).fuse("F2", 10).load("E1")
    made.wire("W1", "G1.+", "F1.a").wire("W2", start, "E1.+")
    made.wire("W3", "E1.-", "F2.a", cores=("-",))
    return made.wire("W4", "F2.b", "G1.-", cores=("-",))


def test_a_load_whose_positive_has_no_device_is_unguarded() -> None:
    (device,) = Survey(boat("G1.+").diagram()).negative_devices
    assert (device.device, device.loads, device.unguarded) == ("F2", ("E1",), ("E1",))
    assert device.system is not None
    assert device.system.id == "S1"


def test_a_load_behind_a_fuse_in_the_positive_is_guarded() -> None:
    (device,) = Survey(boat("F1.b").diagram()).negative_devices
    assert (device.loads, device.unguarded) == (("E1",), ())
