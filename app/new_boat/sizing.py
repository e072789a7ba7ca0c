"""Which conductor and which device suit a circuit, by the tables of the rule set."""

from __future__ import annotations

from functools import cache
from typing import Any, Literal

from model.diagram import Size
from model.tables import (
    allowable_a,
    conductor_sizes,
    engine_space_factor,
    resistance_ohm_per_km,
    standard_device_ratings_a,
)

RuleSet = Literal["us", "iso"]
INSULATION_C = 105
HOT_COPPER_C = 50
THINNEST = {"us": "14", "iso": "2.5"}
CONTINUOUS = 1.25  # a device carries 80 percent of its rating for hours: common practice
SPARE_DROP = 0.9  # of the limit, for joints and the way through devices
BREAKERS_A = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0)
CLASS_T_FROM_A = 110.0
# Both break what a large bank drives. The cylindrical cartridges are those of solar arrays.
CLASS_T = {"class": "class_t", "rated_dc_v": 125, "interrupt_a": 20000}
CARTRIDGE = {"class": "cartridge", "rated_dc_v": 500, "interrupt_a": 20000}


@cache
def thinnest(
    rule_set: RuleSet, carries_a: float, in_engine_space: bool = False,
    current_a: float = 0, length_m: float = 0, most_drop_v: float = 0,
) -> Size:
    """Return the thinnest size that carries a current [A] and keeps within a drop [V] there and
    back, of the sizes the rule set is written in; its thickest when none does.
    """
    sizes = conductor_sizes("mm2" if rule_set == "iso" else "awg")
    first = next(i for i, size in enumerate(sizes) if size.text == THINNEST[rule_set])
    heat = engine_space_factor(rule_set, INSULATION_C).value if in_engine_space else 1.0
    for size in sizes[first:]:
        drop_v = current_a * 2 * length_m * resistance_ohm_per_km(size, HOT_COPPER_C).value / 1000
        if (allowable_a(rule_set, size, INSULATION_C).value * heat >= carries_a
                and (not most_drop_v or drop_v <= most_drop_v * SPARE_DROP)):
            return size
    return sizes[-1]


def next_rating_a(least_a: float) -> float:
    """Return the smallest common rating of a fuse that is not below a current. [A]"""
    ratings = standard_device_ratings_a()
    return next((rated_a for rated_a in ratings if rated_a >= least_a), ratings[-1])


def breaker_a(current_a: float) -> float:
    """Return the rating of a panel's breaker for a current that flows for hours. [A]"""
    return next(rated_a for rated_a in BREAKERS_A if rated_a >= current_a * CONTINUOUS)


def fuse_fields(rated_a: float) -> dict[str, Any]:
    """Return the fields of a fuse near a bank, in a holder of its rating."""
    made = CLASS_T if rated_a >= CLASS_T_FROM_A else CARTRIDGE
    return {"rated_a": rated_a, "holder_rated_a": rated_a, **made}
