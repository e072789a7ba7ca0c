"""Solving in tests goes through one helper that asserts balance at each node and of power."""

from __future__ import annotations

from typing import Any

import numpy as np

from model.analysis.operating_point.answer import OperatingPoint
from model.analysis.operating_point.elements import NetworkElements
from model.analysis.operating_point.network import Network
from model.analysis.operating_point.solver import Solution, solve
from model.survey import Survey

RELATIVE = 1e-6
DEVIATIONS: dict[str, float] = {}


def note(name: str, deviation: float) -> None:
    """Keep the largest deviation of a check, to be printed when all tests are over."""
    DEVIATIONS[name] = max(DEVIATIONS.get(name, 0.0), float(deviation))


def solved(network: Network) -> Solution:
    """Solve arrays and assert that currents and power balance."""
    solution = solve(network)
    assert solution.settled and np.all(np.isfinite(solution.volts))
    stamp = NetworkElements(network).stamp(solution.volts)
    largest = max((float(np.max(np.abs(c), initial=0.0)) for c in stamp.currents), default=0.0)
    assert solution.residual_a <= RELATIVE * max(1.0, largest)
    note("Kirchhoff's current law, relative", solution.residual_a / max(1.0, largest))
    watts = [float((solution.volts[n] * c).sum())
             for n, c in zip(stamp.nodes, stamp.currents, strict=True)]
    scale = max(1.0, max((abs(w) for w in watts), default=0.0))
    assert abs(sum(watts)) <= RELATIVE * scale
    note("energy balance, relative", abs(sum(watts)) / scale)
    return solution


def point(survey: Survey, **state: Any) -> OperatingPoint:
    """Solve a diagram and assert that currents and power balance."""
    found = survey.operating_point(survey.state(**state))
    total_w = sum(abs(part.power_w) for part in found.parts.values())
    largest = max((abs(a) for a in found.conductors.values()), default=1.0)
    assert found.settled
    assert found.residual_a <= RELATIVE * max(1.0, largest)
    assert abs(found.balance_w) <= RELATIVE * max(1.0, total_w)
    note("Kirchhoff's current law, relative", found.residual_a / max(1.0, largest))
    note("energy balance, relative", abs(found.balance_w) / max(1.0, total_w))
    return found
