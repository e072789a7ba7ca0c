"""What it checks.
The recorded length of each conductor against the boat and against the distance it has to cover.

Why it matters.
Voltage drop, fault currents and the place of fuses are counted from lengths. A wrong one makes all
of these wrong without a word.

Fails when.
A length is zero, longer than any cable aboard could be, shorter than the straight distance between
its ends, or not recorded.

Passes when.
It is plausible, or marked as estimated. On a device bolted to a battery's post zero is right.

Limits.
Without the boat's length, or a distance between the places, these are not judged. Conductors with
no length are one finding; those for AC, signals and bonding are not asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import permutations

from model.analysis.runs import is_dc_power
from model.diagram import Conductor
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Rule
from rules.tracing import untraced
from rules.wording import named

Unmeasured = tuple[str, ...]


def _subjects(survey: Survey) -> Iterator[Conductor | Unmeasured]:
    wires, lost = survey.diagram.conductors, untraced(survey.diagram)
    yield from (wire for wire in wires.values() if wire.length_m is not None)
    unmeasured = in_order(
        edge.owner for edge in survey.graph.edges
        if is_dc_power(survey.graph, edge) and wires[edge.owner].length_m is None
        and edge.owner not in lost)
    if unmeasured:
        yield tuple(unmeasured)


RULE = Rule(
    slug="impossible_length",
    number="4.18",
    title="Impossible length",
    topic="conductors",
    severity="note",
    looks_at="each conductor with a length, and all DC power conductors without one",
    subjects=_subjects,
    messages={
        "zero": "The length of {wire} is recorded as zero.",
        "long": "{wire} is recorded as {length_m} long, more than {limit_m}: {most_ratio} times "
                "the boat's length.",
        "straight": "{wire} is recorded as {length_m} long; its ends are {limit_m} apart.",
        "missing": "No length is recorded for {wires}; checks of voltage drop and of the place of "
                   "fuses pass over them.",
    },
    remedy="Measure along the cable.",
    sources=("common_practice",),
    quiet={
        "assumed": "the length is marked as estimated",
        "untraced": "it is a conductor that is still being traced",
        "post": "it is a device bolted on a battery's post",
    },
    figures=("boat_lengths_max_ratio",),
)


def check(subject: Conductor | Unmeasured, survey: Survey, profile: Profile) -> Answer:
    """Judge one length, or name those that are missing."""
    if isinstance(subject, tuple):
        return Fault("missing", subject, {}, {"wires": named(survey.diagram, subject)})
    wire, length_m = subject, subject.length_m
    assert length_m is not None
    if wire.known.get("length_m") == "estimated":
        return None
    if length_m == 0:
        return None if _is_on_post(wire, survey) else _fault("zero", wire, survey)
    boat_m = survey.diagram.boat.length_m
    most = profile["boat_lengths_max_ratio"]
    longest_m = None if boat_m is None else boat_m * most.value
    if longest_m is not None and length_m > longest_m:
        return _fault("long", wire, survey, length_m=length_m, limit_m=longest_m, most_ratio=most)
    apart_m = _apart_m(wire, survey)
    if apart_m is not None and length_m < apart_m:
        return _fault("straight", wire, survey, length_m=length_m, limit_m=apart_m)
    return None


def _fault(message: str, wire: Conductor, survey: Survey, **figures: float | Figure) -> Fault:
    return Fault(message, (wire.id,), figures, {"wire": named(survey.diagram, [wire.id])})


def _is_on_post(wire: Conductor, survey: Survey) -> bool:
    """Say whether one end is a device bolted on the post of the battery at the other."""
    parts = [survey.diagram.components[end.component] for end in wire.ends()]
    return any(part.parameters.get("on_post") is True or part.mounted_on == other.id
               for part, other in (parts, parts[::-1]))


def _apart_m(wire: Conductor, survey: Survey) -> float | None:
    """Return how far apart the places of a conductor's ends are, if that is recorded. [m]"""
    places = survey.diagram.places
    ends = [survey.diagram.components[end.component].place for end in wire.ends()]
    known = [place for place in ends if place is not None]
    for here, there in permutations(known, len(ends)):
        if there in places[here].distance_to_m:
            return places[here].distance_to_m[there]
    return None
