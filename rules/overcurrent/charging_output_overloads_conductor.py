"""What it checks.
The conductors at the output of each charging source against the most it can give.

Why it matters.
A source that limits itself cannot blow a fuse. If it gives more than its own conductor carries,
that conductor runs hot for hours at a time.

Fails when.
The conductor carries less than the output and no device stands near the source.

Passes when.
The conductor carries the full output, or a device near the source guards it.

Limits.
The battery's end of such a lead belongs to 1.10 and 1.12. The DC side of inverter-chargers belongs
to 1.25.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.ways import series_from
from model.survey import Survey
from rules.charging_output import Output, outputs
from rules.fixing import thicker, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="charging_output_overloads_conductor",
    number="1.11",
    title="Charging source not protected against its own output",
    topic="overcurrent",
    severity="caution",
    looks_at="each output of a charging source",
    subjects=lambda survey: outputs(survey.diagram),
    messages={
        "overloads": "{source} gives up to {output_a}; {wire} at its output carries "
                     "{ampacity_a}, and no device stands within {limit_m} of it.",
    },
    remedy="Fit a larger conductor, or a device at the source rated for its full output.",
    sources=("iso_charging", "common_practice"),
    quiet={
        "carries": "the source limits itself and the conductor carries its output",
        "device": "a device stands near the source",
        "unused": "nothing is connected to the output",
    },
    figures=("source_device_max_m",),
    fix="sometimes",
)


def check(output: Output, survey: Survey, profile: Profile) -> Answer:
    """Judge the conductors in series from one output."""
    conductors, stop = series_from(survey.graph, survey.graph.number[output.terminal])
    if not conductors:
        return None
    wires = [survey.diagram.conductors[item] for item in conductors]
    limit = profile["source_device_max_m"]
    unmeasured = tuple(f"{wire.id}.length_m" for wire in wires if wire.length_m is None)
    known_m = sum(wire.length_m for wire in wires if wire.length_m is not None)
    may_be_near = _is_device(stop, survey) and known_m <= limit.value
    if may_be_near and not unmeasured:
        return None
    where = (*conductors, output.source)
    if output.amperes is None:
        return Missing(output.missing, (output.source, *conductors))
    ranges = {wire.id: survey.ampacity_range(wire, profile.ampacity_table) for wire in wires}
    thin = [(r.high_a, item) for item, r in ranges.items()
            if r.high_a is not None and r.high_a < output.amperes]
    if thin and may_be_near:
        return Missing(unmeasured, where)
    if thin:
        ampacity_a, weakest = min(thin)
        return Fault("overloads", (weakest, output.source), {
            "output_a": output.amperes, "ampacity_a": ampacity_a, "limit_m": limit,
        }, {"source": named(survey.diagram, [output.source]),
            "wire": named(survey.diagram, [weakest])},
            sources=ranges[weakest].sources, unverified=not ranges[weakest].confirmed)
    unsure = tuple(f"{item}.{field}" for item, r in ranges.items() for field in r.missing
                   if r.low_a is None or r.low_a < output.amperes)
    return Missing(unsure, where) if unsure else None


def _is_device(item: str, survey: Survey) -> bool:
    part = survey.diagram.components.get(item)
    return part is not None and part.kind in ("fuse", "breaker", "panel", "fuse_block")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a conductor that carries the full output."""
    wire = finding.where[0]
    size = thicker(survey, wire, profile, carries_a=finding.figures["output_a"])
    if size is not None:
        title = f"Replace {named(survey.diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "mechanical", with_fields(survey.diagram, title, wire, size=size))
