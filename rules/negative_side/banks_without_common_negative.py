"""What it checks.
Banks that a switch, relay, splitter, charger or converter joins at their positives: whether their
negatives are joined too.

Why it matters.
Without a common negative no current flows home: the relay never closes, the charger charges one
bank only, the link does not crank. Or it flows by a way that nobody meant for it.

Fails when.
Something that joins two banks and does not isolate them finds their negatives apart.

Passes when.
The negatives are joined, or what joins the banks is isolated.

Limits.
A negative that is implied is taken to be joined. A bare minus where returns are drawn belongs to
4.8.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from model.analysis.banks import is_isolating
from model.analysis.common_negative import share_negative
from model.analysis.drawn_returns import without_return
from model.analysis.joinable import besides_mains, joinable
from model.analysis.reach import ever_joined
from model.survey import Survey
from rules.fixing import connected, together
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import size_of_thickest
from rules.wording import named

JOINTS = ("contact", "diode")


@dataclass(frozen=True, slots=True)
class Joint:
    """What joins two batteries at their positives; `isolates` None when that is not stated."""

    part: str
    one: str
    other: str
    isolates: bool | None


@dataclass(frozen=True, slots=True)
class Joined:
    """What joins banks whose negatives are apart: a battery of each, the first two a pair."""

    part: str
    batteries: tuple[str, ...]
    isolates: bool | None


def _joined(survey: Survey) -> Iterator[Joined]:
    """Yield each thing that joins banks without a common negative, with all that it joins."""
    found: dict[str, list[Joint]] = {}
    for joint in _joints(survey):
        found.setdefault(joint.part, []).append(joint)
    for part, joints in found.items():
        batteries = dict.fromkeys(item for joint in joints for item in (joint.one, joint.other))
        yield Joined(part, tuple(batteries), joints[0].isolates)


def _joints(survey: Survey) -> Iterator[Joint]:
    """Yield what joins each two banks without a common negative: one thing, what isolates last."""
    bank_of = {item: bank.id for bank in survey.banks for item in bank.batteries}
    found = [*_by_contacts(survey, bank_of), *_by_converters(survey, bank_of)]
    bare = without_return(survey)
    seen: set[frozenset[str]] = set()
    for joint in sorted(found, key=lambda one: (False, None, True).index(one.isolates)):
        banks = frozenset((bank_of[joint.one], bank_of[joint.other]))
        if banks in seen or not bare.isdisjoint((joint.one, joint.other)):
            continue
        if not share_negative(survey, joint.one, joint.other) and (
                not _joins_both_poles(survey, joint.part)):
            seen.add(banks)
            yield joint


def _joins_both_poles(survey: Survey, part: str) -> bool:
    return survey.diagram.components[part].parameters.get("poles") == "both"


def _by_contacts(survey: Survey, bank_of: dict[str, str]) -> Iterator[Joint]:
    for battery in in_order(bank_of):
        for other, way in joinable(survey.graph, battery).items():
            met = tuple(e.owner for e in way
                        if e.role in JOINTS or is_isolating(survey.graph, e))
            if met and bank_of[battery] != bank_of[other]:
                yield Joint(besides_mains(survey.diagram, met)[0], battery, other, False)


def _by_converters(survey: Survey, bank_of: dict[str, str]) -> Iterator[Joint]:
    graph = survey.graph
    posts = {graph.number[f"{item}.+"]: item for item in bank_of}
    for part in survey.diagram.components.values():
        edges = [e for e in graph.edges_of.get(part.id, ()) if e.role in ("converter", "diode")]
        sides = [n for e in edges for n in ((e.a, e.b) if "in+" in graph.names[e.a] else (e.b,))]
        reached = [{posts[n] for n in ever_joined(graph, [side]) & set(posts)}
                   for side in dict.fromkeys(sides)]
        isolates = part.parameters.get("isolated") if part.kind in (
            "dc_dc_charger", "dc_dc_converter") else False
        for place, ones in enumerate(reached):
            for others in reached[place + 1:]:
                for one in in_order(ones - others):
                    for other in in_order(others - ones):
                        yield Joint(part.id, one, other, isolates)


RULE = Rule(
    slug="banks_without_common_negative",
    number="8.7",
    title="Banks without a common negative",
    topic="negative_side",
    severity="fault",
    looks_at="what joins each two banks whose negatives are apart",
    subjects=_joined,
    messages={
        "apart": "{part} joins {banks}, whose negatives are not joined.",
    },
    remedy="Join the negatives by a conductor as large as the positive one, or use an isolated "
           "converter.",
    sources=("charger_makers",),
    quiet={
        "isolated": "an isolated DC-DC converter or charger is between the banks",
        "two_pole": "the link between them joins both poles",
        "bare": "nothing at all is connected to the negative of one of them: 4.8 names it",
    },
    fix="always",
    follows=True,
)


def check(joint: Joined, survey: Survey, profile: Profile) -> Answer:
    """Judge what joins two banks without a common negative."""
    if joint.isolates is True:
        return None
    where = (joint.part, *joint.batteries)
    if joint.isolates is None:
        return Missing((f"{joint.part}.isolated",), where)
    return Fault("apart", where, {}, {
        "part": named(survey.diagram, [joint.part]),
        "banks": named(survey.diagram, joint.batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a conductor between the two minus posts, as large as the largest at the joint or of
    the starter circuit: an emergency link adds the starter's current to what the joint carries.
    """
    part, one, *others = finding.where
    diagram = survey.diagram
    wires = [w for w in survey.diagram.conductors.values() if set(w.cores) <= {"+"} and (
        w.id in survey.starter_circuit or part in {e.component for e in w.ends()})]
    title = f"Join the negatives of {named(diagram, [one, *others])}"
    ties = [partial(connected, title=title, from_=f"{one}.-", to=f"{other}.-", cores=("-",),
                    **size_of_thickest(wires))
            for other in others if not share_negative(survey, one, other)]
    yield Fix(title, "mechanical", together(diagram, title, *ties))
