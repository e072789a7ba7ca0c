"""What it checks.
Conductors in series with nothing but a joint or switches between: whether their sizes are alike.

Why it matters.
The thin one sets what the run may carry, and whoever reads the thick one's print will fuse it by
that.

Fails when.
Two that follow each other differ by more than a few sizes.

Passes when.
The sizes are close, or a fuse or breaker stands at the step, or a busbar with a stud to spare, or
the thin one is the short tail of a load.

Limits.
Where the device before the step is too large for the thin one, 1.3 and 1.4 speak, at a busbar too.
A stud, a terminal block and a bar of two studs that pass one cable on count as joints. Sizes of
different standards are compared by their copper.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.copper import copper_mm2
from model.analysis.protection import NO_DEVICE, UNKNOWN_RATING
from model.analysis.runs import series_pairs
from model.diagram import Conductor
from model.graph import Edge
from model.kinds import kind_of
from model.kinds.distribution import stud_ids
from model.survey import Survey
from model.tables import conductor_sizes
from model.units import area_mm2
from rules.allowance import allowance
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

Step = tuple[tuple[Edge, int], tuple[Edge, int]]


def _steps(survey: Survey) -> Iterator[Step]:
    for step in series_pairs(survey.graph, past_devices=False):
        if all(survey.is_ungrounded(edge) for edge, _ in step) and not _is_at_bar(step, survey):
            yield step


def _is_at_bar(step: Step, survey: Survey) -> bool:
    """Say whether two conductors meet on a busbar that has a stud for a third."""
    part = survey.diagram.components[survey.graph.component_of[step[0][1]]]
    return part.kind == "busbar" and len(stud_ids(part.parameters)) > len(step)


RULE = Rule(
    slug="two_sizes_on_one_run",
    number="4.23",
    title="Two sizes of cable on one run",
    topic="conductors",
    severity="caution",
    looks_at="each two conductors in series with no device, load or branch between",
    subjects=_steps,
    messages={
        "step": "{thin} ({narrow}) goes on from {thick} ({wide}) with no fuse between: "
                "{steps_count} sizes thinner, more than {limit_count}.",
    },
    remedy="Use one size for the run, or fuse the thin one where it begins.",
    sources=("common_practice",),
    quiet={
        "fused": "a fuse or breaker stands at the step",
        "bar": "a busbar with a stud to spare stands at the step: it is made to branch, and 1.3 "
               "and 1.4 judge what protects each conductor on it",
        "return": "it is the negative of an earthed system: 4.8 judges returns",
        "tail": "the thin one is the short end that a load comes with",
        "device": "the device before it is too large for the thin one: 1.3 and 1.4 judge it",
    },
    figures=("size_steps_max_count", "next_size_max_ratio", "short_end_m"),
    fix="always",
)


def check(step: Step, survey: Survey, profile: Profile) -> Answer:
    """Judge where two conductors meet."""
    wires = [survey.diagram.conductors[edge.owner] for edge, _ in step]
    missing = tuple(f"{wire.id}.size" for wire in wires if wire.size is None)
    if missing:
        return Missing(missing, tuple(wire.id for wire in wires))
    (thin_mm2, _, thin), (thick_mm2, _, thick) = sorted(
        (mm2, place, wire) for place, wire in enumerate(wires)
        if (mm2 := copper_mm2(wire)) is not None)
    limit = profile["size_steps_max_count"]
    steps = _steps_between(thin_mm2, thick_mm2, thick)
    if steps <= limit.value or _is_tail(thin, survey, profile) or (
            _is_too_thin_for_its_device(step, thin, survey, profile)):
        return None
    assert thin.size is not None
    assert thick.size is not None
    return Fault(
        "step", (thin.id, thick.id), {"steps_count": steps, "limit_count": limit},
        {"thin": named(survey.diagram, [thin.id]), "narrow": size_words(thin.size),
         "thick": named(survey.diagram, [thick.id]), "wide": size_words(thick.size)})


def _steps_between(thin_mm2: float, thick_mm2: float, thick: Conductor) -> int:
    """Return how many sizes of the thick one's standard lie between, the lower end counted."""
    assert thick.size is not None
    standard = thick.size.standard
    areas = [area_mm2(standard, size.text) for size in conductor_sizes(standard)]
    return sum(thin_mm2 <= area < thick_mm2 for area in areas)


def _is_tail(thin: Conductor, survey: Survey, profile: Profile) -> bool:
    """Say whether the thin one is the short end that a load comes with."""
    is_at_load = any(kind_of(survey.diagram.components[end.component]).role == "load"
                     for end in thin.ends())
    return is_at_load and thin.length_m is not None and (
        thin.length_m <= profile.value("short_end_m"))


def _is_too_thin_for_its_device(
    step: Step, thin: Conductor, survey: Survey, profile: Profile
) -> bool:
    """Say whether the device before the step is too large for the thin one."""
    edge, node = next((edge, node) for edge, node in step if edge.owner == thin.id)
    feed = survey.protection.worst(edge, node)
    if feed is None or feed.rated_a in (NO_DEVICE, UNKNOWN_RATING):
        return False
    return allowance(survey, thin, feed.rated_a, profile).verdict == "exceeded"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the thick one's size for the thin one."""
    thin, thick = finding.where
    model = survey.diagram.conductors[thick]
    assert model.size is not None
    title = f"Replace {named(survey.diagram, [thin])} by {size_words(model.size)}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, thin, size=model.size, parallel_count=model.parallel_count))
