"""What it checks.
Boats with more than one source of AC beside the inverter: whether a label warns of it.

Why it matters.
Somebody pulls the shore lead, takes the panel off, and the generating set or the other inlet keeps
it live.

Fails when.
Two or more inlets and generating sets are fitted and no label on the AC side warns of it.

Passes when.
A label at the AC panel, the transfer switch or a source, or on the boat's list of warnings, speaks
of sources of power.

Limits.
An inverter that has no label is named by 2.15.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.warning_labels import labelling
from rules.wording import named

SOURCES = ("shore_inlet", "generating_set")
# Where a label serves best comes first.
LABELLED = ("ac_panel", "ac_transfer_switch", *SOURCES)

# What a label has that speaks of where power comes from, in the languages of the program.
ENGLISH = ("source", "suppl", "shore", "generat", "inlet", "inverter")
GERMAN = ("quelle", "einspeis", "versorg", "landstrom", "landanschluss", "wechselrichter")
WORDS = ENGLISH + GERMAN

RULE = Rule(
    slug="second_source_not_warned_of",
    number="12.5",
    title="No warning of second source at AC gear",
    topic="papers",
    severity="fault",
    looks_at="the sources of AC together",
    subjects=lambda survey: [survey.diagram],
    messages={"unlabelled": "{sources} can each make the AC side live, and no label says so."},
    remedy="Fit a label at the AC panel: disconnect all sources before opening.",
    sources=("abyc_e11",),
    quiet={"single": "there is a single source"},
    fix="always",
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge the AC side of the boat."""
    parts = [part for part in survey.diagram.components.values() if part.stored is not True]
    sources = in_order(part.id for part in parts if part.kind in SOURCES)
    labels = [part.warning_text for part in parts if part.kind in LABELLED]
    labels += [text for text, _ in survey.diagram.boat.warnings]
    if len(sources) > 1 and not any(_tells_of_source(text or "") for text in labels):
        return Fault("unlabelled", tuple(sources), {},
                     {"sources": named(survey.diagram, sources)})
    return None


def _tells_of_source(label: str) -> bool:
    return any(word in label.casefold() for word in WORDS)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a label at the AC panel, else at the change-over, else at a source."""
    diagram = survey.diagram
    parts = [part for part in diagram.components.values()
             if part.kind in LABELLED and part.stored is not True]
    at = min(parts, key=lambda part: LABELLED.index(part.kind))
    yield labelling(survey, at.id, (
        f"Sources of power: {named(diagram, finding.where)}. Disconnect all before opening"))
