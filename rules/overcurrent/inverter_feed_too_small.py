"""What it checks.
The device and the conductors that feed each inverter against its current at full power and the
lowest voltage it works at.

Why it matters.
An inverter draws more, not less, as the bank sinks. At full load its fuse then blows, or its cable
runs hot for as long as the load is on.

Fails when.
The device's rating or a conductor's ampacity is below that current.

Passes when.
Both are at least that current, or the maker's own fuse is recorded and the device is not smaller.

Limits.
Lowest voltage and efficiency that are not stated are assumed, and the finding says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from model.analysis.inverters import InverterFeed, inverter_feeds
from model.survey import Survey
from rules.new_device import larger_device, thicker_all
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.wording import named

# What a figure of the profile stands in for, where it is not stated.
ASSUMED = {"inverter_lowest_v_ratio": "min_dc_v", "inverter_efficiency_ratio": "efficiency"}

RULE = Rule(
    slug="inverter_feed_too_small",
    number="1.25",
    title="Inverter fuse or cable smaller than its full-load current",
    topic="overcurrent",
    severity="fault",
    looks_at="each inverter with what feeds it",
    subjects=inverter_feeds,
    messages={
        "device": "{inverter} draws {full_a} at full power{assumed}; {device} before it is rated "
                  "{rated_a}.",
        "cable": "{inverter} draws {full_a} at full power{assumed}; {wire} that feeds it carries "
                 "{ampacity_a}.",
        "maker": "{inverter} asks for a fuse of {maker_a}; {device} before it is rated {rated_a}.",
    },
    remedy="Fit cable and fuse for full power at the lowest working voltage.",
    sources=("common_practice",),
    quiet={
        "maker": "the maker's own fuse is recorded and the device is not smaller",
        "carries": "device and cable are of at least the full current",
    },
    figures=("inverter_lowest_v_ratio", "inverter_efficiency_ratio"),
    fix="sometimes",
)


def check(feed: InverterFeed, survey: Survey, profile: Profile) -> Answer:
    """Judge one inverter by the device before it and its weakest conductor."""
    names = {"inverter": named(survey.diagram, [feed.inverter]),
             "device": named(survey.diagram, [feed.device]) if feed.device else ""}
    if feed.maker_fuse_a is not None and feed.rated_a is not None:
        if feed.rated_a >= feed.maker_fuse_a:
            return None
        return Fault("maker", (feed.inverter, feed.device),
                     {"maker_a": feed.maker_fuse_a, "rated_a": feed.rated_a}, names)
    found = _full_a(feed, profile)
    if isinstance(found, Missing):
        return found
    full_a, assumed = found
    names["assumed"] = f" ({', '.join(assumed)} assumed)" if assumed else ""
    figures: dict[str, float | Sourced] = {"full_a": full_a}
    sources = tuple(profile[name].source for name in assumed.values())
    unstated = tuple(f"{feed.inverter}.{ASSUMED[name]}" for name in assumed.values())
    if feed.rated_a is not None and feed.rated_a < full_a:
        return Fault("device", (feed.inverter, feed.device, *feed.conductors),
                     {**figures, "rated_a": feed.rated_a}, names, sources=sources,
                     assumed=unstated)
    answer = _cable(feed, full_a, figures, names, sources, survey, profile)
    return replace(answer, assumed=unstated) if isinstance(answer, Fault) else answer


def _full_a(feed: InverterFeed, profile: Profile) -> tuple[float, dict[str, str]] | Missing:
    """Return the current at full power, and what was assumed, by the figure it came from. [A]."""
    assumed = {}
    lowest_v, efficiency = feed.lowest_v, feed.efficiency
    if lowest_v is None and feed.nominal_v is not None:
        lowest_v = feed.nominal_v * profile.value("inverter_lowest_v_ratio")
        assumed[f"{lowest_v:g} V"] = "inverter_lowest_v_ratio"
    if efficiency is None:
        efficiency = profile.value("inverter_efficiency_ratio")
        assumed[f"an efficiency of {efficiency:g}"] = "inverter_efficiency_ratio"
    if feed.rated_w is None or lowest_v is None:
        asked = {"rated_w": feed.rated_w, "min_dc_v": lowest_v}
        return Missing(tuple(f"{feed.inverter}.{name}" for name, value in asked.items()
                             if value is None), (feed.inverter,))
    return round(feed.rated_w / (lowest_v * efficiency), 1), assumed


def _cable(
    feed: InverterFeed, full_a: float, figures: dict[str, float | Sourced],
    names: dict[str, str], sources: tuple[str, ...], survey: Survey, profile: Profile,
) -> Answer:
    ranges = {item: survey.ampacity_range(
        survey.diagram.conductors[item], profile.ampacity_table) for item in feed.conductors}
    thin = {item: r.high_a for item, r in ranges.items()
            if r.high_a is not None and r.high_a < full_a}
    if thin:
        worst = ranges[min(thin, key=lambda item: thin[item])]
        return Fault("cable", (feed.inverter, *thin),
                     {**figures, "ampacity_a": min(thin.values())},
                     {**names, "wire": named(survey.diagram, list(thin))},
                     sources=(*sources, *worst.sources), unverified=not worst.confirmed)
    if feed.unknown:
        return Missing(tuple(f"{item}.rated_a" for item in feed.unknown),
                       (feed.inverter, *feed.unknown))
    unsure = tuple(f"{item}.{field}" for item, r in ranges.items() for field in r.missing
                   if r.low_a is None or r.low_a < full_a)
    return Missing(unsure, (feed.inverter, *feed.conductors)) if unsure else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the next larger device, and conductors that carry it and the full current."""
    feed = next(f for f in inverter_feeds(survey) if f.inverter == finding.where[0])
    if "rated_a" in finding.figures:
        needed_a = finding.figures.get("full_a", finding.figures.get("maker_a", 0.0))
        yield from larger_device(survey, feed.device, needed_a, profile, feed.conductors)
        return
    yield from thicker_all(survey, finding.where[1:], finding.figures["full_a"], profile)
