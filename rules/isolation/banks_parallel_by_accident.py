"""What it checks.
Whether two banks that are meant to be separate stand joined in a usual state.

Why it matters.
Joined banks run flat together: the evening's lights take the engine's start with them.

Fails when.
With all switches as usual, or in a usual mode, contacts join two banks; or a cable joins a start
battery and a house battery for good.

Passes when.
They are joined only in need, or by a relay that opens when nothing charges.

Limits.
A voltage-sensing relay opens by itself and does not count. Banks of different voltage belong to
2.8. A mode for emergencies, or one named for combining, is no usual state.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.isolation_devices import by_hand
from model.analysis.joinable import besides_mains, joined_ways, post_v
from model.analysis.usual_states import UsualState, usual_states
from model.diagram import Diagram
from model.edits import Edit, changed, merge, setting
from model.edits import apply as applied
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Joined:
    """Two batteries of one voltage that stand joined, by which contacts and in which states."""

    one: str
    other: str
    contacts: tuple[str, ...]
    states: tuple[UsualState, ...]


def _joined(survey: Survey) -> Iterator[Joined]:
    """Yield each two banks that stand joined, once, and single batteries of unlike duty."""
    graph = survey.graph
    bank_of = {item: bank for bank in survey.banks for item in bank.batteries}
    found: dict[tuple[str, str], tuple[tuple[str, ...], list[UsualState]]] = {}
    for state in usual_states(survey.diagram):
        for battery in in_order(bank_of):
            for other, way in joined_ways(graph, battery, state.positions).items():
                one, two = bank_of[battery], bank_of[other]
                if one.id >= two.id or {battery, other} & state.absent or (
                        post_v(graph, battery) != post_v(graph, other)) or (
                        _is_of_two_sorts(survey.diagram, battery, other)):
                    continue
                met = tuple(dict.fromkeys(e.owner for e in way if e.role == "contact"))
                contacts = besides_mains(survey.diagram, met)
                by_coil = [e for e in way if e.role == "contact" and not by_hand(graph, e)]
                if not (by_coil and state.charging):
                    found.setdefault((one.id, two.id), (contacts, []))[1].append(state)
    for (first, second), (contacts, states) in found.items():
        yield Joined(first, second, contacts, tuple(states))
    for bank in survey.banks:
        duties = {survey.diagram.components[b].parameters.get("duty"): b for b in bank.batteries}
        if "start" in duties and "house" in duties:
            yield Joined(duties["house"], duties["start"], (), ())


def _is_of_two_sorts(diagram: Diagram, one: str, other: str) -> bool:
    """Say whether one is lithium and the other lead: 6.15 judges that."""
    sorts = [diagram.components[item].parameters.get("chemistry") for item in (one, other)]
    return None not in sorts and (sorts[0] in LITHIUM) != (sorts[1] in LITHIUM)


RULE = Rule(
    slug="banks_parallel_by_accident",
    number="2.7",
    title="Banks end up in parallel by accident",
    topic="isolation",
    severity="fault",
    looks_at="each two banks that stand joined in a usual state",
    subjects=_joined,
    messages={
        "joined": "{one} and {other} stand joined by way of {contacts} {states}.",
        "always": "{one} and {other} are joined by cables for good, though one is for the house "
                  "and one for starting.",
    },
    remedy="Use 1 or 2 as the usual position; join the banks by a relay or converter that opens "
           "when nothing charges.",
    sources=("common_practice",),
    quiet={
        "charging": "a relay joins them while a charging source runs, or opens by itself",
        "absent": "one of the banks is away",
        "lithium": "one is lithium and the other lead: 6.15 judges it",
        "emergency": "the mode is for emergencies or named for combining",
    },
    fix="sometimes",
)


def check(pair: Joined, survey: Survey, profile: Profile) -> Answer:
    """Tell of two banks that stand joined."""
    names = {"one": named(survey.diagram, [pair.one]), "other": named(survey.diagram, [pair.other]),
             "contacts": named(survey.diagram, pair.contacts)}
    if not pair.contacts:
        return Fault("always", (pair.one, pair.other), {}, names)
    names["states"] = " and ".join(
        f"in the mode '{state.name}'" if state.mode else state.name for state in pair.states)
    return Fault("joined", (*pair.contacts, pair.one, pair.other), {}, names)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to let a contact other than a bank's own switch stand apart in each of the states."""
    diagram = survey.diagram
    for pair in _joined(survey):
        if finding.where != (*pair.contacts, pair.one, pair.other):
            continue
        for contact in pair.contacts:
            fix = _apart(diagram, contact, pair.states)
            left = _joined(Survey(applied(diagram, fix.edit)))
            if diagram.components[contact].kind != "battery_switch" and all(
                    pair.contacts[:1] != one.contacts[:1] for one in left):
                yield fix


def _apart(diagram: Diagram, contact: str, states: tuple[UsualState, ...]) -> Fix:
    selects = diagram.components[contact].kind == "selector_switch"
    title = f"Let {named(diagram, [contact])} stand {'at 1' if selects else 'open'} as a rule"
    edit = Edit(title, ())
    for state in states:
        if state.mode:
            mode = diagram.modes[state.mode]
            positions = {**mode.positions, contact: "1" if selects else "off"}
            step = setting(diagram, title, changed(mode, positions=positions))
        else:
            field = {"normal_position": "1"} if selects else {"normal": "open"}
            step = with_fields(diagram, title, contact, **field)
        edit = merge(edit, step)
    return Fix(title, "choice", edit)
