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

from model.analysis.panels import PanelFeed, panel_feeds
from model.survey import Survey
from rules.allowance import Allowance, weakest
from rules.distance import MM_PER_M
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
    },
    figures=("unsheathed_max_mm", "tap_sheathed_max_mm", "heavy_circuit_a",
             "next_size_max_ratio"),
    fix="sometimes",
)


def check(feed: PanelFeed, survey: Survey, profile: Profile) -> Answer:
    """Judge one panel by the device before it."""
    where = (feed.panel, feed.wire, feed.device)
    if feed.rated_a is None:
        return Missing((f"{feed.device}.rated_a",), where)
    limit = "bus" if _exceeds_bus(feed) else "feeder" if _exceeds_feeder(
        feed, survey, profile) else ""
    limit_a = feed.bus_a if limit == "bus" else _ampacity_a(feed, survey, profile)
    if limit and limit_a is not None and feed.ways_a > limit_a:
        main = limit == "bus" and feed.main_a is not None and feed.main_a <= feed.rated_a
        device = f"{feed.panel}.main" if main else feed.device
        rated_a = feed.main_a if main and feed.main_a is not None else feed.rated_a
        return Fault(limit, (feed.panel, feed.wire, device), {
            "rated_a": rated_a, "ways_a": feed.ways_a,
            "bus_a" if limit == "bus" else "ampacity_a": limit_a,
        }, {"panel": named(survey.diagram, [feed.panel]),
            "device": named(survey.diagram, [device]),
            "wire": named(survey.diagram, [feed.wire])},
            unverified=limit == "feeder" and not _suits(feed, survey, profile).ampacity.confirmed)
    if limit and feed.unknown_ways:
        return Missing(tuple(f"{way}.rated_a" for way in feed.unknown_ways), where)
    if feed.bus_a is None and feed.ways_a > profile.value("heavy_circuit_a"):
        return Missing((f"{feed.panel}.bus_rated_a",), where)
    return None


def _exceeds_bus(feed: PanelFeed) -> bool:
    before_a = min(a for a in (feed.rated_a, feed.main_a) if a is not None)
    return feed.bus_a is not None and before_a > feed.bus_a


def _exceeds_feeder(feed: PanelFeed, survey: Survey, profile: Profile) -> bool:
    """Say whether the device is above the feeder's ampacity, by no more than 1.4 allows."""
    ampacity_a = _ampacity_a(feed, survey, profile)
    if ampacity_a is None or _suits(feed, survey, profile).verdict != "next_size":
        return False
    wire = survey.diagram.conductors[feed.wire]
    near = profile["tap_sheathed_max_mm" if wire.sheath == "whole" or wire.in_enclosure
                   else "unsheathed_max_mm"]
    is_near = wire.length_m is not None and wire.length_m * MM_PER_M <= near.value
    return not (feed.main_a is not None and feed.main_a <= ampacity_a and is_near)


def _suits(feed: PanelFeed, survey: Survey, profile: Profile) -> Allowance:
    return weakest(survey, feed.chain, feed.rated_a or 0.0, profile)


def _ampacity_a(feed: PanelFeed, survey: Survey, profile: Profile) -> float | None:
    return _suits(feed, survey, profile).ampacity.high_a


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
