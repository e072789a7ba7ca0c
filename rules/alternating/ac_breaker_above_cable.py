"""What it checks.
Each AC breaker against the cable behind it.

Why it matters.
A cable that carries more than it bears gets hot behind the lining for hours before anybody smells
it.

Fails when.
The breaker is rated above what the cable carries where it runs, and above the next standard size
where the rule set allows that.

Passes when.
It is not.

Limits.
The cable is followed to the next device or part. Unknown sizes are asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import first_devices, live_devices, load_ends
from model.graph import Edge
from model.survey import Survey
from rules.allowance import next_standard_a
from rules.fixing import with_fields
from rules.new_device import largest_rating_a, thicker_all
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Guarded:
    """An AC device and the cables behind it up to the next devices."""

    edge: Edge
    cables: tuple[str, ...]


def _guarded(survey: Survey) -> Iterator[Guarded]:
    graph = survey.graph
    for edge in live_devices(graph):
        cables = {wire for end in load_ends(graph, edge) for first in first_devices(graph, end)
                  for wire in first.conductors}
        if cables:
            yield Guarded(edge, tuple(in_order(cables)))


RULE = Rule(
    slug="ac_breaker_above_cable",
    number="9.9",
    title="AC breaker larger than its cable",
    topic="alternating",
    severity="danger",
    looks_at="each AC breaker",
    subjects=_guarded,
    messages={"above": "{device} is rated {rated_a}; {cable} behind it carries {ampacity_a}."},
    remedy="Fit a smaller breaker or a thicker cable.",
    sources=("iso_ac", "abyc_e11"),
    quiet={"next_size": "it is the next standard size and within the rule set's margin"},
    figures=("ac_next_size_max_ratio",),
    fix="always",
)


def check(guarded: Guarded, survey: Survey, profile: Profile) -> Answer:
    """Judge one breaker by its thinnest cable."""
    where = (guarded.edge.item, *guarded.cables)
    rated_a = guarded.edge.device.get("rated_a")
    if rated_a is None:
        return Missing((f"{guarded.edge.item}.rated_a",), where)
    ranges = {item: survey.ampacity_range(survey.diagram.conductors[item], profile.ampacity_table)
              for item in guarded.cables}
    thin = {item: r.high_a for item, r in ranges.items()
            if r.high_a is not None and _allowed_a(r.high_a, profile) < rated_a}
    if thin:
        worst, *others = sorted(thin, key=lambda item: thin[item])
        return Fault("above", (guarded.edge.item, worst, *others),
                     {"rated_a": rated_a, "ampacity_a": round(thin[worst], 1)},
                     {"device": named(survey.diagram, [guarded.edge.item]),
                      "cable": named(survey.diagram, [worst])},
                     sources=ranges[worst].sources, unverified=not ranges[worst].confirmed)
    asked = tuple(f"{item}.{field}" for item, r in ranges.items() for field in r.missing
                  if r.low_a is None or _allowed_a(r.low_a, profile) < rated_a)
    return Missing(asked, where) if asked else None


def _allowed_a(ampacity_a: float, profile: Profile) -> float:
    """Return the largest device a cable of an ampacity may have. [A]."""
    ratio = profile.value("ac_next_size_max_ratio")
    return max(ampacity_a, min(next_standard_a(ampacity_a), ratio * ampacity_a))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the breaker that suits the cable, and the cable that suits the breaker."""
    diagram, (device, *thin) = survey.diagram, finding.where
    smaller_a = largest_rating_a(_allowed_a(finding.figures["ampacity_a"], profile))
    if smaller_a:
        title = f"Fit {smaller_a:g} A as {named(diagram, [device])}"
        yield Fix(title, "choice", with_fields(diagram, title, device, rated_a=smaller_a))
    yield from thicker_all(survey, tuple(thin), finding.figures["rated_a"], profile, "choice")
