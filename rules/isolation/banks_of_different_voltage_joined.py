"""What it checks.
Whether two banks of different nominal voltage can come to one point.

Why it matters.
The bank of the higher voltage drives hundreds of amperes into the other: cells boil, gas burns,
electronics of the lower voltage are destroyed.

Fails when.
In some position of switches and relays a way of conductors and contacts joins their posts.

Passes when.
Only converters are between them, or the voltages are equal.

Limits.
A listed unit that puts two banks in series for starting is not known to the drawing: accept the
finding there, with the unit's name as the reason.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.joinable import besides_mains, joinable, post_v
from model.edits import apply as applied
from model.graph import Edge
from model.kinds.storage import is_same_nominal
from model.survey import Survey
from rules.fixing import without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Pair:
    """Two batteries that can be joined, and one way between their posts."""

    one: str
    other: str
    way: tuple[Edge, ...]


def _pairs(survey: Survey) -> Iterator[Pair]:
    """Yield one pair for each two banks that can be joined."""
    bank_of = {item: bank.id for bank in survey.banks for item in bank.batteries}
    seen: set[frozenset[str]] = set()
    for battery in in_order(bank_of):
        for other, way in joinable(survey.graph, battery).items():
            key = frozenset((bank_of[battery], bank_of[other])) if (
                bank_of[battery] != bank_of[other]) else frozenset((battery, other))
            if key not in seen:
                seen.add(key)
                yield Pair(battery, other, way)


RULE = Rule(
    slug="banks_of_different_voltage_joined",
    number="2.8",
    title="Banks of different voltage can be joined",
    topic="isolation",
    severity="danger",
    looks_at="each two banks that some way of contacts joins",
    subjects=_pairs,
    messages={
        "joined": "{one} of {one_v} and {other} of {other_v} can be joined by way of {way}.",
    },
    remedy="Take the link away; charge one bank from the other through a converter.",
    sources=("common_practice",),
    quiet={"converter": "only a DC-DC converter or charger is between the banks"},
    fix="sometimes",
)


def check(pair: Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair by the volts at its posts."""
    one_v, other_v = post_v(survey.graph, pair.one), post_v(survey.graph, pair.other)
    met = tuple(dict.fromkeys(e.owner for e in pair.way if e.role in ("contact", "diode")))
    joints = besides_mains(survey.diagram, met) or tuple(
        dict.fromkeys(e.owner for e in pair.way if e.role == "conductor"))
    if one_v is None or other_v is None:
        unknown = [item for item, volts in ((pair.one, one_v), (pair.other, other_v))
                   if volts is None]
        return Missing(tuple(f"{item}.block_nominal_v" for item in unknown), (*joints, *unknown))
    if is_same_nominal(one_v, other_v):
        return None
    return Fault(
        "joined", (*joints, pair.one, pair.other), {"one_v": one_v, "other_v": other_v},
        {"way": named(survey.diagram, joints), "one": named(survey.diagram, [pair.one]),
         "other": named(survey.diagram, [pair.other])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take away a conductor of the joint, on either side of it."""
    wires = survey.diagram.conductors
    joint = finding.where[0]
    at_joint = [w.id for w in wires.values() if joint in {e.component for e in w.ends()}]
    for wire in [joint] if joint in wires else in_order(at_joint):
        title = f"Take {named(survey.diagram, [wire])} away"
        edit = without(survey.diagram, title, [wire])
        left = Survey(applied(survey.diagram, edit)).graph
        if finding.where[-1] not in joinable(left, finding.where[-2]):
            yield Fix(title, "choice", edit)
