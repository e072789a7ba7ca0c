"""What it checks.
The largest current each conductor is asked to carry against what it may carry where it runs.

Why it matters.
Copper that carries too much runs hot for hours; the insulation softens, and in a bundle or a
locker that ends in fire.

Fails when.
The current, in the worst of the usual states, is above the corrected ampacity.

Passes when.
The ampacity covers the current, or it is cranking, or a short run under the maker's own table.

Limits.
The current is solved from what loads, sources and modes state, never summed from ratings. Where
the engine space alone decides, 4.6 speaks. Leads of charging sources belong to 1.11 and 1.13, the
rating of the fuse to 1.4. Conductors in series are one finding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from model.analysis.ampacity_range import AmpacityRange
from model.survey import Survey
from rules.fixing import thicker, together, with_fields
from rules.loading import Loading, case_words, loadings, only_charges, outside, where_it_runs
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, plain_value, size_words

RULE = Rule(
    slug="current_above_ampacity",
    number="4.1",
    title="Conductor carries more than its corrected ampacity",
    topic="conductors",
    severity="danger",
    looks_at="each run of DC conductors in series",
    subjects=lambda survey: survey.runs,
    messages={
        "too_much": "{wire} carries {current_a} with {case}; where it runs it may carry "
                    "{ampacity_a}.",
        "run": "{wire} carries {current_a} with {case}; where it runs it may carry {ampacity_a}. "
               "Too thin in the same run: {others}.",
    },
    remedy="Fit a thicker conductor, split the load or lower the fuse.",
    sources=("abyc_e11", "cfr_conductors", "iso_ampacity"),
    quiet={
        "cranking": "it carries that much only while a starter cranks",
        "maker_table": "a windlass, winch or thruster was wired by its maker's short-time table",
        "engine_space": "the engine space alone decides: 4.6 judges it",
        "class": "its insulation is not admitted in the engine space: 4.6 judges it",
        "charging": "it brings a charging source's current alone: 1.11 and 1.13 judge it",
        "small": "its size is not recorded, and it carries next to nothing",
    },
    figures=("small_current_a",),
    fix="sometimes",
)


def check(run: tuple[str, ...], survey: Survey, profile: Profile) -> Answer:
    """Judge the conductors of one run."""
    answers = [answer for item in run if (answer := _judged(item, survey, profile)) is not None]
    faults = [answer for answer in answers if isinstance(answer, Fault)]
    if faults:
        worst = min(faults, key=lambda fault: plain_value(fault.figures["ampacity_a"]))
        others = [fault.where[0] for fault in faults if fault is not worst]
        names = {**worst.names, "others": named(survey.diagram, others)}
        return replace(worst, message="run" if others else "too_much",
                       where=(worst.where[0], *others), names=names)
    missing = [answer for answer in answers if isinstance(answer, Missing)]
    if not missing:
        return None
    return Missing(tuple(dict.fromkeys(field for one in missing for field in one.fields)),
                   tuple(dict.fromkeys(item for one in missing for item in one.where)))


def _judged(item: str, survey: Survey, profile: Profile) -> Answer:
    wire = survey.diagram.conductors[item]
    here = where_it_runs(wire, survey, profile)
    if here.low_a is None and outside(wire, survey, profile).low_a is not None:
        return None  # its insulation does not suit the engine space: 4.6 judges it
    if here.low_a is None:
        matters = bool(loadings(survey, item, profile.value("small_current_a")))
        fields = tuple(f"{item}.{field}" for field in here.missing)
        return Missing(fields, (item,)) if matters and not only_charges(survey, item) else None
    over = loadings(survey, item, here.low_a)
    if not over or only_charges(survey, item):
        return None
    dry = outside(wire, survey, profile)
    assert dry.low_a is not None
    assert dry.high_a is not None
    # Up to what it may carry outside the engine space decides, and 4.6 says so.
    beyond = [one for one in over if one.current_a > dry.low_a]
    certain = [one for one in beyond if one.current_a > dry.high_a]
    told = next((one for one in certain if not one.asks), None)
    if told is not None:
        return _fault(item, told, here, survey)
    if certain:
        return Missing(certain[0].asks, (item, certain[0].asks[0].partition(".")[0]))
    return Missing(tuple(f"{item}.{field}" for field in dry.missing), (item,)) if beyond else None


def _fault(item: str, loading: Loading, here: AmpacityRange, survey: Survey) -> Fault:
    assert here.high_a is not None
    return Fault(
        "too_much", (item,),
        {"current_a": loading.current_a, "ampacity_a": here.high_a},
        {"wire": named(survey.diagram, [item]), "case": case_words(survey, loading.case)},
        sources=here.sources, unverified=not here.confirmed)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size that carries the current, for the whole run."""
    diagram = survey.diagram
    sizes = {item: thicker(survey, item, profile, carries_a=finding.figures["current_a"])
             for item in finding.where}
    if any(size is None for size in sizes.values()):
        return
    texts = [f"{named(diagram, [item])} by {size_words(size)}"
             for item, size in sizes.items() if size is not None]
    title = f"Replace {', '.join(texts)}"
    makers = [lambda d, item=item, size=size: with_fields(d, title, item, size=size)
              for item, size in sizes.items()]
    yield Fix(title, "choice", together(diagram, title, *makers))
