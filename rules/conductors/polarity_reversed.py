"""What it checks.
The plus and minus terminals of loads, panels, chargers and other sources against the polarity of
what they are connected to.

Why it matters.
Electronics fed the wrong way round die at once; a charger or battery connected so makes a short
that burns cables.

Fails when.
A plus terminal is connected to the negative, or a minus terminal to the positive.

Passes when.
The plus lies above the minus, as on a load between two taps of a bank; or the part has no
polarity.

Limits.
The polarity is walked from the batteries; what no battery reaches is not judged. Loads behind a
reversed panel are named with it. Two batteries joined wrongly belong to 5.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Component
from model.graph import Edge
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import moved, together
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

PANELS = frozenset({"panel", "fuse_block"})
WITHOUT = frozenset({"lamp", "heater", "dump_load"})


def _parts(survey: Survey) -> Iterator[Component]:
    for part in survey.diagram.components.values():
        if part.kind in PANELS or kind_of(part).role in ("load", "converter", "source"):
            yield part


RULE = Rule(
    slug="polarity_reversed",
    number="4.17",
    title="Reversed polarity at a load or charger",
    topic="conductors",
    severity="danger",
    looks_at="each load, panel, charger and other source",
    subjects=_parts,
    messages={
        "plus": "{part} is connected the wrong way round: its {terminal} terminal is on the "
                "negative, by {wires}.",
        "minus": "{part} is connected the wrong way round: its {terminal} terminal is on the "
                 "positive, by {wires}.",
    },
    remedy="Swap the two, and test with a meter before anything is connected.",
    sources=("claim_files",),
    quiet={
        "without": "the part has no polarity",
        "between": "its plus lies above its minus, as between two taps of a bank",
        "unreached": "no battery reaches it",
    },
    fix="sometimes",
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one part by each of its terminals."""
    if (part.parameters.get("role") or part.kind) in WITHOUT or _behind_reversed(part, survey):
        return None
    wrong = next(_reversed(part, survey), None)
    if wrong is None:
        return None
    terminal, message, wires = wrong
    return Fault(message, (part.id, *wires), {}, {
        "part": named(survey.diagram, [part.id]), "terminal": terminal,
        "wires": named(survey.diagram, wires)})


def _reversed(part: Component, survey: Survey) -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Yield the terminals of a part on the wrong side, with the message and the conductors."""
    for terminal, wants in _poled(part):
        node = survey.graph.number.get(f"{part.id}.{terminal}")
        wires = () if node is None else tuple(edge.owner for edge in _cores(survey, node))
        if node is None or not wires:
            continue
        here = survey.potentials[node]
        if here.side in ("+", "-") and here.side != wants and not _is_above(part, survey):
            yield terminal, "plus" if wants == "+" else "minus", wires


def _poled(part: Component) -> Iterator[tuple[str, str]]:
    """Yield the terminals of a part that want one pole, each once."""
    seen = set()
    for port in kind_of(part).ports(part.parameters):
        for pole, terminal in port.poles.items():
            is_way = part.kind in PANELS and port.id not in ("in", "-")
            if pole in ("+", "-") and terminal not in seen and not is_way:
                seen.add(terminal)
                yield terminal, pole


def _cores(survey: Survey, node: int) -> list[Edge]:
    edges = (survey.graph.edges[number] for number in survey.graph.edges_at[node])
    return [edge for edge in edges if edge.role == "conductor"]


def _is_above(part: Component, survey: Survey) -> bool:
    """Say whether a part's plus lies above its minus, as between two taps of a bank."""
    plus, minus = (survey.graph.number.get(f"{part.id}.{name}") for name in _ends(part, survey))
    if plus is None or minus is None or not _cores(survey, minus):
        return False
    high, low = (survey.potentials[node].nominal_v for node in (plus, minus))
    return high is not None and low is not None and high > low


def _ends(part: Component, survey: Survey) -> tuple[str, str]:
    """Return a part's plus terminal, the first that is connected, and its minus."""
    pluses = [terminal for terminal, wants in _poled(part) if wants == "+"]
    used = [name for name in pluses if _cores(survey, survey.graph.number[f"{part.id}.{name}"])]
    return next(iter([*used, *pluses]), ""), "-"


def _behind_reversed(part: Component, survey: Survey) -> bool:
    """Say whether a panel that feeds the part is itself reversed: one cause, and the panel's."""
    for edge in survey.graph.edges_of.get(part.id, ()):
        for node in (edge.a, edge.b):
            for core in _cores(survey, node):
                far = survey.diagram.components[survey.graph.component_of[core.other(node)]]
                if far.kind in PANELS and far.id != part.id and any(_reversed(far, survey)):
                    return True
    return False


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to swap the conductors at the plus and the minus, when each is a single one."""
    diagram, part = survey.diagram, survey.diagram.components[finding.where[0]]
    ends = _ends(part, survey)
    swaps = []
    for here, there in (ends, ends[::-1]):
        port = _port_of(part, there)
        for edge in _cores(survey, survey.graph.number[f"{part.id}.{here}"]):
            wire = diagram.conductors[edge.owner]
            if wire.cores != ("+",):
                return
            own = next(end.terminal for end in wire.ends() if end.component == part.id)
            swaps.append((wire.id, f"{part.id}.{own}", f"{part.id}.{port}"))
    title = f"Swap plus and minus of {named(diagram, [part.id])}"
    makers = [lambda d, swap=swap: moved(d, title, *swap) for swap in swaps]
    yield Fix(title, "mechanical", together(diagram, title, *makers))


def _port_of(part: Component, terminal: str) -> str:
    """Return the port by which a single core reaches a terminal."""
    return next(port.id for port in kind_of(part).ports(part.parameters)
                if next(iter(port.poles.values())) == terminal)
