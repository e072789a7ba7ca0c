"""What it checks.
Whether a thruster or windlass can be stopped from where it is worked.

Why it matters.
Their contactors weld. A thruster that does not stop turns the boat into the quay; a windlass takes
a hand.

Fails when.
No switch or breaker within reach takes it off every battery: there is none, or all are recorded as
out of reach, or what is named as its stop does not.

Passes when.
The stop within reach is recorded, or a switch on the way, in the plus or in the minus, is worked
from afar or within reach.

Limits.
Within reach means from the helm or the foredeck; only the owner knows. A contactor without a knob
counts where it is recorded as within reach: the one that runs the motor may weld.
"""

from __future__ import annotations

from model.analysis.banks import is_isolating
from model.analysis.circuit_switches import cutting, feeding_in_use
from model.analysis.unswitched import SAYS
from model.diagram import Component
from model.graph import Edge, TerminalGraph
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
        "elsewhere": "{stop} is named as what stops {motor}, and does not cut its feed.",
        "away": "{switches:cuts/cut} {motor}, out of reach of whoever works it.",
    },
    remedy="Fit a remote switch at the helm, or a breaker within reach.",
    sources=("thruster_makers", "common_practice"),
    quiet={"reach": "a breaker or switch that cuts it is within reach or is worked from afar"},
)


def check(motor: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one motor."""
    graph, node = survey.graph, survey.graph.number[f"{motor.id}.+"]
    feeding = feeding_in_use(graph, [node])
    if not feeding:
        return None
    stops, in_minus = cutting(graph, node), _in_minus(survey, motor.id, feeding)
    stop, names = motor.parameters.get("stop_within_reach"), {
        "motor": named(survey.diagram, [motor.id])}
    if stop is not None:
        return None if stop in in_minus or any(
            stop in (edge.item, edge.owner) for edge in stops) else Fault(
            "elsewhere", (motor.id, stop), {}, {**names, "stop": named(survey.diagram, [stop])})
    switches = tuple(in_order({*in_minus, *(
        edge.item for edge in stops
        if is_isolating(graph, edge) or edge.device.get("remote") == "without")}))
    facts = [survey.diagram.components[item.partition(".")[0]].parameters for item in switches]
    if any(fact.get("within_reach") is True or fact.get("remote") == "with_override"
           for fact in facts):
        return None
    unsaid = tuple(in_order({field for edge in stops if (field := _unsaid(graph, edge))}))
    if unsaid:
        return Missing(unsaid, (motor.id, *switches))
    if any(fact.get("within_reach") is None for fact in facts):
        return Missing((f"{motor.id}.stop_within_reach",), (motor.id, *switches))
    return Fault("away" if switches else "none", (motor.id, *switches), {},
                 {**names, "switches": named(survey.diagram, switches)})


def _in_minus(survey: Survey, motor: str, feeding: frozenset[str]) -> list[str]:
    """Return the hand switches in the negative that part a motor, or all that feeds it."""
    return [cut.part for cut in survey.negative_cuts
            if cut.switch and (motor in cut.loads or feeding <= set(cut.batteries))]


def _unsaid(graph: TerminalGraph, edge: Edge) -> str:
    """Return the field that would say whether a hand opens an edge, "" when it is known."""
    kind = edge.device.get("device", graph.diagram.components[edge.owner].kind)
    field = SAYS.get(kind, "")
    facts = edge.device if edge.role == "overcurrent" else (
        graph.diagram.components[edge.owner].parameters)
    return "" if not field or field in facts else f"{edge.item}.{field}"
