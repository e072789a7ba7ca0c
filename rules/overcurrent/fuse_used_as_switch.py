"""What it checks.
Loads that can be turned off in one way only: by pulling a fuse.

Why it matters.
A fuse pulled every day wears its holder until the contact runs hot, and in a hurry nobody finds it.

Fails when.
A load is recorded as having no switch of its own, and between it and its fuse there is no switch or
breaker.

Passes when.
The load has a switch built in, or a switch or breaker stands in its circuit.

Limits.
A load of which it is not recorded whether it has a switch is not asked about: nearly all have one.
A battery switch is no load's own.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_switches import Pulled, pulled
from model.survey import Survey
from rules.always_on import is_always_on
from rules.fixing import inserted
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="fuse_used_as_switch",
    number="1.27",
    title="Fuse used as the everyday switch",
    topic="overcurrent",
    severity="caution",
    looks_at="each load that is recorded as having no switch of its own",
    subjects=lambda survey: pulled(survey.graph),
    messages={
        "pulled": "{load} has no switch of its own; it is turned off by pulling {fuse}.",
    },
    remedy="Add a switch, or a breaker made for switching.",
    sources=("surveyors", "common_practice"),
    quiet={
        "always_on": "it is an always-on safety circuit",
        "own_switch": "the load has a switch built in",
        "switched": "a switch or breaker stands in its circuit",
    },
    fix="sometimes",
)


def check(load: Pulled, survey: Survey, profile: Profile) -> Answer:
    """Judge one load by what stands in its circuit."""
    if not load.fuse:
        return None
    always_on = is_always_on(survey.diagram.components[load.load])
    if always_on is None:
        return Missing((f"{load.load}.role",), (load.load,))
    if always_on:
        return None
    return Fault("pulled", (load.load, load.fuse), {}, {
        "load": named(survey.diagram, [load.load]), "fuse": named(survey.diagram, [load.fuse])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a switch in the conductor that arrives at the load."""
    load = finding.where[0]
    wire, end = next(((wire, end) for wire in survey.diagram.conductors.values()
                      for end in wire.ends() if (end.component, end.terminal) == (load, "+")),
                     (None, None))
    if wire is not None and end is not None:
        title = f"Fit a switch before {named(survey.diagram, [load])}"
        yield Fix(title, "mechanical", inserted(
            survey.diagram, title, wire.id, f"{load}.+", "load_switch",
            (wire.length_m or 0.0) / 2))
