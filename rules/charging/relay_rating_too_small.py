"""What it checks.
The rating of voltage-sensing relays against what a windlass, winch, thruster or inverter pulls
through them while they are closed.

Why it matters.
While the engine charges, the relay is closed and both banks feed the anchor windlass. A relay
beyond its rating heats, its contacts weld, and the banks stay joined for good.

Fails when.
Such a load draws more than the relay is rated for, and as much truly flows through the relay while
it is closed and all sources give.

Passes when.
The rating covers it, or the current as solved stays below it: a long thin lead limits it too.

Limits.
Solved with copper at 20 °C and batteries in use. What flows for long, an alternator's output above
all, is judged by 2.5, as are contactors and relays that a coil works.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from model.analysis.design_current import WORKING
from model.analysis.fed_by import fed_loads
from model.analysis.heavy_loads import heavy_a, heavy_field, is_heavy
from model.analysis.relays_between_banks import RelayBetween, relays_between, side_v
from model.analysis.through_current import by_edges
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="relay_rating_too_small",
    number="3.9",
    title="Relay rating too small",
    topic="charging",
    severity="fault",
    looks_at="each voltage-sensing relay between two banks",
    subjects=lambda survey: relays_between(survey.graph),
    messages={
        "pulled": "While {relay} is closed, {load} pulls {current_a} through it; it is rated for "
                  "{rated_a}.",
    },
    remedy="Fit a larger relay, or keep heavy loads off the far bank.",
    sources=("common_practice",),
    quiet={
        "limited": "the relay limits the current, or opens on high discharge",
        "lead": "a long thin lead keeps the current below the rating",
    },
    fix="always",
)


def check(between: RelayBetween, survey: Survey, profile: Profile) -> Answer:
    """Judge one relay by the heavy loads on either side, the largest first."""
    relay = between.relay
    if relay.parameters.get("opens_on_discharge") is True:
        return None
    drawn = _drawn(between, survey)
    rated_a = relay.parameters.get("rated_a")
    if rated_a is None:
        return Missing((f"{relay.id}.rated_a",), (relay.id, *in_order(drawn))) if drawn else None
    known = {load: load_a for load, load_a in drawn.items() if load_a is not None}
    for load in sorted(in_order(known), key=lambda item: -known[item]):
        if known[load] > rated_a:
            current_a = _through(relay.id, load, known[load], survey)
            if current_a > rated_a:
                return Fault("pulled", (relay.id, load),
                             {"current_a": current_a, "rated_a": rated_a},
                             {"relay": named(survey.diagram, [relay.id]),
                              "load": named(survey.diagram, [load])})
    unknown = [load for load in in_order(drawn) if load not in known]
    return Missing(tuple(heavy_field(survey.diagram.components[load]) for load in unknown),
                   (relay.id, *unknown)) if unknown else None


def _drawn(between: RelayBetween, survey: Survey) -> dict[str, float | None]:
    """Return what the heavy loads on both sides draw, None where it is not stated. [A]"""
    components = survey.diagram.components
    return {load: heavy_a(components[load], side_v(survey.graph, side)) for side in between.sides
            for load in fed_loads(survey.graph, side.batteries, {}) if is_heavy(components[load])}


def _through(relay: str, load: str, load_a: float, survey: Survey) -> float:
    """Return what flows through a closed relay while a load runs and all sources give. [A]"""
    charge = {c.id: WORKING for c in survey.diagram.components.values()}
    state = replace(survey.state(positions={relay: "on"}, load_a={load: load_a}), charge=charge)
    point = survey.operating_point(state)
    return round(by_edges(survey, relay, "contact")(point), 1)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a relay of the next hundred amperes."""
    relay = finding.where[0]
    larger_a = 100.0 * math.ceil(finding.figures["current_a"] / 100)
    title = f"Fit a relay of {larger_a:g} A as {named(survey.diagram, [relay])}"
    yield Fix(title, "choice", with_fields(survey.diagram, title, relay, rated_a=larger_a))
