"""What it checks.
Where a management unit works one contactor for charging and one for the loads: on which side each
charger and each load is.

Why it matters.
A charger on the load side goes on charging a battery that is full. A load on the charge side drains
one that is empty, past the point of no return.

Fails when.
A charging source stays joined to the battery with the charge contactor open, or a load with the
load contactor open.

Passes when.
Each is behind its own contactor.

Limits.
Monitors, bilge pumps and what else is meant to stay live may be before both contactors. What the
unit stops before it opens may be on either bus. A source that it only limits may not: at the limit
it goes on charging. Contactors that part nothing belong to 6.1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import outlets
from model.analysis.leads import is_power
from model.analysis.management import driven, is_limited, lithium_batteries, unit_of
from model.analysis.reach import reach
from model.diagram import Component
from model.edits import apply as applied
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import freest, moved
from rules.left_joined import all_joined, left_joined
from rules.profiles import Profile
from rules.rewiring import LeadTo, lead_from, terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class TwoBuses:
    """A battery whose unit works a contactor for charging and another for the loads.

    `unsaid` says that it works several, and of one it is not said for what.
    """

    battery: Component
    unit: Component
    unsaid: bool


def _two_buses(survey: Survey) -> Iterator[TwoBuses]:
    for battery in lithium_batteries(survey.diagram):
        unit = unit_of(survey.diagram, battery)
        if unit is not None:
            roles = list(driven(survey.diagram, unit).values())
            unsaid = len(roles) > 1 and "" in roles
            if unsaid or {"charge", "load"} <= set(roles):
                yield TwoBuses(battery, unit, unsaid)


RULE = Rule(
    slug="wrong_bus",
    number="6.10",
    title="Source on the load bus, load on the charge bus",
    topic="lithium",
    severity="danger",
    looks_at="each battery with a charge and a load contactor",
    subjects=_two_buses,
    messages={
        "source": "{parts} can charge {battery} while the charge contactor is open.",
        "limited": "{parts} can charge {battery} while the charge contactor is open: {unit} limits "
                   "the charge from {parts} and does not stop it.",
        "load": "{parts} can drain {battery} while the load contactor is open.",
    },
    remedy="Move it to the other bus, or let the unit stop it before it opens.",
    sources=("common_practice",),
    quiet={"single": "the battery has a single contactor for both",
           "meant": "it is meant to stay live with all contactors open",
           "told": "the unit stops it before it opens"},
    fix="sometimes",
)


def check(two: TwoBuses, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery: chargers first, then loads."""
    battery, unit = two.battery, two.unit
    if two.unsaid:
        return Missing((f"{unit.id}.drives",), (battery.id, unit.id))
    left = left_joined(survey, battery, unit)
    if left == all_joined(survey, battery, unit):
        return None
    limited = all(is_limited(survey.diagram.components[item], unit) for item in left.sources)
    for message, found in (("limited" if limited else "source", left.sources),
                           ("load", left.loads)):
        if found:
            return Fault(message, (*found, battery.id), {}, {
                "parts": named(survey.diagram, found), "unit": named(survey.diagram, [unit.id]),
                "battery": named(survey.diagram, [battery.id])})
    asked = tuple(f"{item}.role" for item in left.unsaid)
    return Missing(asked, (battery.id, *left.unsaid)) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lead a single part to the bus behind the contactor it belongs to, where it has one
    lead and is all that is on the wrong bus.
    """
    diagram, (*found, battery) = survey.diagram, finding.where
    two = next(two for two in _two_buses(survey) if two.battery.id == battery)
    purpose = "load" if finding.message_id == "load" else "charge"
    target, leads = _bus(survey, two, purpose), _leads(survey, found[0], purpose)
    if len(found) != 1 or len(leads) != 1 or target is None:
        return
    title = (f"Lead {named(diagram, found)} to {named(diagram, [target.partition('.')[0]])}, "
             f"behind the {purpose} contactor")
    edit = moved(diagram, title, leads[0].conductor, leads[0].terminal, target)
    after = Survey(applied(diagram, edit))
    if not any(isinstance(check(left, after, profile), Fault) for left in _two_buses(after)):
        yield Fix(title, "choice", edit)


def _leads(survey: Survey, item: str, purpose: str) -> list[LeadTo]:
    """Return the leads from a bar by which a part charges, or by which it is fed."""
    graph = survey.graph
    nodes = [outlet.node for outlet in outlets(graph) if outlet.source == item]
    if purpose == "load":
        nodes = [node for name in ("+", "in+") if (
            node := graph.number.get(f"{item}.{name}")) is not None]
    leads = [lead for node in nodes if (lead := lead_from(survey, node, over_mains=True))]
    return [lead for lead in leads
            if survey.diagram.components[lead.terminal.partition(".")[0]].kind == "busbar"]


def _bus(survey: Survey, two: TwoBuses, purpose: str) -> str | None:
    """Return the freest stud of the bar behind the one contactor for a purpose, else the terminal
    of that contactor that is away from the battery.
    """
    graph = survey.graph
    own = [item for item, role in driven(survey.diagram, two.unit).items() if role == purpose]
    near = reach(graph, [graph.number[f"{two.battery.id}.+"]], lambda edge, _: (
        edge.role in ("conductor", "join", "overcurrent")))
    far = [node for item in own for edge in graph.edges_of[item] if edge.role == "contact"
           for node, other in ((edge.a, edge.b), (edge.b, edge.a)) if other in near]
    if len(far) != 1:
        return None
    behind = [graph.edges[i].other(far[0]) for i in graph.edges_at[far[0]]
              if is_power(graph, graph.edges[i])]
    bars = [part for node in behind
            if (part := survey.diagram.components[graph.component_of[node]]).kind == "busbar"]
    studs = [f"{bar.id}.{port.id}" for bar in bars for port in kind_of(bar).ports(bar.parameters)]
    return freest(survey.diagram, studs) or terminal_name(graph, far[0])
