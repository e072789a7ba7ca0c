"""What it checks.
What charges the large capacitors of inverters and motor controllers when a switch before them
closes.

Why it matters.
For the first thousandths of a second they are a short. The spark welds the contacts of the switch,
and the switch no longer opens.

Fails when.
A large inverter, a motor controller or a load with large capacitors is parted from its batteries by
a switch or contactor and neither charges softly.

Passes when.
The gear starts softly by itself, or the contactor has a pre-charge.

Limits.
The switch next to the part is judged. Fuses that are pulled by hand are not counted as switches,
nor are links for emergencies and relays that volts work.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.charging import by_volts, posts
from model.analysis.reach import reach
from model.analysis.starter import is_emergency_link
from model.diagram import Component
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")
WAYS = ("conductor", "join", "overcurrent")


def _with_capacitors(survey: Survey) -> Iterator[Component]:
    for part in survey.diagram.components.values():
        capacitors = part.parameters.get("input_capacitors")
        if capacitors == "large" or capacitors is None and (
                part.kind in (*INVERTERS, "motor_controller")):
            yield part


RULE = Rule(
    slug="no_soft_charge_of_capacitors",
    number="6.13",
    title="No soft charge of large capacitors",
    topic="lithium",
    severity="caution",
    looks_at="each inverter, motor controller and load with large capacitors",
    subjects=_with_capacitors,
    messages={"hard": "{switches:charges/charge} the capacitors of {part} in one blow on closing."},
    remedy="Fit a pre-charge resistor, or a unit that starts softly.",
    sources=("propulsion_guides",),
    quiet={"soft": "the gear or the contactor charges them softly"},
    figures=("soft_charge_w",),
    fix="sometimes",
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    facts = part.parameters
    if facts.get("soft_start") is True or _is_small(part, profile):
        return None
    switches = _contacts_before(part, survey)
    soft = {item: _is_soft(survey.diagram.components[item]) for item in switches}
    if all(soft.values()):
        return None
    asked = [] if "soft_start" in facts else [f"{part.id}.soft_start"]
    if False not in soft.values():
        asked += [f"{item}.pre_charge" for item, known in soft.items() if known is None]
    if part.kind in INVERTERS and "rated_w" not in facts:
        asked.append(f"{part.id}.rated_w")
    if asked:
        return Missing(tuple(asked), (part.id, *switches))
    return Fault("hard", (part.id, *switches), {}, {
        "part": named(survey.diagram, [part.id]), "switches": named(survey.diagram, switches)})


def _is_small(part: Component, profile: Profile) -> bool:
    watts = part.parameters.get("rated_w")
    return watts is not None and watts <= profile.value("soft_charge_w")


def _is_soft(switch: Component) -> bool | None:
    """Say whether a switch charges softly what it closes on; None when it might."""
    if kind_of(switch).field("pre_charge") is None:
        return False
    return switch.parameters.get("pre_charge")


def _contacts_before(part: Component, survey: Survey) -> list[str]:
    """Return the switches and contactors met first on the ways back to a battery; none when one
    feeds the part without any.
    """
    graph = survey.graph
    names = (f"{part.id}.{end}" for end in ("+", "in+"))
    near = reach(graph, [graph.number[name] for name in names if name in graph.number],
                 lambda edge, _: edge.role in WAYS)
    if near & posts(graph).keys():
        return []

    def leads_to_battery(start: int) -> bool:
        return bool(posts(graph).keys() & reach(graph, [start], lambda edge, node: (
            edge.role in (*WAYS, "contact") and edge.other(node) not in near)))

    edges = [(graph.edges[i], node) for node in near for i in graph.edges_at[node]]
    return in_order(edge.owner for edge, node in edges
                    if edge.role == "contact"
                    and not by_volts(graph, edge) and not is_emergency_link(graph, edge.owner)
                    and leads_to_battery(edge.other(node)))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a pre-charge where contactors close on it: a switch worked by hand has no place for
    one.
    """
    diagram = survey.diagram
    hard = [item for item in finding.where[1:] if _is_soft(diagram.components[item]) is False]
    if all(kind_of(diagram.components[item]).field("pre_charge") is not None for item in hard):
        title = f"Fit a pre-charge resistor to {named(diagram, hard)}"
        yield Fix(title, "choice", together(diagram, title, *(
            partial(with_fields, title=title, item=item, pre_charge=True) for item in hard)))
