"""How far a device may be from its source point: shared words of the rules on distance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from model.analysis.leads import Lead, LeadEnd
from rules.profiles import Figure, Profile
from rules.rule import Missing

MM_PER_M = 1000
Verdict = Literal["within", "beyond", "unknown"]


@dataclass(frozen=True, slots=True)
class Distance:
    """Whether a device is near enough, by which limit, and what is missing to say so."""

    verdict: Verdict
    length_m: float
    limit: Figure
    missing: tuple[str, ...] = ()


def distance(end: LeadEnd, profile: Profile, from_battery: bool) -> Distance:
    """Return how an end of a lead stands to the limit that applies to its sheath.

    What is known may decide although some length or sheath is not stated.
    """
    bare = profile["unsheathed_max_mm"]
    covered = profile["battery_sheathed_max_mm" if from_battery else "tap_sheathed_max_mm"]
    length_mm = end.length_m * MM_PER_M
    limit = bare if end.sheathed is False else covered
    if length_mm > limit.value:
        return Distance("beyond", end.length_m, limit)
    if end.missing:
        return Distance("unknown", end.length_m, limit,
                        tuple(f"{item}.length_m" for item in end.missing))
    if end.sheathed is None and length_mm > bare.value:
        return Distance("unknown", end.length_m, limit,
                        tuple(f"{item}.sheath" for item in end.unsaid))
    return Distance("within", end.length_m, bare if length_mm <= bare.value else limit)


def linked_batteries(end: LeadEnd, lead: Lead) -> tuple[str, ...]:
    """Return the other batteries that a lead's device leads to, when that is what it is for."""
    behind = end.behind
    is_link = bool(end.relays) or not (behind.loads | behind.converters)
    return tuple(sorted(behind.batteries - set(lead.batteries))) if is_link else ()


def others_own(end: LeadEnd, lead: Lead) -> bool:
    """Say whether a rule on charging leads or on links judges a lead's device."""
    return end.behind.only_charging or bool(linked_batteries(end, lead))


def reaches_unprotected(
    ends: tuple[LeadEnd, ...], profile: Profile, from_battery: bool
) -> list[LeadEnd]:
    """Return the ends where a consumer is reached, or a bus farther away than a device may be.

    A bus within the distance allowed for a device is no fault by itself: its devices are measured,
    and asked for where no distance is stated.
    """
    consumers = [end for end in ends if end.kind in ("load", "converter")]
    buses = [end for end in ends if end.kind == "bus"
             and distance(end, profile, from_battery).verdict == "beyond"]
    return consumers + buses


def missing_length(conductor: str, judged: list[tuple[Distance, LeadEnd]]) -> Missing | None:
    """Return what is missing to judge the ends of a conductor, None when all are told."""
    unknown = [(far, end) for far, end in judged if far.verdict == "unknown"]
    if not unknown:
        return None
    fields = tuple(dict.fromkeys(field for far, _ in unknown for field in far.missing))
    return Missing(fields, (conductor, *(end.item for _, end in unknown)))
