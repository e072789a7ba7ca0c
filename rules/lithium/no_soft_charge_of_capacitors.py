"""What it checks.
What charges the large capacitors of inverters and motor controllers when a switch before them
closes.

Why it matters.
For the first thousandths of a second they are a short. The spark welds the contacts of the switch,
and the switch no longer opens.

Fails when.
A large inverter, a motor controller or a load with large capacitors is behind a switch or contactor
and neither charges softly.

Passes when.
The gear starts softly by itself, or the contactor has a pre-charge.

Limits.
Fuses that are pulled by hand are not counted as switches.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.reach import reach
from model.diagram import Component
from model.graph import Edge
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")


def _with_capacitors(survey: Survey) -> Iterator[Component]:
    for part in survey.diagram.components.values():
        if part.kind in (*INVERTERS, "motor_controller") or (
                part.parameters.get("input_capacitors") == "large"):
            yield part


RULE = Rule(
    slug="no_soft_charge_of_capacitors",
    number="6.13",
    title="No soft charge of large capacitors",
    topic="lithium",
    severity="caution",
    looks_at="each inverter, motor controller and load with large capacitors",
    subjects=_with_capacitors,
    messages={"hard": "{switches} charges the capacitors of {part} at one blow when it closes."},
    remedy="Fit a pre-charge resistor, or a unit that starts softly.",
    sources=("propulsion_guides",),
    quiet={"soft": "the gear or the contactor charges them softly"},
    figures=("soft_charge_w",),
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    facts = part.parameters
    if facts.get("soft_start") is True or _is_small(part, profile):
        return None
    switches = _contacts_before(part, survey)
    soft = [survey.diagram.components[item].parameters.get("pre_charge") for item in switches]
    if all(soft):
        return None
    asked = [] if "soft_start" in facts else [f"{part.id}.soft_start"]
    if part.kind in INVERTERS and "rated_w" not in facts:
        asked.append(f"{part.id}.rated_w")
    if asked:
        return Missing(tuple(asked), (part.id, *switches))
    return Fault("hard", (part.id, *switches), {}, {
        "part": named(survey.diagram, [part.id]), "switches": named(survey.diagram, switches)})


def _is_small(part: Component, profile: Profile) -> bool:
    watts = part.parameters.get("rated_w")
    return watts is not None and watts <= profile.value("soft_charge_w")


def _contacts_before(part: Component, survey: Survey) -> list[str]:
    """Return the switches and contactors met first on the ways back from the part."""
    graph = survey.graph
    found: set[str] = set()

    def passes(edge: Edge, node: int) -> bool:
        if edge.role == "contact" and edge.owner != part.id:
            found.add(edge.owner)
        return edge.role in ("conductor", "join", "overcurrent")

    names = (f"{part.id}.{end}" for end in ("+", "in+"))
    reach(graph, [graph.number[name] for name in names if name in graph.number], passes)
    return in_order(found)
