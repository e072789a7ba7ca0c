"""Generated boats for the comparison: implied and drawn returns, series blocks, isolated
converters, sources in their limits. Each comes as the text of a `.loom` file."""

from __future__ import annotations

import random

from model.storage import dumps
from tests.boat_builder import Boat

SIZES = ("1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2", "35 mm2", "70 mm2", "10 awg",
         "2/0 awg")
COUNT = 220


def traits(seed: int) -> dict[str, bool]:
    """Return what a generated boat has."""
    return {
        "implied": seed % 2 == 0,
        "series": seed % 5 in (1, 2),
        "isolated": seed % 6 == 3,
        "limited": seed % 5 in (0, 3),
    }


def generated(seed: int) -> str:
    """Return the text of a generated boat."""
    rng = random.Random(seed)
    has = traits(seed)
    boat = Boat(nominal_v=24 if has["series"] else 12,
                returns="implied" if has["implied"] else "drawn", negative_datum="X2.s1")
    _storage(boat, rng, has["series"])
    boat.part("X2", "busbar", pole="-", stud_count=24)
    boat.wire("N0", "G1.-" if not has["series"] else "G2.-", "X2.s1", "70 mm2", cores=("-",),
              length_m=_length(rng))
    boat.fuse("F1", 300).switch("Q1").part("X1", "busbar", pole="+", stud_count=24)
    boat.wire("A1", "G1.+", "F1.a", "70 mm2", length_m=_length(rng))
    boat.wire("A2", "F1.b", "Q1.a", "70 mm2", length_m=_length(rng))
    boat.wire("A3", "Q1.b", "X1.s1", "35 mm2", length_m=_length(rng))
    studs = {"+": 1, "-": 1}
    _loads(boat, rng, has, studs)
    if has["limited"]:
        _sources(boat, rng, has, studs)
    if has["isolated"]:
        _isolated(boat, rng, has, studs)
    return dumps(boat.diagram())


def full_engine_battery() -> str:
    """Return the text of a boat whose alternator carries a DC-DC charger behind a battery that
    takes no more: on the way to its answer more volts mean less current.
    """
    boat = Boat(returns="drawn", negative_datum="X2.s1")
    boat.battery("G1", internal_resistance_ohm=0.005, rest_v=12.7, max_charge_a=18)
    boat.battery("G2", internal_resistance_ohm=0.002, rest_v=12.8, max_charge_a=120)
    boat.part("M1", "engine_block").part("X2", "busbar", pole="-", stud_count=6)
    boat.part("G3", "alternator", rated_a=90, set_v=14.4, driven_by="M1")
    boat.part("T1", "dc_dc_charger", rated_output_a=30, input_v=12, output_v=12)
    for item, start, finish in (("W1", "G3.+", "G1.+"), ("W2", "G1.+", "T1.in+"),
                                ("W3", "T1.out+", "G2.+")):
        boat.wire(item, start, finish, "35 mm2", length_m=1)
    for number, item in enumerate(("G1", "G2", "G3", "T1"), 1):
        boat.wire(f"N{number}", f"{item}.-", f"X2.s{number}", "70 mm2", cores=("-",), length_m=1)
    return dumps(boat.diagram())


def _length(rng: random.Random) -> float:
    return round(rng.uniform(0.1, 8), 2)


def _storage(boat: Boat, rng: random.Random, series: bool) -> None:
    def fields() -> dict[str, float]:
        return {"internal_resistance_ohm": round(rng.uniform(0.002, 0.02), 4),
                "rest_v": round(rng.uniform(11.9, 13.2), 2),
                "max_charge_a": round(rng.uniform(10, 60), 1)}

    boat.battery("G1", **fields())
    if series:
        boat.battery("G2", **fields())
        boat.wire("A0", "G1.-", "G2.+", "70 mm2", cores=("-",), length_m=0.3, purpose="bank_link")


def _stud(studs: dict[str, int], pole: str) -> str:
    studs[pole] += 1
    return f"{'X1' if pole == '+' else 'X2'}.s{studs[pole]}"


def _home(boat: Boat, rng: random.Random, item: str, has: dict[str, bool],
          studs: dict[str, int], text: str) -> None:
    """Draw the negative home when returns are drawn."""
    if not has["implied"]:
        boat.wire(f"N{item}", f"{item}.-", _stud(studs, "-"), text, cores=("-",),
                  length_m=_length(rng))


