"""What it checks.
Solar arrays of several strings in parallel, whether each string has a fuse.

Why it matters.
When one string is shorted or shaded by a fault, all the others drive their current back through
it, and its thin wires and the panels themselves were never made for that.

Fails when.
Three strings or more lie in parallel, or the others together give more than a panel stands, and
the strings have no device each.

Passes when.
Each string has its own fuse.

Limits.
Whether a fuse is above the panel's stated maximum is not looked at. Blocking diodes do not take the
place of fuses.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.solar_strings import Strings, solar_strings
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.fixing import inserted, together, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="solar_strings_without_fuses",
    number="1.22",
    title="Three or more solar strings in parallel without string fuses",
    topic="overcurrent",
    severity="fault",
    looks_at="each group of solar arrays joined side by side",
    subjects=lambda survey: solar_strings(survey.graph),
    messages={
        "many": "{arrays}: {strings_count} strings lie in parallel with no fuse each.",
        "backward": "{arrays}: the other strings drive up to {back_a} back through one of them; "
                    "its panels stand a fuse of {most_a} at most.",
    },
    remedy="Fit a fuse for each string in the combining box, not above the panel's stated maximum.",
    sources=("panel_makers", "common_practice"),
    quiet={
        "few": "there are one or two strings",
        "fused": "each string has a fuse of its own",
    },
    figures=("solar_strings_min_count", "string_fuse_ratio"),
    fix="sometimes",
)


def check(strings: Strings, survey: Survey, profile: Profile) -> Answer:
    """Judge one group of strings side by side."""
    names = {"arrays": named(survey.diagram, strings.arrays)}
    if strings.unfused_count >= profile.value("solar_strings_min_count"):
        return Fault("many", strings.arrays, {"strings_count": strings.unfused_count}, names)
    back_a = strings.back_a
    if back_a is not None and strings.most_a is not None and back_a > strings.most_a:
        return Fault("backward", strings.arrays,
                     {"back_a": back_a, "most_a": strings.most_a}, names)
    if strings.unsaid and strings.all_count >= profile.value("solar_strings_min_count"):
        return Missing(tuple(f"{item}.string_fuses" for item in strings.unsaid), strings.arrays)
    return None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse for each string: in the leads of arrays drawn singly, else inside the array."""
    strings = next(s for s in solar_strings(survey.graph) if s.arrays == finding.where)
    diagram = survey.diagram
    title = f"Fit a fuse for each string of {named(diagram, strings.arrays)}"
    rated_a = _string_fuse_a(strings, profile)
    steps = []
    for item in strings.arrays:
        if diagram.components[item].parameters.get("parallel_count", 1) > 1:
            steps.append(partial(with_fields, title=title, item=item, string_fuses="each"))
        lead = next((wire.id for wire in diagram.conductors.values() for end in wire.ends()
                     if (end.component, end.terminal) == (item, "+")), None)
        if len(strings.arrays) > 1 and lead is not None:
            steps.append(partial(
                inserted, title=title, conductor=lead, at=f"{item}.+", kind="fuse",
                length_m=diagram.conductors[lead].length_m or 0.0, rated_a=rated_a))
    if steps:
        yield Fix(title, "mechanical", together(diagram, title, *steps))


def _string_fuse_a(strings: Strings, profile: Profile) -> float | None:
    """Return the smallest rating that carries a string's current, within its maximum. [A]."""
    if strings.isc_a is None:
        return None
    least_a = strings.isc_a * profile.value("string_fuse_ratio")
    most_a = strings.most_a or max(standard_device_ratings_a())
    return next((r for r in standard_device_ratings_a() if least_a <= r <= most_a), None)
