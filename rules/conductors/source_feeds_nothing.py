"""What it checks.
Alternators, solar arrays, wind generators, shore inlets and generators, chargers, controllers and
DC-DC converters: whether what they give reaches anything that takes it.

Why it matters.
Its conductor is missing on the drawing or aboard. An alternator that runs with nothing at its
output destroys its own diodes, and what is not drawn is not on the isolation card either.

Fails when.
Most loads of the drawing are fed, and from the output of such a part no way leads to a battery, a
charger, a controller or a load in any position of the switches.

Passes when.
A way leads to one of them.

Limits.
Every contact counts as closed. While conductors are being traced nothing is said. A bank that no
source reaches belongs to 3.1, what a switch unloads to 2.6. Of a charger with several outputs one
may stay free; what an inverter feeds is often not drawn, and is not asked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.unfed import idle_sources, is_mostly_fed, unfed
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.tracing import untraced
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[tuple[str, ...]]:
    """Yield what feeds nothing, together, unless something waits for a source."""
    graph = survey.graph
    waits = unfed(graph) or not all(survey.charge_sources[bank.id] for bank in survey.banks)
    idle = tuple(in_order(idle_sources(graph)))
    if idle and not waits and is_mostly_fed(graph) and not untraced(survey.diagram):
        yield idle


RULE = Rule(
    slug="source_feeds_nothing",
    number="4.26",
    title="Source or charger that feeds nothing",
    topic="conductors",
    severity="note",
    looks_at="the sources, chargers and converters that reach nothing, together",
    subjects=_subjects,
    messages={"idle": "Nothing is drawn that {sources} could feed or charge."},
    remedy="Draw the conductor that is missing, or fit it; what is not aboard comes off the "
           "drawing.",
    sources=("common_practice",),
    quiet={
        "stored": "it is marked as stored",
        "half_drawn": "most loads are not fed yet either",
        "tracing": "conductors are still being traced",
        "waits": "something waits for a source: 4.25 names what nothing feeds, 3.1 the bank",
    },
)


def check(idle: tuple[str, ...], survey: Survey, profile: Profile) -> Answer:
    """Name the sources."""
    return Fault("idle", idle, {}, {"sources": named(survey.diagram, idle)})
