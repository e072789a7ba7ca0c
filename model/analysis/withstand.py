"""How long a conductor bears a fault current before its insulation is too hot."""

from __future__ import annotations

import math

from model.analysis.copper import copper_mm2
from model.diagram import Conductor

# Copper by IEC 60949: heat capacity [J/(K m3)], resistivity at 20 C [ohm m], and the reciprocal
# of its temperature coefficient at 0 C [K].
HEAT_J_PER_K_M3, RESISTIVITY_20C_OHM_M, BETA_K = 3.45e6, 1.7241e-8, 234.5
# What insulation bears for seconds: PVC, the weaker of the usual two; from memory.
END_C = 160.0


def adiabatic_k() -> float:
    """Return the constant K of copper. [A s^0.5 / mm2]; IEC 60949."""
    return math.sqrt(HEAT_J_PER_K_M3 * (BETA_K + 20) * 1e-12 / RESISTIVITY_20C_OHM_M)


def withstand_s(area_mm2: float, current_a: float, start_c: float, end_c: float) -> float:
    """Return how long copper takes from one temperature to another at a current. [s].

    I^2 t = K^2 S^2 ln((end + beta) / (start + beta)): IEC 60949, no heat leaving the copper.
    Endless without a current, none when it starts too hot.
    """
    if current_a == 0:
        return math.inf
    if start_c >= end_c:
        return 0.0
    rise = math.log((end_c + BETA_K) / (start_c + BETA_K))
    return (adiabatic_k() * area_mm2 / current_a) ** 2 * rise


def conductor_withstand_s(wire: Conductor, current_a: float) -> float | None:
    """Return how long a conductor as hot as its insulation allows bears a current. [s].

    None when its size or the rating of its insulation is not stated.
    """
    area = copper_mm2(wire)
    if area is None or wire.insulation_c is None:
        return None
    return withstand_s(area, current_a, wire.insulation_c, END_C)
