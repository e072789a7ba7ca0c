"""Charging leads as the rules on them see them: the battery's end, and what guards it there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.leads import Lead, LeadEnd
from model.analysis.taps import Circuit
from model.survey import Survey
from rules.allowance import weakest
from rules.charging_output import outputs
from rules.distance import Distance, distance, reaches_unprotected
from rules.placing_device import all_conductors, fitted_at_start, moved_nearer
from rules.profiles import Profile
from rules.rule import Finding, Fix, Missing


@dataclass(frozen=True, slots=True)
class ChargingEnd:
    """The battery's end of what serves charging sources alone.

    `start` is the battery's lead or the tap it begins with; `ends` are where it goes, `sources`
    the chargers or alternators there.
    """

    start: Lead | Circuit
    ends: tuple[LeadEnd, ...]
    sources: tuple[str, ...]
    alternators: bool

    @property
    def from_battery(self) -> bool:
        """Say whether it begins at a battery's post."""
        return isinstance(self.start, Lead) and not self.start.from_starter

    def points(self, survey: Survey) -> tuple[str, ...]:
        """Return where it begins: the batteries at whose post, else the part."""
        if isinstance(self.start, Lead) and self.from_battery:
            return self.start.batteries
        return (survey.graph.component_of[self.start.node],)


def charging_ends(survey: Survey) -> Iterator[ChargingEnd]:
    """Yield the charging ends of all leads and taps, those of one source together.

    A tap with an unprotected way to a battery is part of that battery's lead.
    """
    for lead in survey.leads:
        own: dict[tuple[str, ...], list[LeadEnd]] = {}
        for end in lead.ends:
            sources = _sources(end)
            if sources:
                own.setdefault(sources, []).append(end)
        for sources, ends in own.items():
            yield ChargingEnd(lead, tuple(ends), sources, _only_alternators(survey, sources))
    for tap in survey.taps:
        if tap.serves.only_charging and tap.ends and tap.node not in survey.unfused_reach:
            sources = tuple(sorted(tap.serves.chargers | tap.serves.alternators))
            yield ChargingEnd(tap, tap.ends, sources, _only_alternators(survey, sources))


def _sources(end: LeadEnd) -> tuple[str, ...]:
    if end.kind in ("charger", "alternator"):
        return (end.item,)
    if end.kind == "device" and end.behind.only_charging:
        return tuple(sorted(end.behind.chargers | end.behind.alternators))
    return ()


def _only_alternators(survey: Survey, sources: tuple[str, ...]) -> bool:
    return all(survey.diagram.components[item].kind == "alternator" for item in sources)


def owned_by_feed(end: ChargingEnd, profile: Profile) -> bool:
    """Say whether the lead reaches consumers without a device too: that is one cause, 1.1's."""
    if not isinstance(end.start, Lead) or end.start.serves.only_charging:
        return False
    return bool(reaches_unprotected(end.start.ends, profile, end.from_battery))


def farthest(end: ChargingEnd, profile: Profile) -> tuple[Distance, LeadEnd]:
    """Return the end worst placed: one without a device, else the device farthest away."""
    bare = [one for one in end.ends if one.kind != "device"]
    order = {"beyond": 2, "unknown": 1, "within": 0}
    judged = [(distance(one, profile, end.from_battery), one) for one in bare or end.ends]
    return max(judged, key=lambda pair: (order[pair[0].verdict], pair[0].length_m))


def judged_by_bus(end: ChargingEnd, survey: Survey, profile: Profile) -> bool | Missing:
    """Say whether the device before a tap covers the lead; Missing when that cannot be told.

    False from a battery or starter circuit: there is no device before.
    """
    if isinstance(end.start, Lead):
        return False
    guard = end.start.guard
    where = (end.start.conductor, *end.sources)
    ratings = Missing(tuple(f"{item}.rated_a" for item in guard.unknown), where)
    if guard.rated_a is None:
        return ratings
    suits = weakest(survey, end.start.chain, guard.rated_a, profile)
    if suits.verdict in ("covered", "next_size"):
        return True
    if guard.unknown:
        return ratings
    return Missing(suits.missing, where) if suits.verdict == "unknown" else False


def is_guarded(end: ChargingEnd, survey: Survey, profile: Profile) -> bool | Missing:
    """Say whether a device near the battery's end, or one before its bus, guards the lead."""
    far, worst = farthest(end, profile)
    if worst.kind == "device" and far.verdict == "within":
        return True
    bus = judged_by_bus(end, survey, profile)
    if bus is True:
        return True
    if worst.kind == "device" and far.verdict == "unknown":
        return Missing(far.missing, (end.start.conductor, *end.sources, worst.item))
    return bus


def end_fixes(
    finding: Finding, survey: Survey, profile: Profile, ratio: float
) -> Iterator[Fix]:
    """Offer to move the device to the battery's end, or a fuse there rated from `ratio` times
    what the sources give up.
    """
    end = next(end for end in charging_ends(survey) if end.start.conductor == finding.where[0])
    _, worst = farthest(end, profile)
    if worst.kind == "device" and len(end.ends) == 1:
        yield from moved_nearer(survey, worst.item, worst.conductors, profile)
        return
    given = {out.source: out.amperes or 0.0 for out in outputs(survey.diagram)}
    least_a = ratio * sum(given.get(source, 0.0) for source in end.sources)
    yield from fitted_at_start(
        survey, end.start.conductor, end.start.node,
        all_conductors(end.start.conductor, end.ends), least_a, profile, snug=True)
