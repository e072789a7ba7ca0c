"""What it checks.
The plus and minus terminals of loads, panels, chargers and other sources against the polarity of
what they are connected to.

Why it matters.
Electronics fed the wrong way round die at once; a charger or battery connected so makes a short
that burns cables.

Fails when.
A plus terminal is connected to the negative, or a minus terminal to the positive. Where both were
changed over and the cores left as they were, that is read as such and not as a short circuit.

Passes when.
The plus lies above the minus, as on a load between two taps of a bank; or the part has no
polarity.

Limits.
The polarity is walked from the batteries; what no battery reaches is not judged. Loads behind a
reversed panel are named with it. Two batteries joined wrongly belong to 5.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.wrong_side import WrongSide, cores_at, plus_and_minus
from model.diagram import Component
from model.kinds import kind_of
from model.kinds.record import Port
from model.survey import Survey
from rules.fixing import moved, together
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

WITHOUT = frozenset({"lamp", "heater", "dump_load"})

RULE = Rule(
    slug="polarity_reversed",
    number="4.17",
    title="Reversed polarity at a load or charger",
    topic="conductors",
    severity="danger",
    looks_at="each load, panel, charger and other source",
    subjects=lambda survey: survey.wrong_sides,
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


def check(wrong: WrongSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one part that is connected the wrong way round."""
    part = survey.diagram.components[wrong.item]
    if (part.parameters.get("role") or part.kind) in WITHOUT:
        return None
    return Fault("plus" if wrong.wants == "+" else "minus", (part.id, *wrong.conductors), {}, {
        "part": named(survey.diagram, [part.id]), "terminal": wrong.terminal,
        "wires": named(survey.diagram, wrong.conductors)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to swap the conductors at the plus and the minus, when each is a single one."""
    diagram, part = survey.diagram, survey.diagram.components[finding.where[0]]
    ends = plus_and_minus(part, survey)
    used = [name for end in ends if cores_at(survey, name := f"{part.id}.{end}")]
    sides = {survey.potentials[survey.graph.number[name]].side for name in used}
    if len(sides) < len(used):
        return  # both are on one side: a swap would change nothing
    swaps = []
    for here, there in (ends, ends[::-1]):
        port = _port_of(part, there)
        for edge in cores_at(survey, f"{part.id}.{here}"):
            wire = diagram.conductors[edge.owner]
            if len(wire.cores) > 1 or port.terminal_for(edge.core, 1) != there:
                return
            own = next(end.terminal for end in wire.ends() if end.component == part.id)
            swaps.append((wire.id, f"{part.id}.{own}", f"{part.id}.{port.id}"))
    title = f"Swap plus and minus of {named(diagram, [part.id])}"
    makers = [lambda d, swap=swap: moved(d, title, *swap) for swap in swaps]
    yield Fix(title, "mechanical", together(diagram, title, *makers))


def _port_of(part: Component, terminal: str) -> Port:
    """Return the port that is made for a terminal."""
    return next(port for port in kind_of(part).ports(part.parameters)
                if next(iter(port.poles.values())) == terminal)
