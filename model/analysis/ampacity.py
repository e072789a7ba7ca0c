"""What current a conductor may carry: the rule set's table, engine space and bundling.

Each clause has its own scope: bundling binds below 50 V under one set and not under another. What
is not stated and would change the figure is named as missing, or assumed and said.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import Literal

from model.diagram import Conductor, Diagram, Size
from model.tables import allowable_a, bundle_factor, engine_space_factor

RuleSet = Literal["us", "iso"]
ENGINE_SPACES = ("engine_space", "petrol_engine_space")


@dataclass(frozen=True, slots=True)
class Ampacity:
    """A conductor's ampacity. [A]. `value_a` is None when a field in `missing` is needed.

    `sources` name the tables, `confirmed` tells whether all their figures were read in print, and
    `assumed` what was taken for granted.
    """

    value_a: float | None
    missing: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    confirmed: bool = True
    assumed: tuple[str, ...] = ()
    base_a: float | None = None
    factors: dict[str, float] = field(default_factory=dict)


def ampacity(conductor: Conductor, diagram: Diagram, rule_set: RuleSet) -> Ampacity:
    """Return the corrected ampacity of a conductor, all its parallel cables together."""
    missing = [name for name in ("size", "insulation_c") if getattr(conductor, name) is None]
    in_engine_space, assumed = _in_engine_space(conductor, diagram)
    if in_engine_space is None:
        missing.append("engine_space_m")
    if missing or conductor.size is None or conductor.insulation_c is None:
        return Ampacity(None, tuple(missing))
    return _corrected(rule_set, conductor.size, conductor.insulation_c, in_engine_space is True,
                      conductor.bundle_count, conductor.parallel_count or 1, tuple(assumed))


@lru_cache(maxsize=1000)
def _corrected(
    rule_set: RuleSet, size: Size, insulation_c: float, in_engine_space: bool,
    bundle_count: int | None, count: int, assumed: tuple[str, ...],
) -> Ampacity:
    """Return the ampacity of all cables of such a conductor: many conductors are alike."""
    base = allowable_a(rule_set, size, insulation_c)
    value, sources, confirmed = base.value, [base.source], base.confirmed
    factors: dict[str, float] = {}
    if in_engine_space:
        factor = engine_space_factor(rule_set, insulation_c)
        factors["engine_space"] = factor.value
        value *= factor.value
        sources.append(factor.source)
        confirmed = confirmed and factor.confirmed
    if bundle_count is None:
        assumed = (*assumed, "not bundled with others")
    elif bundle_count > 1:
        bundled = bundle_factor(rule_set, bundle_count)
        factors["bundle"] = bundled.value
        value *= bundled.value
        sources.append(bundled.source)
        confirmed = confirmed and bundled.confirmed
    return Ampacity(round(value * count, 4), (), tuple(dict.fromkeys(sources)), confirmed,
                    assumed, base.value, factors)


def _in_engine_space(
    conductor: Conductor, diagram: Diagram
) -> tuple[bool | None, list[str]]:
    """Say whether some of it runs in an engine space; None when only the owner can tell.

    Unstated, it is taken to run outside unless one of its ends stands in an engine space.
    """
    if conductor.engine_space_m is not None:
        return conductor.engine_space_m > 0, []
    for end in conductor.ends():
        place = diagram.places.get(diagram.components[end.component].place or "")
        if place is not None and place.environment in ENGINE_SPACES:
            return None, []
    return False, ["outside engine spaces"]
