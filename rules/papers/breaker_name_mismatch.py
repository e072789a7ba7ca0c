"""What it checks.
The label of each way of a panel against the names of what it feeds.

Why it matters.
Refits move wires and leave labels. Then "Anchor light" switches the bilge pump off.

Fails when.
The label has no word in common with the name, the kind or the purpose of anything it feeds.

Passes when.
It has one.

Limits.
Words count as the same when one begins with the first letters of the other ("Nav" and
"Navigation"). What a converter on the way feeds counts; where another supply feeds too, the way
ends. Ways without a label are named by 12.3, ways that feed nothing drawn are not judged.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from model.kinds import kind_of
from model.kinds.distribution import panel_ways
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.way_labels import label_of, loads_of_ways
from rules.wording import named

# What the trade also calls things that have another title here.
ALSO = {"lamp": "light", "navigation_light": "nav lamp anchor steaming tricolour",
        "refrigerator": "fridge freezer cooler", "radio": "vhf ssb ais stereo",
        "instrument": "plotter sounder log wind depth radar gps", "autopilot": "pilot",
        "pump": "water shower", "heater": "heating",
        "socket": "usb outlet 12v"}
STEM = 3
"""Letters that two words must share at their beginning."""


@dataclass(frozen=True, slots=True)
class LabelledWay:
    """A way of a panel with a label, and the loads it feeds."""

    item: str
    way: Mapping[str, Any]
    loads: tuple[str, ...]


def _labelled_ways(survey: Survey) -> Iterator[LabelledWay]:
    panels = [part for part in survey.diagram.components.values()
              if kind_of(part).field("ways") is not None]
    for part in panels:
        loads = loads_of_ways(survey.graph, part)
        for way in panel_ways(part.parameters, part.kind):
            if way.get("label") and loads[way["id"]]:
                yield LabelledWay(f"{part.id}.{way['id']}", way, loads[way["id"]])


RULE = Rule(
    slug="breaker_name_mismatch",
    number="12.8",
    title="Breaker name does not match what it feeds",
    topic="papers",
    severity="caution",
    looks_at="each labelled way of a panel",
    subjects=_labelled_ways,
    messages={"other": "{way} is labelled \"{label}\" and feeds {loads}."},
    remedy="Relabel the way, or move the wire back.",
    sources=("survey_lists",),
    quiet={"spare": "the way is marked as spare"},
    fix="always",
)


def check(labelled: LabelledWay, survey: Survey, profile: Profile) -> Answer:
    """Judge one way."""
    if labelled.way.get("spare") is True:
        return None
    label = str(labelled.way["label"])
    known = {word for load in labelled.loads for word in _words_of(load, survey)}
    if any(_alike(word, other) for word in _words(label) for other in known):
        return None
    return Fault("other", (labelled.item, *labelled.loads), {}, {
        "way": named(survey.diagram, [labelled.item]), "label": label,
        "loads": named(survey.diagram, labelled.loads)})


def _words_of(load: str, survey: Survey) -> frozenset[str]:
    part = survey.diagram.components[load]
    role = str(part.parameters.get("role", ""))
    also = f"{ALSO.get(part.kind, '')} {ALSO.get(role, '')} {role.replace('_', ' ')}"
    return _words(f"{part.name} {kind_of(part).title} {also} {part.designation}")


@lru_cache
def _words(text: str) -> frozenset[str]:
    return frozenset(word for word in re.findall(r"\w+", text.casefold()) if word != "dc")


def _alike(word: str, other: str) -> bool:
    return word[:STEM] == other[:STEM]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to label the way by the loads that it feeds."""
    diagram, (way, *loads) = survey.diagram, finding.where
    label = label_of(diagram, loads)
    title = f"Label {named(diagram, [way])} \"{label}\""
    yield Fix(title, "choice", with_fields(diagram, title, way, label=label))
