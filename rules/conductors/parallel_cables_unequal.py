"""What it checks.
Conductors side by side between the same two points: their sizes and lengths.

Why it matters.
Current divides by resistance. The shorter or thicker cable takes more than its share, and the pair
carries less than both were bought for.

Fails when.
They differ in size, or in length by more than a few percent.

Passes when.
They are equal, or they are separate circuits that only look parallel.

Limits.
Points are one when they lie on one bar or stud. Cables drawn as one line with a count are taken to
be equal. Sense, data, control and bonding conductors beside a power cable are no parallel cables.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.copper import copper_mm2
from model.analysis.parallel import ParallelCables
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="parallel_cables_unequal",
    number="4.15",
    title="Parallel cables unequal",
    topic="conductors",
    severity="caution",
    looks_at="each set of power conductors side by side between the same two points",
    subjects=lambda survey: survey.parallel_cables,
    messages={
        "sizes": "{wires} lie side by side and differ in size: {thin_mm2} and {thick_mm2}.",
        "lengths": "{wires} lie side by side and differ in length by {apart_percent}: {short_m} "
                   "and {long_m}. At most {limit_percent} leaves the current well divided.",
    },
    remedy="Use equal sizes and equal lengths.",
    sources=("common_practice",),
    quiet={
        "separate": "they are separate circuits that only look parallel",
        "zero": "a length is recorded as zero: 4.18 judges it",
    },
    figures=("parallel_length_max_percent",),
    fix="sometimes",
)


def check(cables: ParallelCables, survey: Survey, profile: Profile) -> Answer:
    """Judge one set."""
    wires = [survey.diagram.conductors[item] for item in cables.conductors]
    names = {"wires": named(survey.diagram, cables.conductors)}
    known = [round(area, 3) for wire in wires if (area := copper_mm2(wire)) is not None]
    if len(set(known)) > 1:
        return Fault("sizes", cables.conductors,
                     {"thin_mm2": min(known), "thick_mm2": max(known)}, names)
    lengths = [wire.length_m for wire in wires if wire.length_m is not None]
    limit = profile["parallel_length_max_percent"]
    if lengths and min(lengths) > 0:
        apart = round(100 * (max(lengths) / min(lengths) - 1), 1)
        if apart > limit.value:
            return Fault("lengths", cables.conductors,
                         {"apart_percent": apart, "short_m": min(lengths),
                          "long_m": max(lengths), "limit_percent": limit}, names)
    missing = (*(f"{wire.id}.size" for wire in wires if wire.size is None),
               *(f"{wire.id}.length_m" for wire in wires if wire.length_m is None))
    return Missing(missing, cables.conductors) if missing else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to make all of them as thick as the thickest and as long as the longest."""
    diagram = survey.diagram
    wires = [diagram.conductors[item] for item in finding.where]
    model = max(wires, key=lambda wire: copper_mm2(wire) or 0.0)
    lengths = [wire.length_m for wire in wires if wire.length_m is not None]
    if model.size is None or not lengths:
        return
    title = (f"Make {named(diagram, finding.where)} equal: {size_words(model.size)}, "
             f"{max(lengths):g} m")
    makers = [lambda d, item=item: with_fields(
        d, title, item, size=model.size, parallel_count=model.parallel_count,
        length_m=max(lengths)) for item in finding.where]
    yield Fix(title, "choice", together(diagram, title, *makers))
