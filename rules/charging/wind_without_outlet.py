"""What it checks.
Wind and water generators: where their power goes when the battery is full or they are switched off.

Why it matters.
A generator without load runs away: its blades burst, and its volts destroy what is joined to it.

Fails when.
It has neither a diversion load, nor a brake, nor a switch that shorts it; or a switch in its lead
takes its load away and nothing stops it first.

Passes when.
It can be stopped, or a diversion load or a controller built in takes what is too much and nothing
parts it.

Limits.
That the stop is used before the lead is opened is a matter of the hand. A diversion load counts
wherever it is recorded: at the generator, or at its controller.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import is_isolating
from model.analysis.charging import posts
from model.analysis.reach import always_closed, came_from, way_back
from model.diagram import Component
from model.graph import Edge
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="wind_without_outlet",
    number="3.22",
    title="Wind or water generator without somewhere to put the power",
    topic="charging",
    severity="danger",
    looks_at="each wind or water generator",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "wind_generator"],
    messages={
        "nowhere": "{generator} has no diversion load, no brake and no switch that shorts it.",
        "parted": "{switches} can take the load from {generator} while it turns; nothing stops it "
                  "first.",
    },
    remedy="Fit a diversion load, or a switch that shorts the generator and is used before its "
           "lead is opened.",
    sources=("wind_makers",),
    quiet={
        "built_in": "its controller is built in, and no switch parts it from the battery",
        "stopped": "a brake or a switch that shorts it stops it",
    },
    fix="always",
)


def check(generator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one generator by what stops it, then by where its power goes."""
    p = generator.parameters
    stop, switches = p.get("stop_by"), _switches(generator, survey)
    if stop not in (None, "none"):
        return None
    is_held = p.get("regulation") == "built_in" or _has_dump(generator, survey)
    dumps = True if is_held else p.get("dump_load")
    if dumps is True and not switches:
        return None
    unknown = [f"{generator.id}.stop_by"] if stop is None else []
    unknown += [f"{generator.id}.dump_load"] if dumps is None and not switches else []
    if unknown:
        return Missing(tuple(unknown), (generator.id, *switches))
    return Fault("parted" if switches else "nowhere", (generator.id, *switches), {}, {
        "generator": named(survey.diagram, [generator.id]),
        "switches": named(survey.diagram, switches)})


def _lead(generator: Component, survey: Survey) -> tuple[Edge, ...]:
    """Return the shortest way to a controller or a battery, whatever the switches."""
    graph = survey.graph
    inputs = {graph.number[f"{c.id}.in+"] for c in survey.diagram.components.values()
              if c.kind == "wind_controller"}
    came = came_from(graph, [graph.number[f"{generator.id}.+"]], always_closed)
    goals = (inputs | posts(graph).keys()) & came.keys()
    ways = {graph.names[node]: way_back(came, node) for node in goals}
    return min(sorted(ways.items()), key=lambda way: len(way[1]), default=("", ()))[1]


def _switches(generator: Component, survey: Survey) -> list[str]:
    """Return the switches in its lead that a hand opens."""
    graph = survey.graph
    return in_order(edge.owner for edge in _lead(generator, survey)
                    if edge.role == "contact" and is_isolating(graph, edge))


def _has_dump(generator: Component, survey: Survey) -> bool:
    """Say whether its lead ends at a controller with a diversion load."""
    graph = survey.graph
    for edge in _lead(generator, survey)[-1:]:
        ends = {graph.component_of[edge.a], graph.component_of[edge.b]}
        for part in (survey.diagram.components[item] for item in ends):
            if part.kind == "wind_controller":
                dump = graph.number[f"{part.id}.dump"]
                return "dump_load" in part.parameters or dump not in graph.bare
    return False


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a switch that shorts it."""
    generator = finding.where[0]
    title = f"Fit a switch that shorts {named(survey.diagram, [generator])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, generator, stop_by="short_switch"))
