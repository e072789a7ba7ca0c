"""What it checks.
Whether the size of each DC conductor is recorded.

Why it matters.
Without a size neither protection nor voltage drop of that conductor can be judged: other checks
say so and pass over it.

Fails when.
No size is recorded on a conductor that carries more than a small current.

Passes when.
The size is recorded, or the conductor carries a small current only.

Limits.
The current is the sum of what is rated at the side away from the batteries. The AC side is not
looked at.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import OTHER_PURPOSES
from model.analysis.reach import always_closed, reach
from model.diagram import Component, Conductor
from model.graph import Edge
from model.kinds import kind_of
from model.kinds.conversion import charging_kinds
from model.survey import Survey
from rules.always_on import current_a
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

_RATINGS = {**charging_kinds(), "alternator": "rated_a", "wind_generator": "rated_a",
            "dc_dc_converter": "rated_output_a", "inverter": "current_a"}
QUIET_PURPOSES = OTHER_PURPOSES | {"control"}


def _conductors(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        if {"+", "-"} & set(wire.cores) and wire.purpose not in QUIET_PURPOSES:
            yield wire


RULE = Rule(
    slug="size_missing",
    number="4.19",
    title="Size missing",
    topic="conductors",
    severity="note",
    looks_at="each DC conductor that carries power",
    subjects=_conductors,
    messages={
        "no_size": "The size of {wire} is not recorded, and it carries {current_a}, more than "
                   "{limit_a}; checks of its protection are skipped.",
        "between": "The size of {wire} is not recorded, and it lies between batteries or in a "
                   "ring; checks of its protection are skipped.",
        "starter": "The size of {wire} is not recorded, and it carries what the starter draws; "
                   "checks of its voltage drop are skipped.",
    },
    remedy="Read the print on the jacket, or measure the bundle of strands.",
    sources=("common_practice",),
    quiet={
        "signal": "it is a signal or data wire",
        "ac": "it is an AC cable",
        "small": "it carries a small current only",
    },
    figures=("small_current_a",),
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.size is not None:
        return None
    names = {"wire": named(survey.diagram, [wire.id])}
    if wire.id in survey.starter_circuit:
        return Fault("starter", (wire.id,), {}, names)
    edge = next(e for e in survey.graph.edges_of[wire.id] if e.core in ("+", "-"))
    sides = [side for node in (edge.a, edge.b)
             if (side := _parts_behind(survey, edge, node)) is not None]
    if not sides:
        return Fault("between", (wire.id,), {}, names)
    draws = [[(part.id, _rated_a(part)) for part in side if _carries(part)] for side in sides]
    fullest = max(draws, key=_known_a)
    total = round(_known_a(fullest), 3)
    limit = profile["small_current_a"]
    if total > limit.value:
        return Fault("no_size", (wire.id,), {"current_a": total, "limit_a": limit}, names)
    unknown = tuple(item for item, amps in fullest if amps is None)
    if unknown:
        return Missing(tuple(f"{item}.current_a" for item in unknown), (wire.id, *unknown))
    return None


def _known_a(draws: list[tuple[str, float | None]]) -> float:
    """Return the sum of the currents that are known. [A]"""
    return sum(amps for _, amps in draws if amps is not None)


def _parts_behind(survey: Survey, edge: Edge, node: int) -> list[Component] | None:
    """Return the parts on a node's side of a conductor, None when a battery is among them."""
    graph = survey.graph
    nodes = reach(graph, [node], lambda e, n: e.owner != edge.owner and (
        always_closed(e, n) or e.role == "diode"))
    parts = [survey.diagram.components[item]
             for item in sorted({graph.component_of[n] for n in nodes})]
    return None if any(part.kind == "battery_bank" for part in parts) else parts


def _carries(part: Component) -> bool:
    return part.kind in _RATINGS or kind_of(part).role == "load"


def _rated_a(part: Component) -> float | None:
    """Return the current a part draws or gives, by whichever field says so. [A]."""
    field = _RATINGS.get(part.kind)
    value = None if field is None else part.parameters.get(field)
    return current_a(part) if value is None else float(value)
