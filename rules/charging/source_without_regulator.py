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
diverts at the battery. A fuse or blocking diode is no regulator. What trickles is the sum of all
arrays without a regulator, against the bank they come to first; a count that is not stated is at
least one.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.charging import posts
from model.analysis.joinable import at_highest_post
from model.analysis.reach import always_closed, ever_joined, reach
from model.analysis.solar_inputs import array_a
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
    looks_at="each solar array and wind generator in service",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind in ("solar_array", "wind_generator")
                             and c.stored is not True],
    messages={
        "direct": "What {source} can give reaches {batteries} without a regulator.",
    },
    remedy="Fit a regulator between them, with a fuse at the battery.",
    sources=("common_practice",),
    quiet={
        "trickle": "the most that arrays can give is a trickle for the bank",
        "regulated": "the wind generator has a controller, or a regulator built in",
    },
    figures=("trickle_max_percent",),
)


def check(source: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one source by the batteries that its output reaches."""
    graph = survey.graph
    reached = ever_joined(graph, [graph.number[f"{source.id}.+"]])
    batteries = in_order(posts(graph)[node] for node in reached & posts(graph).keys())
    if not batteries:
        return None
    if source.kind == "wind_generator":
        sources, excused = [source.id], _regulates(source)
    else:
        banks = _nearest(source, survey)
        arrays = [part for part in _arrays(survey) if banks & _nearest(part, survey)]
        sources, excused = in_order(part.id for part in arrays), _is_trickle(
            arrays, [bank for bank in survey.banks if bank.id in banks], survey, profile)
    if excused is True:
        return None
    if isinstance(excused, tuple):
        return Missing(excused, (*sources, *batteries))
    return Fault("direct", (*sources, *batteries), {}, {
        "source": named(survey.diagram, sources),
        "batteries": named(survey.diagram, batteries)})


def _arrays(survey: Survey) -> list[Component]:
    return [part for part in survey.diagram.components.values()
            if part.kind == "solar_array" and part.stored is not True]


def _nearest(array: Component, survey: Survey) -> frozenset[str]:
    """Return the banks that an array is joined to before any other."""
    graph, ends = survey.graph, {node for bank in survey.banks for node in bank.nodes}
    reached = reach(graph, [graph.number[f"{array.id}.+"]],
                    lambda edge, node: node not in ends and always_closed(edge, node))
    return frozenset(bank.id for bank in survey.banks if bank.nodes & reached)


def _regulates(generator: Component) -> bool | tuple[str, ...]:
    """Say whether a generator is regulated; the field that would tell when it is not stated."""
    regulation = generator.parameters.get("regulation")
    return (f"{generator.id}.regulation",) if regulation is None else regulation != "none"


def _is_trickle(
    arrays: list[Component], banks: list[Bank], survey: Survey, profile: Profile
) -> bool | tuple[str, ...]:
    """Say whether arrays give next to nothing for the smallest bank; else what would tell."""
    most = profile.value("trickle_max_percent")
    given_a = sum(array_a(part) for part in arrays if "panel_isc_a" in part.parameters)
    sizes = [_bank_ah(bank, survey) for bank in banks]
    if any(isinstance(size, float) and 100 * given_a >= most * size for size in sizes):
        return False
    unknown = [f"{part.id}.{name}" for part in arrays
               for name in ("panel_isc_a", "parallel_count") if name not in part.parameters]
    unknown += [field for size in sizes if isinstance(size, tuple) for field in size]
    return tuple(unknown) or True


def _bank_ah(bank: Bank, survey: Survey) -> float | tuple[str, ...]:
    """Return the ampere-hours of a bank, or the fields that would tell. [Ah]"""
    sizes = {item: survey.diagram.components[item].parameters.get("capacity_ah")
             for item in at_highest_post(survey.graph, bank.batteries)}
    unknown = tuple(f"{item}.capacity_ah" for item, size in sizes.items() if size is None)
    return unknown or float(sum(size for size in sizes.values() if size is not None))
