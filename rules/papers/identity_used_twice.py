"""What it checks.
Whether two things on the drawing have the same number.

Why it matters.
A fault card that says "pull F3" opens the wrong circuit when there are two.

Fails when.
Two parts, two conductors, or a part and a conductor are called the same.

Passes when.
Each name is used once.

Limits.
A positive and a negative conductor of one pair may share a number.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.diagram import Component, Conductor
from model.naming import fresh_id, taken_ids
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import designation

Thing = Component | Conductor


def _same_named(survey: Survey) -> Iterator[tuple[Thing, ...]]:
    """Yield the things that share a name, in the order of the drawing."""
    called: dict[str, list[Thing]] = {}
    diagram = survey.diagram
    things: list[Thing] = [*diagram.components.values(), *diagram.conductors.values()]
    for thing in things:
        called.setdefault(designation(diagram, thing.id).strip().casefold(), []).append(thing)
    yield from (tuple(things) for things in called.values() if len(things) > 1)


RULE = Rule(
    slug="identity_used_twice",
    number="12.7",
    title="Same identity used twice",
    topic="papers",
    severity="fault",
    looks_at="each name that is used more than once",
    subjects=_same_named,
    messages={"twice": "{count_count} things are called {name}: {items}."},
    remedy="Renumber all but one, on the drawing and on the cable.",
    sources=("common_practice",),
    quiet={"pair": "they are the positive and the negative of one pair"},
    fix="always",
)


def check(things: tuple[Thing, ...], survey: Survey, profile: Profile) -> Answer:
    """Judge the things of one name."""
    cores = [thing.cores for thing in things if isinstance(thing, Conductor)]
    if len(cores) == len(things) and sorted(cores) == [("+",), ("-",)]:
        return None
    ids = tuple(in_order(thing.id for thing in things))
    return Fault("twice", ids, {"count_count": len(ids)},
                 {"name": designation(survey.diagram, ids[0]), "items": ", ".join(ids)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the next free numbers for all but the first."""
    diagram = survey.diagram
    things = (*diagram.components, *diagram.conductors)
    used = {designation(diagram, item) for item in things} | taken_ids(diagram)
    free: dict[str, str] = {}
    for item in finding.where[1:]:
        name = designation(diagram, item)
        free[item] = fresh_id(name.rstrip("0123456789 ") or name, used, used)
        used.add(free[item])
    title = "Call " + ", ".join(f"{item} {name}" for item, name in free.items())
    yield Fix(title, "choice", together(diagram, title, *(
        partial(with_fields, title=title, item=item, designation=name)
        for item, name in free.items())))
