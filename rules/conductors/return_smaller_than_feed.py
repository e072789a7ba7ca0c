"""What it checks.
The negative return of each load and panel, where it is drawn, against the device that protects its
feed.

Why it matters.
The return carries the same current as the feed, and the same fault. A thin one burns while the
fuse, sized to the feed, holds.

Fails when.
The return's ampacity is below what the feed's device asks of a conductor; or the system's returns
are drawn and this one is missing. A battery's is missing too where it ends at the battery's own
shunt or switch, and so is an array's or a charger's.

Passes when.
The return is as heavy as the feed, or suits the device. A common return suits when it carries the
sum of what it serves.

Limits.
Where returns are not drawn they mirror the feed and are not judged. A cable with both cores has
two of one size. The negative bus itself belongs to 8.6, a feed that is too thin to 1.4, what
nothing feeds to 4.25, negatives that are drawn and lead to no battery to 4.27.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.copper import copper_mm2
from model.analysis.drawn_returns import GIVING, Return
from model.analysis.taps import Guard
from model.diagram import Conductor
from model.survey import Survey
from rules.allowance import allowance
from rules.fixing import connected, negative_home, thicker, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="return_smaller_than_feed",
    number="4.8",
    title="Negative return missing or smaller than its feed",
    topic="conductors",
    severity="fault",
    looks_at="each load and panel whose negative is drawn or has to be, and that of each battery, "
             "array and charger",
    subjects=lambda survey: survey.drawn_returns,
    messages={
        "thin": "{wire}, the return of {item}, may carry {ampacity_a}; {device} protects the feed "
                "with {rated_a}.",
        "missing": "{item} is fed by {feed} and has no return: nothing is connected to its "
                   "negative.",
        "gives": "What {item} gives by {feed} has no way back: nothing is connected to its "
                 "negative.",
        "ends": "What {item} gives by {feed} has no way back: its negative ends at {end}.",
    },
    remedy="Fit a return as heavy as the feed.",
    sources=("abyc_e11", "common_practice"),
    quiet={
        "common": "it is a common return that carries the sum of what it serves",
        "case": "the part is mounted on the engine and returns through the block",
        "suits": "it suits the device, although it is thinner than the feed",
        "feed": "the feed is no thicker: 1.4 judges the device",
        "coil": "its minus serves a relay's coil alone",
        "unguarded": "nothing protects the feed: 1.1 judges it",
        "stored": "it is in store",
        "unfed": "nothing feeds it: 4.25 names it",
    },
    figures=("next_size_max_ratio",),
    fix="sometimes",
)


def check(back: Return, survey: Survey, profile: Profile) -> Answer:
    """Judge one return."""
    names = {"item": named(survey.diagram, [back.item]), "feed": named(survey.diagram, [back.feed])}
    if back.is_missing:
        end = back.terminal.partition(".")[0]
        if end != back.item:
            return Fault("ends", (back.item, back.feed, end), {}, {
                **names, "end": named(survey.diagram, [end])})
        gives = survey.diagram.components[back.item].kind in GIVING
        return Fault("gives" if gives else "missing", (back.item, back.feed), {}, names)
    feed = survey.diagram.conductors[back.feed]
    wires = [survey.diagram.conductors[item] for item in back.conductors]
    thinner = [wire for wire in wires if _is_thinner(wire, feed)]
    guard = _guard(back.feed, survey)
    if not thinner or guard is None:
        return None
    ratings = Missing(tuple(f"{item}.rated_a" for item in guard.unknown),
                      (back.item, *guard.unknown))
    if guard.rated_a is None:
        return ratings
    rated_a = min(guard.rated_a, _served_a(back.item, survey))
    suits = [allowance(survey, wire, rated_a, profile) for wire in thinner]
    bad = next((one for one in suits if one.verdict == "exceeded"), None)
    if bad is not None and guard.unknown:
        return ratings
    if bad is not None:
        return Fault(
            "thin", (bad.conductor, back.item, guard.device),
            {"ampacity_a": bad.ampacity_a, "rated_a": rated_a},
            {**names, "wire": named(survey.diagram, [bad.conductor]),
             "device": named(survey.diagram, [guard.device])},
            sources=bad.ampacity.sources, unverified=not bad.ampacity.confirmed)
    unsure = next((one for one in suits if one.verdict == "unknown"), None)
    return None if unsure is None else Missing(unsure.missing, (unsure.conductor, back.item))


def _guard(feed: str, survey: Survey) -> Guard | None:
    """Return the device that guards a feed; one that none guards belongs to 1.1."""
    every = (*survey.circuits, *survey.taps)
    return next((circuit.guard for circuit in every if feed in circuit.chain), None)


def _is_thinner(wire: Conductor, feed: Conductor) -> bool:
    """Say whether a return has less copper than its feed; unknown sizes have to be judged."""
    own, fed = copper_mm2(wire), copper_mm2(feed)
    return own is None or fed is None or own < fed


def _served_a(item: str, survey: Survey) -> float:
    """Return the sum of the devices a panel serves, endless for what has no ways. [A]"""
    ways = survey.diagram.components[item].parameters.get("ways")
    return float(sum(way.get("rated_a", math.inf) for way in ways)) if ways else math.inf


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the thicker return, or the missing one beside the feed; of an array none."""
    diagram = survey.diagram
    if finding.message_id == "thin":
        wire = finding.where[0]
        size = thicker(survey, wire, profile, carries_a=finding.figures["rated_a"])
        if size is not None:
            title = f"Replace {named(diagram, [wire])} by {size_words(size)}"
            yield Fix(title, "choice", with_fields(diagram, title, wire, size=size))
        return
    item, feed = finding.where[:2]
    if diagram.components[item].kind in ("solar_array", "wind_generator"):
        return  # its negative goes to its controller, wherever that is to be fitted
    home = negative_home(survey, item, diagram.conductors[feed])
    terminal = next((back.terminal for back in survey.drawn_returns
                     if back.is_missing and back.item == item), None)
    if home is not None and terminal is not None:
        title = f"Add the negative of {named(diagram, [item])}, to {home}"
        yield Fix(title, "mechanical",
                  connected(diagram, title, terminal, home, **_mirrored(feed, survey)))


def _mirrored(feed: str, survey: Survey) -> dict[str, object]:
    """Return the fields of a return beside a feed: as heavy, and as long as its whole run."""
    run = next((run for run in survey.runs if feed in run), (feed,))
    lengths = [survey.diagram.conductors[item].length_m for item in run]
    known = [length for length in lengths if length is not None]
    wire = survey.diagram.conductors[feed]
    return {"cores": ("-",), "colour": "yellow", "size": wire.size,
            "parallel_count": wire.parallel_count, "insulation_c": wire.insulation_c,
            "engine_space_m": wire.engine_space_m,
            "length_m": round(sum(known), 3) if len(known) == len(lengths) else None,
            "known": {"length_m": "estimated"}}
