"""What it checks.
Conductors that end on a stud or bar where nothing else is connected, or at an untraced end.

Why it matters.
A forgotten end that is live touches metal one day. One that is dead puzzles the next person.

Fails when.
An end joins nothing. When a battery can feed it through its other end, it is a fault; on a bar that
waits for its circuits it stays a note.

Passes when.
The conductor is marked as spare, insulated at both ends, and nothing feeds it. An untraced end is
none of the boat's while she is being drawn as she was found: the walk list asks for it.

Limits.
A panel with nothing behind it is no loose end: it is drawn on purpose; a switch or fuse with
nothing at one side belongs to 4.28. Every switch counts as closed. An end by which a part ought to
be fed belongs to 4.25.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.operating_point.returns import draws_returns
from model.analysis.unfed import unfed
from model.diagram import Conductor
from model.graph import Edge
from model.survey import Survey
from rules.fixing import with_fields, without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tracing import UNTRACED, is_tracing
from rules.wording import named

JOINTS = frozenset({"stud", "busbar", "terminal_block", UNTRACED})


@dataclass(frozen=True, slots=True)
class LooseEnd:
    """A conductor, the joint it ends on alone, and its core with the terminal there."""

    wire: Conductor
    joint: str
    edge: Edge
    node: int


def _loose_ends(survey: Survey) -> Iterator[LooseEnd]:
    for part in survey.diagram.components.values():
        if part.kind not in JOINTS or (
                part.kind == UNTRACED and is_tracing(survey.diagram)):
            continue
        cores = [(edge, node) for node in survey.graph.nodes_of(part.id)
                 for number in survey.graph.edges_at[node]
                 if (edge := survey.graph.edges[number]).role == "conductor"]
        if len({edge.owner for edge, _ in cores}) == 1:
            edge, node = cores[0]
            if survey.potentials[node].side == "-" and not draws_returns(survey.diagram):
                continue
            wire = survey.diagram.conductors[edge.owner]
            if wire.spare or all(node not in dead.nodes for dead in unfed(survey.graph)):
                yield LooseEnd(wire, part.id, edge, node)


RULE = Rule(
    slug="loose_end",
    number="4.16",
    title="Loose end",
    topic="conductors",
    severity="note",
    looks_at="each conductor that ends on a stud or bar with nothing else on it, or untraced",
    subjects=_loose_ends,
    messages={
        "live": "{wire} ends at {joint} and joins nothing there; {batteries} can feed it.",
        "dead": "{wire} ends at {joint} and joins nothing there.",
    },
    remedy="Remove it, or insulate both ends and label it as spare.",
    sources=("survey_lists",),
    quiet={
        "spare": "it is marked as spare, insulated at both ends, and nothing feeds it",
        "untraced": "it is an untraced end, and the drawing shows the boat as she was found",
        "implied": "it is a negative bar at which returns that nobody drew end",
        "feed": "by it a part ought to be fed that nothing feeds: 4.25 names it",
    },
    fix="always",
)


def check(loose: LooseEnd, survey: Survey, profile: Profile) -> Answer:
    """Judge one loose end."""
    wire = loose.wire
    names = {"wire": named(survey.diagram, [wire.id]),
             "joint": named(survey.diagram, [loose.joint])}
    batteries = _fed_by(loose, survey)
    is_bar = survey.diagram.components[loose.joint].kind == "busbar"
    if batteries:
        return Fault("live", (wire.id, loose.joint, *batteries), {},
                     {**names, "batteries": named(survey.diagram, batteries)},
                     severity="note" if is_bar else "fault")
    if wire.spare and wire.ends_insulated:
        return None
    if wire.spare and wire.ends_insulated is None:
        return Missing((f"{wire.id}.ends_insulated",), (wire.id,))
    return Fault("dead", (wire.id, loose.joint), {}, names)


def _fed_by(loose: LooseEnd, survey: Survey) -> list[str]:
    """Return the batteries that can feed the conductor from its other end."""
    far = loose.edge.other(loose.node)
    return in_order(feed.battery for feed in survey.protection.feeds.get(
        (loose.edge.index, far), ()))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take it away; a dead one may also stay as a marked spare."""
    wire = finding.where[0]
    spoken = named(survey.diagram, [wire])
    title = f"Remove {spoken}"
    yield Fix(title, "choice", without(survey.diagram, title, [wire]))
    if finding.message_id == "dead":
        title = f"Mark {spoken} as spare, both ends insulated"
        yield Fix(title, "choice", with_fields(
            survey.diagram, title, wire, spare=True, ends_insulated=True))
