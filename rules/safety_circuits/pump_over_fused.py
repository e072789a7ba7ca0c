"""What it checks.
The fuse of each bilge pump against what its maker allows.

Why it matters.
A pump that is jammed by a rag draws several times its current. A fuse that bears that lets the
motor burn, and a motor that burns pumps nothing.

Fails when.
The worst device before the pump is rated above the maker's figure, or where none is recorded above
the figure times its running current.

Passes when.
It is not.

Limits.
A pump without any device before it belongs to 1.1 and 1.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_supply import own_devices
from model.diagram import Component
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.daily_use import drawn_a
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.safety_loads import with_roles
from rules.wording import named

RULE = Rule(
    slug="pump_over_fused",
    number="10.2",
    title="Bilge pump feed unfused or over-fused",
    topic="safety_circuits",
    severity="danger",
    looks_at="each bilge pump",
    subjects=lambda survey: with_roles(survey, "bilge_pump_automatic", "bilge_pump_manual"),
    messages={
        "maker": "{pump} is protected by {rated_a}; its maker allows {limit_a} at most.",
        "usual": "{pump} is protected by {rated_a}, more than {limit_ratio} times the {drawn_a} it "
                 "draws.",
    },
    remedy="Fit the fuse of the pump's maker near the battery.",
    sources=("abyc_e11_overcurrent", "common_practice"),
    quiet={"maker": "the maker's figure is recorded and covers the fuse",
           "own": "the pump has a fuse of its own built in"},
    figures=("pump_fuse_ratio",),
    fix="sometimes",
)


def check(pump: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one pump."""
    node = survey.graph.number[f"{pump.id}.+"]
    bounds = None if node in survey.unfused_reach else survey.largest_before(node)
    if bounds is None or pump.parameters.get("own_fuse") is True:
        return None
    limit = _limit(pump, survey, profile)
    if limit is None:
        return Missing((f"{pump.id}.maker_fuse_max_a",), (pump.id,))
    message, limit_a, told = limit
    low_a, high_a = bounds
    if high_a <= limit_a:
        return None
    if low_a <= limit_a:
        own = own_devices(survey.graph)[pump.id]
        unrated = in_order({edge.item for edge in survey.graph.edges if edge.item in own
                            and edge.role == "overcurrent" and "rated_a" not in edge.device})
        return Missing(tuple(f"{item}.rated_a" for item in unrated), (pump.id, *unrated))
    return Fault(message, (pump.id,), {"rated_a": high_a, "limit_a": limit_a, **told},
                 {"pump": named(survey.diagram, [pump.id])})


def _limit(
    pump: Component, survey: Survey, profile: Profile
) -> tuple[str, float, dict[str, float | Sourced]] | None:
    """Return whose limit it is, the largest rating [A] and what it rests on; None if unknown."""
    maker_a: float | None = pump.parameters.get("maker_fuse_max_a")
    if maker_a:
        return "maker", maker_a, {}
    running_a, ratio = drawn_a(pump.id, survey), profile["pump_fuse_ratio"]
    return None if running_a is None else (
        "usual", round(ratio.value * running_a, 2), {"limit_ratio": ratio, "drawn_a": running_a})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the largest fuse within the limit where the pump has one device to itself."""
    pump = finding.where[0]
    devices = own_devices(survey.graph)
    own = in_order(devices[pump])
    alone = len(own) == 1 and "." not in own[0] and not any(
        own[0] in others for load, others in devices.items() if load != pump)
    fits = [a for a in standard_device_ratings_a() if a <= finding.figures["limit_a"]]
    if alone and fits:
        title = f"Fit {max(fits):g} A as {named(survey.diagram, own)}"
        yield Fix(title, "choice",
                  with_fields(survey.diagram, title, own[0], rated_a=max(fits)))
