"""What it checks.
Run, trigger and coil terminals of parts: which bank feeds them, and which bank feeds the part.

Why it matters.
The part's own bank is off and the part seems dead, yet a thin wire from elsewhere keeps a coil or a
network alive, or feeds back through it.

Fails when.
Such a terminal is fed from batteries of which none feeds the part itself.

Passes when.
Both come from the same bank.

Limits.
Remote battery switches belong to 2.12, sense leads to 1.16. Power that runs in a data cable is seen
only when it is drawn as a conductor.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.fed_by import fed_by
from model.analysis.isolation_devices import is_remote_disconnect
from model.graph import TerminalGraph
from model.kinds import kind_of
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

SIGNALS = ("run", "coil+", "remote", "signal", "up", "down")


@dataclass(frozen=True, slots=True)
class Signal:
    """A signal terminal of a part with the conductors on it."""

    part: str
    node: int
    conductors: tuple[str, ...]


def _signals(survey: Survey) -> Iterator[Signal]:
    graph = survey.graph
    for part in survey.diagram.components.values():
        for name in () if is_remote_disconnect(part) else SIGNALS:
            node = graph.number.get(f"{part.id}.{name}")
            if node is not None:
                yield Signal(part.id, node, tuple(
                    graph.edges[i].owner for i in graph.edges_at[node]
                    if graph.edges[i].role == "conductor"))


RULE = Rule(
    slug="hidden_supply_by_signal",
    number="2.19",
    title="Hidden supply through a data or trigger wire",
    topic="isolation",
    severity="caution",
    looks_at="each run, trigger and coil terminal",
    subjects=_signals,
    messages={
        "hidden": "{wire} feeds {part} from {others}; the part itself hangs on {own}. With {own} "
                  "off it stays live.",
    },
    remedy="Take trigger and network supplies from the bank that the plan opens, and fuse them.",
    sources=("common_practice",),
    quiet={"same_bank": "the supply comes from the part's own bank"},
)


def check(signal: Signal, survey: Survey, profile: Profile) -> Answer:
    """Judge one signal terminal by the banks behind it."""
    graph = survey.graph
    bank_of = {item: bank.id for bank in survey.banks for item in bank.batteries}
    others = fed_by(graph, [signal.node])
    own = fed_by(graph, _power_nodes(graph, signal.part))
    if not others or not own or {bank_of[b] for b in others} & {bank_of[b] for b in own}:
        return None
    return Fault("hidden", (signal.conductors[0], signal.part, *in_order(others)), {}, {
        "wire": named(survey.diagram, signal.conductors[:1]),
        "part": named(survey.diagram, [signal.part]),
        "others": named(survey.diagram, in_order(others)),
        "own": named(survey.diagram, in_order(own))})


def _power_nodes(graph: TerminalGraph, part: str) -> list[int]:
    component = graph.diagram.components[part]
    return [graph.number[f"{part}.{port.poles['+']}"]
            for port in kind_of(component).ports(component.parameters) if "+" in port.poles]
