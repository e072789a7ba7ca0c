"""What it checks.
Whether what charges a bank can come out of that bank again, over a converter, a relay or an
inverter.

Why it matters.
Energy that goes round does nothing but warm the converters. Each turn costs a tenth or more, and
both banks are found flat after a day.

Fails when.
From the output of a charger a way leads forward back to its own input, with switches as they
usually stand and relays closed.

Passes when.
There is one direction only.

Limits.
A charger that is recorded as held off while the inverter runs takes nothing from it. Other
interlocks are not known to the drawing: accept the finding there, with the interlock as the reason.
Emergency links are left out. A charger that an inverter of another bank feeds belongs to 9.7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.energy_loops import energy_loops
from model.edits import apply as applied
from model.graph import Edge
from model.survey import Survey
from rules.fixing import without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RELAYS = ("voltage_sensing_relay", "relay", "contactor")

RULE = Rule(
    slug="energy_goes_round",
    number="3.15",
    title="Energy goes round in a loop",
    topic="charging",
    severity="fault",
    looks_at="each way from a charger's output back to its input",
    subjects=lambda survey: energy_loops(survey.graph),
    messages={
        "loop": "Energy can go round over {parts}: what they give comes back to their own input.",
    },
    remedy="Take one direction away, or interlock them.",
    sources=("common_practice",),
    quiet={
        "emergency": "only an emergency link closes the loop",
        "held_off": "the charger is held off while the inverter of the loop runs",
    },
    fix="sometimes",
)


def check(loop: tuple[Edge, ...], survey: Survey, profile: Profile) -> Answer:
    """Report one loop by the parts that turn or switch energy in it."""
    parts = [item for role in ("converter", "contact")
             for item in in_order(edge.owner for edge in loop if edge.role == role)]
    return Fault("loop", tuple(parts), {}, {"parts": named(survey.diagram, parts)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to part the relay or contactor of the loop from one side, if that ends it."""
    diagram = survey.diagram
    for relay in (item for item in finding.where if diagram.components[item].kind in RELAYS):
        for wire in in_order(w.id for w in diagram.conductors.values()
                             if relay in {end.component for end in w.ends()}):
            title = f"Take {named(diagram, [wire])} away from {named(diagram, [relay])}"
            edit = without(diagram, title, [wire])
            left = energy_loops(Survey(applied(diagram, edit)).graph)
            if not any(finding.where[0] in {edge.owner for edge in loop} for loop in left):
                yield Fix(title, "choice", edit)
