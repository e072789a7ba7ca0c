"""Voltage drop: which limit a consumer has, whose conductor is to blame, and what would settle it.

Shared words of the rules on drop. Consumers are grouped by the conductor that causes most of their
drop, so that one thin feeder is one finding.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from model.analysis.voltage_drop import PANELS, Drop
from model.diagram import Diagram, Size
from model.edits import Edit, apply
from model.survey import Survey
from model.units import area_mm2
from rules.fixing import thicker, together, with_fields
from rules.profiles import Figure, Profile
from rules.rule import Fix
from rules.wording import named, size_words

CRITICAL_ROLES = frozenset({
    "navigation_light", "blower", "steering", "engine_control", "ignition", "stop_solenoid",
    "water_alarm", "gas_alarm", "smoke_alarm", "co_alarm", "alarm"})
ELECTRONICS = frozenset({"instrument", "radio", "autopilot"})
BILGE_PUMPS = frozenset({"bilge_pump", "bilge_pump_automatic", "bilge_pump_manual"})
LIMITS = ("critical_drop_max_percent", "electronics_drop_max_percent",
          "bilge_pump_drop_max_percent", "ordinary_drop_max_percent", "drop_least_a")
SPARE_COPPER = 1.02  # a fix aims this much beyond the limit, for what the solver adds
MOST_TRIES = 4


@dataclass(frozen=True, slots=True)
class Group:
    """Consumers most of whose drop one conductor causes; "" when nothing is known of any."""

    wire: str
    drops: tuple[Drop, ...]


class Limited(NamedTuple):
    """A drop, and how much it may be of the nominal volts. [%]"""

    drop: Drop
    most_percent: float


def groups(survey: Survey) -> Iterator[Group]:
    """Yield the consumers of a survey, starters apart, by the conductor to blame."""
    found: dict[str, list[Drop]] = {}
    for drop in survey.drops:
        if survey.diagram.components[drop.item].kind != "starter":
            found.setdefault(drop.culprit, []).append(drop)
    for wire, drops in found.items():
        yield Group(wire, tuple(drops))


def role_of(survey: Survey, item: str) -> str:
    """Return what a consumer is for: its role, else its kind."""
    component = survey.diagram.components[item]
    return str(component.parameters.get("role") or component.kind)


def limit_of(drop: Drop, survey: Survey, profile: Profile) -> Figure:
    """Return how much a consumer may lose, of its nominal volts. [%]"""
    role = role_of(survey, drop.item)
    component = survey.diagram.components[drop.item]
    if component.parameters.get("critical") is True or role in CRITICAL_ROLES | set(PANELS):
        return profile["critical_drop_max_percent"]
    if role in ELECTRONICS:
        return profile["electronics_drop_max_percent"]
    if role in BILGE_PUMPS:
        return profile["bilge_pump_drop_max_percent"]
    return profile["ordinary_drop_max_percent"]


def is_critical(drop: Drop, survey: Survey, profile: Profile) -> bool:
    """Say whether a consumer may lose less than an ordinary one."""
    ordinary = profile["ordinary_drop_max_percent"]
    return limit_of(drop, survey, profile).value < ordinary.value


def is_over(drop: Drop, survey: Survey, profile: Profile) -> bool:
    """Say whether a consumer that draws enough to matter loses more than it may."""
    if not drop.missing and drop.current_a < profile.value("drop_least_a"):
        return False
    return drop.percent > limit_of(drop, survey, profile).value


def enough_copper(
    survey: Survey, limits_percent: Mapping[str, float], profile: Profile
) -> Iterator[Fix]:
    """Yield the fix that brings consumers (id -> limit [%]) within their limits, if one does."""
    return copper_for(survey, profile, lambda one: [
        Limited(drop, limits_percent[drop.item]) for drop in one.drops
        if drop.item in limits_percent])


def copper_for(
    survey: Survey, profile: Profile, limited: Callable[[Survey], Iterable[Limited]]
) -> Iterator[Fix]:
    """Yield the fix after which each drop that is asked for is within its limit, if one does.

    It thickens the conductor that causes most of the worst one's drop; where that alone cannot
    do, the next ones with it, last those of the other drops.
    """
    over = sorted(limited(survey), key=lambda one: -one.drop.percent / one.most_percent)
    wires = list(dict.fromkeys(
        wire for one in over
        for wire in sorted(one.drop.shares, key=lambda item: -one.drop.shares[item])))
    for count in range(1, len(wires) + 1):
        factor = _factor(over, wires[:count])
        fix = None if factor is None else _settling(
            survey, wires[:count], factor, profile,
            lambda after: all(one.drop.percent <= one.most_percent for one in limited(after)))
        if fix is not None:
            yield fix
            return


def less_resistance(
    survey: Survey, ohms: Mapping[str, float], ratio: float, profile: Profile,
    settles: Callable[[Survey], bool],
) -> Iterator[Fix]:
    """Yield the fix that brings conductors (id -> resistance) down to a share of what they have
    together, the one with most of it first, where that settles it.
    """
    wires = sorted(ohms, key=lambda item: -ohms[item])
    whole = sum(ohms.values())
    for count in range(1, len(wires) + 1):
        own = sum(ohms[item] for item in wires[:count])
        left = whole * ratio - (whole - own)
        fix = None if left <= 0 else _settling(
            survey, wires[:count], own / left * SPARE_COPPER, profile, settles)
        if fix is not None:
            yield fix
            return


def _settling(
    survey: Survey, wires: list[str], factor: float, profile: Profile,
    settles: Callable[[Survey], bool],
) -> Fix | None:
    """Return the fix that gives conductors so many times their copper, or a little more, where that
    settles it.
    """
    for _ in range(MOST_TRIES):
        fix = _thickened(survey, wires, factor, profile)
        if fix is None or settles(Survey(apply(survey.diagram, fix.edit))):
            return fix
        factor *= SPARE_COPPER
    return None


def _factor(over: Iterable[Limited], wires: list[str]) -> float | None:
    """Return how many times the copper of these conductors is needed. [unitless]"""
    factors = [SPARE_COPPER]
    for drop, most_percent in over:
        own_v = sum(drop.shares.get(wire, 0.0) for wire in wires)
        left_v = most_percent / 100 * drop.nominal_v - (drop.drop_v - own_v)
        if left_v <= 0:
            return None
        factors.append(own_v / left_v)
    return max(factors) * SPARE_COPPER


def _thickened(
    survey: Survey, wires: list[str], factor: float, profile: Profile
) -> Fix | None:
    sizes: dict[str, Size] = {}
    for item in wires:
        size = survey.diagram.conductors[item].size
        if size is None:
            return None
        least_mm2 = area_mm2(size.standard, size.text) * factor
        after = thicker(survey, item, profile, least_mm2=least_mm2)
        if after is None:
            return None
        sizes[item] = after
    texts = [f"{named(survey.diagram, [item])} by {size_words(size)}"
             for item, size in sizes.items()]
    title = f"Replace {', '.join(texts)}"
    makers = [_resized(item, size) for item, size in sizes.items()]
    return Fix(title, "choice", together(survey.diagram, title, *makers))


def _resized(item: str, size: Size) -> Callable[[Diagram], Edit]:
    return lambda diagram: with_fields(diagram, "", item, size=size)
