"""What several of the invented boats are fitted out with, by the book, returns not drawn."""

from __future__ import annotations

from typing import Any

from tests.boats.yard import FUSE, Yard

BLADE = {"class": "blade", "rated_dc_v": 58, "interrupt_a": 2000}
SEEN = {"hold_down": True, "covered": True, "under_charger": False, "vented_overboard": True,
        "below_fuel_gear": False, "above_fuel_gear": False}


def house(yard: Yard, volts: int = 12, **more: Any) -> None:
    """Fit the house bank G1 with main fuse F1, switch Q1 and bar X1."""
    facts: dict[str, Any] = {
        "chemistry": "agm", "capacity_ah": 300, "cranking_a": 1200, "duty": "house",
        "internal_resistance_ohm": 0.002 * volts / 12, "rest_v": 12.8 * volts / 12,
        "max_charge_v": 14.6 * volts / 12, "series_count": volts // 12, "takeoff": "diagonal",
        "block_fuses": "each", **SEEN, **more}
    yard.battery("G1", **facts)
    yard.fuse("F1", 250, on_post=True, holder_rated_a=250, **FUSE)
    yard.switch("Q1", rated_continuous_a=350, rated_cranking_a=1000, rated_v=60, role="bank",
                normal="closed", poles="+", kills="house loads", within_reach=True)
    yard.busbar("X1", pole="+", stud_count=12, rated_a=500, one_screw_each=True, covered=True)
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.plus("W2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)


def battery_bus(yard: Yard) -> None:
    """Fit the bar X3 that stays live, with its fuse F90: 1.5 m from the post, sheathed."""
    yard.fuse("F90", 250, holder_rated_a=250, **FUSE)
    yard.busbar("X3", pole="+", stud_count=10, rated_a=300, one_screw_each=True, covered=True)
    yard.plus("W901", "G1.+", "F90.a", "95 mm2", 1.5, sheath="whole")
    yard.plus("W902", "F90.b", "X3.s1", "95 mm2", 0.3)


def bilge(yard: Yard, volts: int = 12, start: str = "G1.+") -> None:
    """Fit the automatic bilge pump E20 with its own fuse at the battery."""
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=5 * 12 / volts,
              stays_live=True, maker_fuse_max_a=10)
    yard.fused(20, start, "E20.+", 10, "6 mm2", 4, joint_above_water=True)


def starting(yard: Yard, n: int = 2, volts: int = 12, engine: str = "M2", starter: str = "M1",
             **more: Any) -> None:
    """Fit the start bank Gn with switch Qn, an engine and its starter."""
    facts: dict[str, Any] = {
        "chemistry": "flooded", "capacity_ah": 90, "cranking_a": 700, "duty": "start",
        "internal_resistance_ohm": 0.005 * volts / 12, "rest_v": 12.7 * volts / 12,
        "max_charge_v": 14.8 * volts / 12, "series_count": volts // 12, **SEEN, **more}
    yard.battery(f"G{n}", **facts)
    yard.part(engine, "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part(starter, "starter", cranking_a=150, driven_by=engine, mounted_on=engine,
              return_by="case")
    yard.switch(f"Q{n}", rated_continuous_a=300, rated_cranking_a=1000, rated_v=60, role="bank",
                normal="closed", poles="+", kills="engine", within_reach=True)
    yard.plus(f"B{n}0", f"G{n}.+", f"Q{n}.a", "95 mm2", 0.6, sheath="whole")
    yard.plus(f"B{n}1", f"Q{n}.b", f"{starter}.+", "95 mm2", 1.2, sheath="whole", engine_space_m=1)


def alternator(yard: Yard, item: str, n: int, to: str, engine: str, volts: int = 12,
               **more: Any) -> None:
    """Fit an alternator with its fuse at the battery it charges."""
    yard.part(item, "alternator", **{
        "rated_a": 90, "nominal_v": volts, "driven_by": engine, "regulation": "internal",
        "set_v": 14.4 * volts / 12, "sense": "machine", "temperature_sensor": False, **more})
    yard.fused(n, to, f"{item}.+", 150, "50 mm2", 2, engine_space_m=1, sheath="whole")


def shore(yard: Yard, *consumers: str, ground: str = "M2.n1") -> None:
    """Fit the inlet G9 with its residual-current breaker F77, earthed, and cables onwards."""
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("F77", "residual_current_breaker", rated_a=16, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.shore("A1", "G9.ac", "F77.a", 0.4)
    for number, to in enumerate(consumers, start=2):
        yard.shore(f"A{number}", "F77.b", to)
    yard.earth("EA1", "F77.b", ground)


def charger(yard: Yard, item: str = "T1", n: int = 8, to: str = "G1.+", volts: int = 12,
            **more: Any) -> None:
    """Fit a shore charger with its fuse at the battery."""
    yard.part(item, "shore_charger", **{
        "rated_a": 40, "output_v": volts, "absorption_v": 14.4 * volts / 12,
        "float_v": 13.3 * volts / 12, "sense": "own_terminal", "temperature_sensor": True,
        "double_insulated": False, **more})
    yard.fused(n, to, f"{item}.1+", 50, "10 mm2", 1.5)


def branch(yard: Yard, n: int, kind: str, current_a: float, length_m: float = 3,
           size: str = "6 mm2", rated_a: float = 15, start: str = "", **more: Any) -> None:
    """Fit a load En on the house bar behind its own fuse Fn."""
    yard.load(f"E{n}", kind, current_a=current_a, **more)
    yard.fused(n, start or f"X1.s{n % 10 + 2}", f"E{n}.+", rated_a, size, length_m)
