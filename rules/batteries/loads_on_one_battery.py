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
Banks of as many blocks as the figure and more are looked at. Thin leads, such as a tracker's, do
not count. Of a bank drawn as one part, or whose negative is not drawn, the take-off is asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.bank_strings import below
from model.analysis.leads import OTHER_PURPOSES
from model.analysis.reach import reach
from model.survey import Survey
from model.units import area_mm2
from rules.batteries_aboard import batteries_aboard
from rules.fixing import moved, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class TakeOff:
    """At which batteries of a group the thick conductors of a pole leave it, and the conductors of
    unknown size that leave elsewhere."""

    batteries: frozenset[str]
    unsized: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Parallel:
    """Batteries side by side, and how many blocks they are."""

    batteries: tuple[str, ...]
    blocks: int


def _parallel(survey: Survey) -> Iterator[Parallel]:
    """Yield the batteries whose positive posts are joined without a device; strings stay out."""
    graph = survey.graph
    seen: set[str] = set()
    for battery in batteries_aboard(survey):
        if battery.id not in seen:
            net = reach(graph, [graph.number[f"{battery.id}.+"]],
                        lambda edge, _: edge.role in ("conductor", "join"))
            group = [part for part in batteries_aboard(survey)
                     if graph.number[f"{part.id}.+"] in net]
            seen |= {part.id for part in group}
            if not any(below(graph, part.id) for part in group):
                yield Parallel(tuple(in_order(part.id for part in group)),
                               sum(part.parameters.get("parallel_count", 1) for part in group))


def _take_off(survey: Survey, group: tuple[str, ...], pole: str, profile: Profile) -> TakeOff:
    """Return where a pole leaves a group; what is thin beside the thickest does not count."""
    leaving = {
        wire.id: here.component for wire in survey.diagram.conductors.values()
        for here, there in (wire.ends(), wire.ends()[::-1])
        if here.component in group and here.terminal == pole and there.component not in group
        and wire.purpose not in OTHER_PURPOSES}
    areas = {item: area_mm2(size.standard, size.text) for item in leaving
             if (size := survey.diagram.conductors[item].size) is not None}
    least_mm2 = max(areas.values(), default=0) * profile.value("takeoff_least_ratio")
    thick = frozenset(leaving[item] for item, area in areas.items() if area >= least_mm2)
    return TakeOff(thick, tuple(item for item, battery in leaving.items()
                                if item not in areas and battery not in thick))


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
    figures=("equal_leads_count", "takeoff_least_ratio"),
    fix="sometimes",
)


def check(parallel: Parallel, survey: Survey, profile: Profile) -> Answer:
    """Judge one group."""
    if parallel.blocks < profile.value("equal_leads_count"):
        return None
    if len(parallel.batteries) == 1:
        return _as_noted(parallel.batteries[0], parallel, survey)
    plus, minus = (_take_off(survey, parallel.batteries, pole, profile) for pole in "+-")
    if len(plus.batteries) > 1 or (
            plus.batteries and minus.batteries and plus.batteries != minus.batteries):
        return None
    unsized = (*plus.unsized, *minus.unsized)
    if unsized:
        return Missing(tuple(f"{wire}.size" for wire in unsized), parallel.batteries)
    if plus.batteries and minus.batteries:
        return _fault(next(iter(plus.batteries)), parallel, survey)
    return _as_noted(next(iter(plus.batteries)), parallel, survey) if plus.batteries else None


def _as_noted(battery: str, parallel: Parallel, survey: Survey) -> Answer:
    """Judge by what is noted of the take-off at a battery, where it is not drawn."""
    noted = survey.diagram.components[battery].parameters.get("takeoff")
    if noted is None:
        return Missing((f"{battery}.takeoff",), parallel.batteries)
    return _fault(battery, parallel, survey) if noted == "same_block" else None


def _fault(battery: str, parallel: Parallel, survey: Survey) -> Fault:
    others = (item for item in parallel.batteries if item != battery)
    return Fault("one", (battery, *others), {},
                 {"batteries": named(survey.diagram, parallel.batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the negative from the far end, of a bank drawn as one part by a note."""
    diagram, (battery, *others) = survey.diagram, finding.where
    if not others:
        title = f"Take plus and minus of {named(diagram, [battery])} from opposite ends"
        yield Fix(title, "choice", with_fields(diagram, title, battery, takeoff="diagonal"))
        return
    leads = [wire.id for wire in diagram.conductors.values()
             if f"{battery}.-" in {f"{end.component}.{end.terminal}" for end in wire.ends()}
             and not {end.component for end in wire.ends()} & set(others)]
    far = _far_end(survey, battery, others)
    if len(leads) == 1 and far is not None:
        title = f"Take {named(diagram, leads)} from the minus of {named(diagram, [far])}"
        yield Fix(title, "choice", moved(diagram, title, leads[0], f"{battery}.-", f"{far}.-"))


def _far_end(survey: Survey, battery: str, others: list[str]) -> str | None:
    """Return the battery at the other end of a chain of links, None where they are no chain with
    that battery at one end.
    """
    graph, chain = survey.graph, [battery]
    while len(chain) <= len(others):
        minus = graph.number[f"{chain[-1]}.-"]
        ends = {graph.component_of[graph.edges[i].other(minus)] for i in graph.edges_at[minus]
                if graph.edges[i].role == "conductor"}
        onward = [item for item in others if item in ends and item not in chain]
        if len(onward) != 1:
            return None
        chain += onward
    return chain[-1]
