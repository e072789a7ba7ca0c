"""The largest device a conductor allows: its ampacity, and the next standard size above it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from model.analysis.ampacity_range import AmpacityRange
from model.diagram import Conductor
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.profiles import Profile

Verdict = Literal["covered", "next_size", "exceeded", "unknown"]


@dataclass(frozen=True, slots=True)
class Allowance:
    """How a device stands to a conductor. [A]. `ampacity_a` is the greatest it may be.

    `missing` are the fields that would settle an unknown verdict, those of conductors beside too.
    """

    verdict: Verdict
    conductor: str
    ampacity: AmpacityRange
    rated_a: float
    missing: tuple[str, ...]

    @property
    def ampacity_a(self) -> float:
        """Return the greatest ampacity the conductor may have. [A]."""
        return self.ampacity.high_a or 0.0

    @property
    def ratio(self) -> float:
        """Return the device's rating to the ampacity. [unitless]."""
        return self.rated_a / self.ampacity_a if self.ampacity_a else float("inf")


def allowance(
    survey: Survey, conductor: Conductor, rated_a: float, profile: Profile
) -> Allowance:
    """Return how a device of a rating stands to a conductor under a profile."""
    ampacity = together_range(survey, conductor, profile)
    missing = tuple(f"{item}.{field}" for item in _beside(survey, conductor)
                    for field in _range(survey, item, profile).missing)
    if ampacity.low_a is None or ampacity.high_a is None:
        return Allowance("unknown", conductor.id, ampacity, rated_a, missing)
    worst = _verdict(rated_a, ampacity.low_a, profile)
    best = _verdict(rated_a, ampacity.high_a, profile)
    verdict: Verdict = best if worst == best or best == "exceeded" else "unknown"
    if {worst, best} <= {"covered", "next_size"}:
        verdict = worst
    return Allowance(verdict, conductor.id, ampacity, rated_a, missing)


def together_range(survey: Survey, conductor: Conductor, profile: Profile) -> AmpacityRange:
    """Return the ampacity of a conductor with those drawn beside it between the same points."""
    own = _range(survey, conductor.id, profile)
    ranges = [_range(survey, item, profile) for item in _beside(survey, conductor)]
    lows = [r.low_a for r in ranges if r.low_a is not None]
    highs = [r.high_a for r in ranges if r.high_a is not None]
    if len(ranges) == 1 or len(lows) < len(ranges) or len(highs) < len(ranges):
        return own
    return AmpacityRange(sum(lows), sum(highs), own.missing, own.sources,
                         all(r.confirmed for r in ranges))


def _beside(survey: Survey, conductor: Conductor) -> tuple[str, ...]:
    return survey.cables_beside.get(conductor.id, (conductor.id,))


def _range(survey: Survey, item: str, profile: Profile) -> AmpacityRange:
    return survey.ampacity_range(survey.diagram.conductors[item], profile.ampacity_table)


def _verdict(rated_a: float, ampacity_a: float, profile: Profile) -> Verdict:
    if rated_a <= ampacity_a:
        return "covered"
    allowed_a = ampacity_a * profile.value("next_size_max_ratio")
    return "next_size" if rated_a <= min(allowed_a, next_standard_a(ampacity_a)) else "exceeded"


def next_standard_a(ampacity_a: float) -> float:
    """Return the next standard device rating above an ampacity. [A]."""
    return next((r for r in standard_device_ratings_a() if r > ampacity_a), ampacity_a)


def largest_device_a(ampacity_a: float, profile: Profile) -> float:
    """Return the largest standard device that suits an ampacity under a profile. [A]."""
    allowed = min(ampacity_a * profile.value("next_size_max_ratio"),
                  max(ampacity_a, next_standard_a(ampacity_a)))
    fits = [r for r in standard_device_ratings_a() if r <= allowed]
    return max(fits, default=0.0)


def weakest(
    survey: Survey, conductors: tuple[str, ...], rated_a: float, profile: Profile
) -> Allowance:
    """Return the allowance of the conductor in series that a device suits least.

    One that is certainly exceeded comes before one that cannot be told.
    """
    every = [allowance(survey, survey.diagram.conductors[item], rated_a, profile)
             for item in conductors]
    order = {"exceeded": 0, "unknown": 1, "next_size": 2, "covered": 3}
    return min(every, key=lambda one: (order[one.verdict], one.ampacity_a))


def is_as_heavy_as_feed(
    survey: Survey, device: str, suits: Allowance, profile: Profile
) -> bool:
    """Say whether a device is too large for its own feed already, and the conductor no thinner."""
    feeds = (weakest(survey, circuit.chain, suits.rated_a, profile)
             for circuit in survey.circuits if circuit.at == device)
    return any(feed.verdict == "exceeded" and suits.ampacity_a >= feed.ampacity_a
               for feed in feeds)
