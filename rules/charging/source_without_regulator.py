"""What it checks.
Solar arrays and wind generators: whether a regulator is between them and the batteries.

Why it matters.
Sun and wind do not stop when the battery is full. The voltage climbs, the battery boils, gas burns,
and lithium cells or electronics are destroyed.

Fails when.
The output reaches a battery over conductors and contacts alone.

Passes when.
A controller is between them, or the generator regulates itself.

Limits.
A wind generator whose regulation is stated as by a controller is taken to have one, also one that
diverts at the battery. A fuse or blocking diode is no regulator.
"""

from __future__ import annotations

from model.analysis.charging import posts
from model.analysis.reach import always_closed, reach
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="source_without_regulator",
    number="3.3",
    title="Solar panel or wind machine direct to a battery",
    topic="charging",
    severity="danger",
    looks_at="each solar array and wind generator",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind in ("solar_array", "wind_generator")],
    messages={
        "direct": "The output of {source} reaches {batteries} without a regulator.",
    },
    remedy="Fit a regulator between them, with a fuse at the battery.",
    sources=("common_practice",),
    quiet={
        "trickle": "the most an array can give is a trickle for the bank",
        "regulated": "the wind generator has a controller, or a regulator built in",
    },
    figures=("trickle_max_percent",),
)


def check(source: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one source by the batteries that its output reaches."""
    graph = survey.graph
    reached = reach(graph, [graph.number[f"{source.id}.+"]], always_closed)
    batteries = in_order(posts(graph)[node] for node in reached & posts(graph).keys())
    if not batteries:
        return None
    excused = (_is_trickle(source, batteries, survey, profile) if source.kind == "solar_array"
               else _regulates(source))
    if isinstance(excused, tuple):
        return Missing(excused, (source.id, *batteries))
    if excused:
        return None
    return Fault("direct", (source.id, *batteries), {}, {
        "source": named(survey.diagram, [source.id]),
        "batteries": named(survey.diagram, batteries)})


def _regulates(generator: Component) -> bool | tuple[str, ...]:
    """Say whether a generator is regulated; the field that would tell when it is not stated."""
    regulation = generator.parameters.get("regulation")
    return (f"{generator.id}.regulation",) if regulation is None else regulation != "none"


def _is_trickle(
    array: Component, batteries: list[str], survey: Survey, profile: Profile
) -> bool | tuple[str, ...]:
    """Say whether the array gives next to nothing for the smallest bank; else what would tell."""
    panel_a = array.parameters.get("panel_isc_a")
    sizes = {item: survey.diagram.components[item].parameters.get("capacity_ah")
             for item in batteries}
    unknown = tuple(f"{item}.capacity_ah" for item, size in sizes.items() if size is None)
    if panel_a is None:
        return (f"{array.id}.panel_isc_a", *unknown)
    if unknown:
        return unknown
    most_a = panel_a * array.parameters.get("parallel_count", 1)
    smallest_ah = min(size for size in sizes.values() if size is not None)
    return bool(100 * most_a / smallest_ah < profile.value("trickle_max_percent"))
