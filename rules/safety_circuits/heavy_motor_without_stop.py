"""What it checks.
Whether a thruster or windlass can be stopped from where it is worked.

Why it matters.
Their contactors weld. A thruster that does not stop turns the boat into the quay; a windlass takes
a hand.

Fails when.
No switch or breaker within reach cuts its feed: none is on the way, or all are recorded as out of
reach.

Passes when.
The stop within reach is recorded, or a switch on the way is worked from afar or within reach.

Limits.
Within reach means from the helm or the foredeck; only the owner knows.
"""

from __future__ import annotations

from model.analysis.banks import is_isolating
from model.analysis.reach import reach
from model.analysis.unswitched import posts
from model.diagram import Component
from model.graph import Edge
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import with_roles
from rules.wording import named

RULE = Rule(
    slug="heavy_motor_without_stop",
    number="10.12",
    title="Thruster or windlass has no stop within reach",
    topic="safety_circuits",
    severity="fault",
    looks_at="each thruster and windlass",
    subjects=lambda survey: with_roles(survey, "thruster", "windlass"),
    messages={
        "none": "No switch or breaker that can be worked by hand cuts {motor}.",
        "away": "{switches} cuts {motor}, out of reach of whoever works it.",
    },
    remedy="Fit a remote switch at the helm, or a breaker within reach.",
    sources=("thruster_makers", "common_practice"),
    quiet={"reach": "a breaker or switch that cuts it is within reach or is worked from afar"},
)


def check(motor: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one motor."""
    if motor.parameters.get("stop_within_reach") is not None:
        return None
    switches = _switches_before(motor, survey)
    names = {"motor": named(survey.diagram, [motor.id])}
    if not switches:
        return Fault("none", (motor.id,), {}, names)
    facts = [survey.diagram.components[item].parameters for item in switches]
    if any(f.get("within_reach") is True or f.get("remote") not in (None, "none")
           for f in facts):
        return None
    if any(f.get("within_reach") is None for f in facts):
        return Missing((f"{motor.id}.stop_within_reach",), (motor.id, *switches))
    return Fault("away", (motor.id, *switches), {},
                 {**names, "switches": named(survey.diagram, switches)})


def _switches_before(motor: Component, survey: Survey) -> list[str]:
    """Return what a hand can open, met first on the ways back from the motor."""
    graph, found = survey.graph, set()
    batteries = {n for bank in survey.banks for n in posts(graph, bank)}

    def passes(edge: Edge, node: int) -> bool:
        if node in batteries:
            return False
        if is_isolating(graph, edge):
            found.add(edge.owner)
            return False
        return edge.role in ("conductor", "join", "overcurrent", "contact")

    reach(graph, [survey.graph.number[f"{motor.id}.+"]], passes)
    return in_order(found)
