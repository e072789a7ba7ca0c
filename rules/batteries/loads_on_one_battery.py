"""What it checks.
Where positive and negative leave a bank of three or more batteries side by side.

Why it matters.
Taken from one battery, that one gives and gets most of the current, through the shortest links. It
ages in half the time, and then drags the others down.

Fails when.
Both leave from the same battery.

Passes when.
They leave at opposite ends, or each battery has equal leads to bars.

Limits.
Banks of as many blocks as the figure and more are looked at. Of a bank drawn as one part the
take-off is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.parallel_batteries import side_by_side
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Parallel:
    """Batteries side by side, how many blocks they are, and from which conductors leave."""

    batteries: tuple[str, ...]
    blocks: int
    plus_at: frozenset[str]
    minus_at: frozenset[str]


def _parallel(survey: Survey) -> Iterator[Parallel]:
    for group in side_by_side(survey.graph, survey.zones):
        parts = [survey.diagram.components[item] for item in group.batteries]
        blocks = sum(part.parameters.get("parallel_count", 1) for part in parts)
        yield Parallel(group.batteries, blocks, *(
            _leaving(survey, group.batteries, pole) for pole in ("+", "-")))


def _leaving(survey: Survey, group: tuple[str, ...], pole: str) -> frozenset[str]:
    """Return the batteries of a group from whose post a conductor leads out of the group."""
    found = set()
    for wire in survey.diagram.conductors.values():
        for here, there in (wire.ends(), wire.ends()[::-1]):
            if here.component in group and here.terminal == pole and there.component not in group:
                found.add(here.component)
    return frozenset(found)


RULE = Rule(
    slug="loads_on_one_battery",
    number="5.4",
    title="Bank loads taken from one battery",
    topic="batteries",
    severity="caution",
    looks_at="each group of batteries side by side",
    subjects=_parallel,
    messages={"one": "Positive and negative of {batteries} leave from the same battery: it gives "
                     "and gets most of the current."},
    remedy="Take positive and negative from opposite ends, or lead all to bars with equal leads.",
    sources=("common_practice",),
    quiet={"diagonal": "they leave at opposite ends", "bars": "equal leads go to bars"},
    figures=("equal_leads_count",),
)


def check(parallel: Parallel, survey: Survey, profile: Profile) -> Answer:
    """Judge one group."""
    if parallel.blocks < profile.value("equal_leads_count"):
        return None
    names = {"batteries": named(survey.diagram, parallel.batteries)}
    if len(parallel.batteries) > 1:
        both = parallel.plus_at & parallel.minus_at
        alone = len(parallel.plus_at) == 1 and parallel.plus_at == parallel.minus_at
        return Fault("one", (*sorted(both), *parallel.batteries), {}, names) if alone else None
    (battery,) = parallel.batteries
    takeoff = survey.diagram.components[battery].parameters.get("takeoff")
    if takeoff is None:
        return Missing((f"{battery}.takeoff",), parallel.batteries)
    return Fault("one", parallel.batteries, {}, names) if takeoff == "same_block" else None
