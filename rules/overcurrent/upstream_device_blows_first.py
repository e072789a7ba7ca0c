"""What it checks.
Each fuse and breaker against the devices behind it of the same type.

Why it matters.
A fault in one circuit should cost that circuit alone. Where the device before it is hardly larger,
the whole panel goes dark with it.

Fails when.
The device before is rated less than the margin above the largest device of its type behind it.

Passes when.
It has that margin, or the two are of different types or speeds.

Limits.
Devices of charging sources, and those at the far end of a link between batteries, are not counted.
Between unlike types only the makers' curves tell.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from model.analysis.fed_by import fed_without
from model.graph import Edge
from model.survey import Survey
from rules.fixing import with_fields
from rules.new_device import larger_device, largest_rating_a
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class _Pair:
    """A device and the next ones behind it that feed loads and are of its type."""

    before: Edge
    behind: tuple[Edge, ...]


def _pairs(survey: Survey) -> Iterator[_Pair]:
    devices = {edge.item: edge for edge in survey.graph.edges if edge.role == "overcurrent"}
    behind: dict[str, dict[str, Edge]] = {}
    for circuit in survey.circuits:
        for end in circuit.ends:
            feeds = end.behind.loads | end.behind.converters
            if feeds and _same_type(
                    devices[circuit.at], devices[end.item], survey) and not fed_without(
                    survey.graph, devices[end.item], devices[circuit.at]):
                behind.setdefault(circuit.at, {})[end.item] = devices[end.item]
    yield from (_Pair(devices[item], tuple(found.values())) for item, found in behind.items())


def _same_type(one: Edge, other: Edge, survey: Survey) -> bool:
    if _sort(one, survey) != _sort(other, survey):
        return False
    for field in ("speed", "trip"):
        told = {one.device.get(field), other.device.get(field)} - {None}
        if len(told) > 1:
            return False
    return True


def _sort(edge: Edge, survey: Survey) -> Any:
    kind = survey.diagram.components[edge.owner].kind
    if kind in ("fuse", "breaker"):
        return kind
    return "breaker" if edge.device.get("device") == "breaker" else "fuse"


RULE = Rule(
    slug="upstream_device_blows_first",
    number="1.20",
    title="Upstream fuse blows before the branch fuse",
    topic="overcurrent",
    severity="caution",
    looks_at="each fuse and breaker with the next ones of its type behind it",
    subjects=_pairs,
    messages={
        "close": "{before} of {rated_a} stands before {behind} of {behind_a}; at least {least_a} "
                 "is needed so that {behind} opens first.",
    },
    remedy="Fit a larger feeder, or a smaller branch device.",
    sources=("common_practice",),
    quiet={
        "unlike": "the two are of different types or speeds",
        "own_source": "the one behind is fed by a battery of its own as things usually stand",
        "itself": "a wire round the device leads back to it alone",
    },
    figures=("selective_min_ratio",),
    fix="sometimes",
)


def check(pair: _Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the largest behind it."""
    rated_a = pair.before.device.get("rated_a")
    known = {edge.item: float(edge.device["rated_a"]) for edge in pair.behind
             if edge.device.get("rated_a") is not None}
    where = (pair.before.item, *(edge.item for edge in pair.behind))
    if rated_a is None:
        return Missing((f"{pair.before.item}.rated_a",), where)
    behind_a, largest = max(((amperes, item) for item, amperes in known.items()),
                            default=(0.0, ""))
    least_a = round(behind_a * profile.value("selective_min_ratio"), 2)
    if rated_a < least_a:
        return Fault("close", (pair.before.item, largest), {
            "rated_a": rated_a, "behind_a": behind_a, "least_a": least_a,
        }, {"before": named(survey.diagram, [pair.before.item]),
            "behind": named(survey.diagram, [largest])})
    unknown = tuple(f"{edge.item}.rated_a" for edge in pair.behind if edge.item not in known)
    return Missing(unknown, where) if unknown else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a larger device before, or a smaller one behind where its loads allow that."""
    before, behind = finding.where
    yield from larger_device(survey, before, finding.figures["least_a"], profile)
    most_a = largest_rating_a(finding.figures["rated_a"] / profile.value("selective_min_ratio"))
    drawn = survey.drawn_by_loads.get(behind)
    if most_a and drawn is not None and round(drawn.current_a, 2) <= most_a:
        title = f"Fit {most_a:g} A as {named(survey.diagram, [behind])}"
        yield Fix(title, "choice", with_fields(survey.diagram, title, behind, rated_a=most_a))
