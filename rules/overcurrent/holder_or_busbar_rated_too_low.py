"""What it checks.
Fuse holders against the fuses in them, and positive busbars and studs against the largest device on
them and the current that may flow together.

Why it matters.
A holder or bar carries what the fuse lets through. Rated less, its contacts overheat long before
the fuse opens.

Fails when.
The holder or bar is rated below the device, or below the largest current of the duty cases.

Passes when.
It is rated at least as both.

Limits.
A rating that is not recorded is asked for where a heavy current flows only. The bus of a panel
belongs to 1.24, negative bars to 8.6.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.bars import Bar, bars
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, quantity


def _subjects(survey: Survey) -> Iterator[Component | Bar]:
    yield from (part for part in survey.diagram.components.values() if part.kind == "fuse")
    yield from bars(survey)


RULE = Rule(
    slug="holder_or_busbar_rated_too_low",
    number="1.26",
    title="Fuse holder or busbar rated below the fuse",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse with its holder, each positive busbar, stud and terminal block",
    subjects=_subjects,
    messages={
        "holder": "The holder of {device} is rated {holder_a}, the fuse in it {rated_a}.",
        "bar_device": "{bar} is rated {bar_a}; {device} on it is rated {rated_a}.",
        "bar_current": "{bar} is rated {bar_a}; up to {current_a} flow over it.",
    },
    remedy="Fit a holder or bar rated at least as the fuse and the sum of the currents.",
    sources=("common_practice",),
    quiet={
        "unknown": "the rating is not recorded and no heavy current flows",
    },
    figures=("heavy_circuit_a",),
    fix="always",
)


def check(subject: Component | Bar, survey: Survey, profile: Profile) -> Answer:
    """Judge one holder or bar."""
    if isinstance(subject, Bar):
        return _bar(subject, survey, profile)
    return _holder(subject, survey, profile)


def _holder(fuse: Component, survey: Survey, profile: Profile) -> Answer:
    holder_a, rated_a = fuse.parameters.get("holder_rated_a"), fuse.parameters.get("rated_a")
    if holder_a is None:
        drawn_a = round(survey.drawn_by_loads[fuse.id].current_a, 1)
        heavy = drawn_a > profile.value("heavy_circuit_a")
        return Missing((f"{fuse.id}.holder_rated_a",), (fuse.id,)) if heavy else None
    if rated_a is None:
        return Missing((f"{fuse.id}.rated_a",), (fuse.id,))
    if holder_a >= rated_a:
        return None
    return Fault("holder", (fuse.id,), {"holder_a": holder_a, "rated_a": rated_a},
                 {"device": named(survey.diagram, [fuse.id])})


def _bar(bar: Bar, survey: Survey, profile: Profile) -> Answer:
    current_a = round(bar.current_a, 1)
    if bar.rated_a is None:
        heavy = current_a > profile.value("heavy_circuit_a")
        return Missing((f"{bar.id}.rated_a",), (bar.id,)) if heavy else None
    names = {"bar": named(survey.diagram, [bar.id])}
    if bar.device_a > bar.rated_a:
        return Fault("bar_device", (bar.id, bar.device),
                     {"bar_a": bar.rated_a, "rated_a": bar.device_a},
                     {**names, "device": named(survey.diagram, [bar.device])})
    if current_a > bar.rated_a:
        return Fault("bar_current", (bar.id,),
                     {"bar_a": bar.rated_a, "current_a": current_a}, names)
    return None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a holder or bar rated as needed."""
    item = finding.where[0]
    needed_a = finding.figures.get("rated_a", finding.figures.get("current_a", 0.0))
    field = "holder_rated_a" if "holder_a" in finding.figures else "rated_a"
    what = "a holder" if field == "holder_rated_a" else "a bar"
    amperes = quantity("a", needed_a, survey.diagram)
    title = f"Fit {what} of {amperes} for {named(survey.diagram, [item])}"
    if field == "rated_a":
        title = f"Fit {what} of {amperes} as {named(survey.diagram, [item])}"
    yield Fix(title, "mechanical",
              with_fields(survey.diagram, title, item, **{field: needed_a}))