def _draw(rng: random.Random, volts: float) -> dict[str, float]:
    sort = rng.choice(("current_a", "power_w", "resistance_ohm"))
    value = {"current_a": rng.uniform(0.2, 12), "power_w": rng.uniform(2, 90),
             "resistance_ohm": rng.uniform(1, 60)}[sort]
    return {sort: round(value, 2), "nominal_v": volts}


def _loads(boat: Boat, rng: random.Random, has: dict[str, bool], studs: dict[str, int]) -> None:
    volts = 24 if has["series"] else 12
    ways = rng.randint(2, 5)
    boat.panel("P1", *({"rated_a": 15} for _ in range(ways)))
    boat.wire("B1", _stud(studs, "+"), "P1.in", rng.choice(SIZES[4:7]), length_m=_length(rng))
    if not has["implied"]:
        boat.wire("NP1", "P1.-", _stud(studs, "-"), "16 mm2", cores=("-",), length_m=_length(rng))
    for number in range(1, ways + 1):
        item = f"E{number}"
        boat.load(item, **_draw(rng, volts))
        text = rng.choice(SIZES[:5])
        pair = not has["implied"] and rng.random() < 0.5
        boat.wire(f"C{number}", f"P1.w{number}", f"{item}.+", text, length_m=_length(rng),
                  cores=("+", "-") if pair else ("+",))
        if not pair:
            _home(boat, rng, item, has, studs, text)
    for number in range(10, 10 + rng.randint(1, 3)):
        item, fuse = f"E{number}", f"F{number}"
        boat.load(item, **_draw(rng, volts)).fuse(fuse, 30)
        boat.wire(f"C{number}", _stud(studs, "+"), f"{fuse}.a", "6 mm2", length_m=0.15)
        boat.wire(f"D{number}", f"{fuse}.b", f"{item}.+", rng.choice(SIZES[:6]),
                  length_m=_length(rng), parallel_count=rng.choice((1, 1, 2)))
        _home(boat, rng, item, has, studs, "6 mm2")


def _sources(boat: Boat, rng: random.Random, has: dict[str, bool], studs: dict[str, int]) -> None:
    """Two sources that cannot give what is asked: both in their limits."""
    blocks = 2 if has["series"] else 1
    boat.part("G5", "alternator", rated_a=round(rng.uniform(5, 25), 1), set_v=14.4 * blocks,
              nominal_v=12 * blocks)
    boat.wire("S1", "G5.+", _stud(studs, "+"), "25 mm2", length_m=_length(rng))
    boat.part("G6", "solar_array", panel_w=round(rng.uniform(50, 300)), panel_vmp_v=36)
    boat.part("T6", "solar_controller", rated_output_a=20, absorption_v=14.4 * blocks)
    boat.wire("S2", "G6.+", "T6.pv+", "6 mm2", length_m=_length(rng))
    boat.wire("S3", "T6.out+", _stud(studs, "+"), "6 mm2", length_m=_length(rng))
    if not has["implied"]:
        boat.wire("NS1", "G5.-", _stud(studs, "-"), "25 mm2", cores=("-",), length_m=_length(rng))
        boat.wire("NS2", "G6.-", "T6.pv-", "6 mm2", cores=("-",), length_m=_length(rng))
        boat.wire("NS3", "T6.out-", _stud(studs, "-"), "6 mm2", cores=("-",), length_m=_length(rng))


def _isolated(boat: Boat, rng: random.Random, has: dict[str, bool], studs: dict[str, int]) -> None:
    boat.part("T9", "dc_dc_converter", input_v=24 if has["series"] else 12, output_v=12,
              rated_output_a=round(rng.uniform(4, 20), 1), isolated=True,
              efficiency=round(rng.uniform(0.8, 0.95), 2))
    boat.load("E90", **_draw(rng, 12))
    boat.wire("I1", _stud(studs, "+"), "T9.in+", "6 mm2", length_m=_length(rng))
    _home(boat, rng, "T9", has, studs, "6 mm2")
    boat.wire("I2", "T9.out+", "E90.+", "4 mm2", length_m=_length(rng))
    boat.wire("I3", "T9.out-", "E90.-", "4 mm2", cores=("-",), length_m=_length(rng))
