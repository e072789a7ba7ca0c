"""What it checks.
Whether each switch and each way of a panel has a name, and each selector the meaning of its
positions.

Why it matters.
Whoever stands before the switches in smoke has seconds. "Q3" or a worn "1-2-BOTH" tells them
nothing.

Fails when.
A switch has neither a name nor a note of what it kills, a way of a panel has no label, or what the
positions of a selector mean is not written down.

Passes when.
All are named by what they kill.

Limits.
Stored switches are not judged. Loose fuses and breakers are found by the list of fuses and need no
name here.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from model.diagram import Component
from model.kinds import kind_of
from model.kinds.distribution import panel_ways
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.switch_names import switch_named, ways_named, with_labels
from rules.wording import designation, named

RULE = Rule(
    slug="switch_without_name",
    number="12.3",
    title="Switch without name and meaning of each position",
    topic="papers",
    severity="caution",
    looks_at="all switches and ways of panels together",
    subjects=lambda survey: [survey.diagram],
    messages={"nameless": "Without a name, or without the meaning of its positions: {switches}."},
    remedy="Name it by what it kills, and write down what each position does.",
    sources=("abyc_e11",),
    quiet={"spare": "the way is marked as spare"},
    fix="sometimes",
)

FEW = 3
"""So many names are told in a title."""


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge all switches at once: they are one job with a label printer."""
    parts = [part for part in survey.diagram.components.values() if part.stored is not True]
    found = in_order(item for part in parts for item in _nameless(part))
    return Fault("nameless", tuple(found), {}, {"switches": named(survey.diagram, found)}) if (
        found) else None


def _nameless(part: Component) -> Iterator[str]:
    kind = kind_of(part)
    if kind.field("ways") is not None:
        for way in panel_ways(part.parameters, part.kind):
            if not way.get("label") and way.get("spare") is not True:
                yield f"{part.id}.{way['id']}"
    elif kind.role == "switch" and any(h.manual for h in kind.handles(part.parameters)):
        unnamed = not part.name and not part.parameters.get("kills")
        if unnamed or (kind.field("position_names") is not None
                       and not part.parameters.get("position_names")):
            yield part.id


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the names that the drawing gives: what a way feeds, what a switch kills or joins."""
    diagram = survey.diagram
    words: dict[str, str] = {}
    steps: list[Any] = []
    for item in dict.fromkeys(item.partition(".")[0] for item in finding.where):
        part = diagram.components[item]
        if kind_of(part).field("ways") is not None:
            labels = ways_named(survey, part)
            words |= {f"{item}.{way}": label for way, label in labels.items()}
            fields: dict[str, Any] = {"ways": with_labels(part, labels)}
        else:
            fields = dict(switch_named(survey, part))
            words |= {item: "; ".join(fields.values())} if fields else {}
        steps.append(partial(with_fields, item=item, **fields))
    if set(words) == set(finding.where):
        told = [f"{designation(diagram, item)} \"{text}\"" for item, text in words.items()]
        title = f"Name {', '.join(told[:FEW])}"
        if len(told) > FEW:
            title = f"{title} and {len(told) - FEW} more as drawn"
        yield Fix(title, "choice", together(diagram, title, *(
            partial(step, title=title) for step in steps)))
