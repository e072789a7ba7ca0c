"""What it checks.
The feeder of each panel and fuse block, and the panel's own bus, against the device before them.

Why it matters.
Every circuit of a panel may be within its own rating while all together overload the feeder or the
bus. The margin that a single circuit is allowed over its conductor is not allowed here.

Fails when.
The device before the panel is rated above what the feeder carries, or above the panel's bus
rating, and the devices of the ways together are too.

Passes when.
A device before the panel, or its own main, is not above the smaller of both; or the ways together
cannot exceed it.

Limits.
A feeder with no device at all belongs to 1.1, one so thin that even a single circuit would not be
allowed to be behind that device to 1.3 and 1.4.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.leads import straight_end
from model.analysis.panels import PanelFeed, panel_feeds
from model.survey import Survey
from rules.allowance import weakest
from rules.distance import distance
from rules.fixing import thicker, with_fields
from rules.new_device import largest_rating_a
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="panel_feeder_unprotected",
    number="1.24",
    title="Panel feeder not protected to the feeder size",
    topic="overcurrent",
    severity="danger",
    looks_at="each feeder of a panel or fuse block",
    subjects=panel_feeds,
    messages={
        "bus": "{panel} is fed through {device} of {rated_a} and its ways add up to {ways_a}; its "
               "bus is rated {bus_a}.",
        "feeder": "{panel} is fed through {device} of {rated_a} and its ways add up to {ways_a}; "
                  "its feeder {wire} carries {ampacity_a}.",
    },
    remedy="Fit a main breaker on the panel, or a fuse at the feed point, rated to the smaller of "
           "feeder and panel.",
    sources=("abyc_e11_panels", "iso_overcurrent"),
    quiet={
        "own_main": "the panel has its own main near the feed point",
        "ways_within": "the ways together do not exceed the feeder and the bus",
        "too_large": "the device is too large for the feeder whatever its ways: 1.4 judges it",
    },
    figures=("unsheathed_max_mm", "tap_sheathed_max_mm", "heavy_circuit_a",
             "next_size_max_ratio"),
    fix="sometimes",
)


@dataclass(frozen=True, slots=True)
class _Excess:
    """What a device is too large for, "bus" or "feeder", and that device. [A]."""

    part: str
    limit_a: float
    device: str
    rated_a: float
    confirmed: bool = True


def check(feed: PanelFeed, survey: Survey, profile: Profile) -> Answer:
    """Judge one panel by the device before it."""
    where = (feed.panel, feed.wire, feed.device)
    if feed.rated_a is None:
        return Missing((f"{feed.device}.rated_a",), where)
    excess = _bus_excess(feed, feed.rated_a) or _feeder_excess(
        feed, feed.rated_a, survey, profile)
    if isinstance(excess, Missing):
        return excess
    if excess is not None and feed.ways_a > excess.limit_a:
        return Fault(excess.part, (feed.panel, feed.wire, excess.device), {
            "rated_a": excess.rated_a, "ways_a": feed.ways_a,
            "bus_a" if excess.part == "bus" else "ampacity_a": excess.limit_a,
        }, {"panel": named(survey.diagram, [feed.panel]),
            "device": named(survey.diagram, [excess.device]),
            "wire": named(survey.diagram, [feed.wire])}, unverified=not excess.confirmed)
    if excess is not None and feed.unknown_ways:
        return Missing(tuple(f"{way}.rated_a" for way in feed.unknown_ways), where)
    if feed.bus_a is None and feed.ways_a > profile.value("heavy_circuit_a"):
        return Missing((f"{feed.panel}.bus_rated_a",), where)
    return None


def _bus_excess(feed: PanelFeed, rated_a: float) -> _Excess | None:
    """Return by what the bus is exceeded: the smaller of the panel's main and the device."""
    before = [(rated_a, feed.device)]
    if feed.main_a is not None:
        before.insert(0, (feed.main_a, f"{feed.panel}.main"))
    before_a, device = min(before, key=lambda pair: pair[0])
    if feed.bus_a is None or before_a <= feed.bus_a:
        return None
    return _Excess("bus", feed.bus_a, device, before_a)


def _feeder_excess(
    feed: PanelFeed, rated_a: float, survey: Survey, profile: Profile
) -> _Excess | Missing | None:
    """Return the device when above the feeder's ampacity by no more than 1.4 allows, and no main
    of the panel makes up for it.
    """
    suits = weakest(survey, feed.chain, rated_a, profile)
    if suits.verdict != "next_size":
        return None
    excess = _Excess("feeder", suits.ampacity_a, feed.device, rated_a, suits.ampacity.confirmed)
    if feed.main_a is None or feed.main_a > suits.ampacity_a:
        return excess
    far = distance(straight_end(survey.diagram.conductors[feed.wire], feed.panel), profile, False)
    if far.verdict == "unknown":
        return Missing(far.missing, (feed.panel, feed.wire, feed.device))
    return None if far.verdict == "within" else excess


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a main on the panel for its bus; a smaller device or a thicker feeder for a feeder."""
    panel, wire, device = finding.where
    bus_a = finding.figures.get("bus_a")
    most_a = largest_rating_a(finding.figures["ampacity_a"] if bus_a is None else bus_a)
    needs_main = bus_a is not None and not device.endswith(".main")
    duty = (survey.duty.conductors if needs_main else survey.drawn_by_loads).get(
        wire if needs_main else device)
    if most_a and (duty is None or duty.current_a <= most_a):
        if needs_main:
            title = f"Fit a main of {most_a:g} A on {named(survey.diagram, [panel])}"
            main = {"id": "main", "device": "breaker", "rated_a": most_a}
            edit = with_fields(survey.diagram, title, panel, main=(main,))
        else:
            title = f"Fit {most_a:g} A as {named(survey.diagram, [device])}"
            edit = with_fields(survey.diagram, title, device, rated_a=most_a)
        yield Fix(title, "choice", edit)
    size = thicker(survey, wire, profile, carries_a=finding.figures["rated_a"])
    if size is not None and bus_a is None:
        title = f"Replace {named(survey.diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "choice", with_fields(survey.diagram, title, wire, size=size))
