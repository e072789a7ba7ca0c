"""What it checks.
The fuses of what stays live on purpose: alarms, trackers, memory.

Why it matters.
The bus that nobody can switch off is for small things. A large fuse on it feeds a large fire, and
invites somebody to hang the cooler on it.

Fails when.
A load that stays live with every switch off is behind a device above the figure, and the owner has
not listed it as meant to stay live.

Passes when.
Its device is small, a fuse of its own is built in, or it is on the owner's list.

Limits.
Loads that are no pump, alarm, tracker or memory and stay live are named by 2.2 and 2.1. Bilge
pumps belong to 10.2, a load without any fuse to 1.1 and 10.9.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.device_sides import DeviceSide
from model.analysis.load_supply import devices_when_off
from model.analysis.served import Served
from model.diagram import Component
from model.kinds.loads import ALWAYS_ON_ROLES
from model.survey import Survey
from rules.daily_use import drawn_a
from rules.fixing import together, with_fields
from rules.new_device import largest_rating_a
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import with_roles
from rules.wording import named

SMALL_ROLES = ALWAYS_ON_ROLES - {"bilge_pump_automatic"}

RULE = Rule(
    slug="large_load_always_on",
    number="10.6",
    title="Large comfort load on the always-on bus",
    topic="safety_circuits",
    severity="caution",
    looks_at="each load that is meant to stay live",
    subjects=lambda survey: with_roles(survey, *SMALL_ROLES),
    messages={"large": "{load} stays live with everything off behind {rated_a}; over {limit_a} it "
                       "is no small load any more."},
    remedy="Move it behind the switch, or fit the smaller fuse its maker asks for.",
    sources=("common_practice",),
    quiet={"listed": "the owner lists it as meant to stay live",
           "built_in": "a fuse of its own is built in"},
    figures=("always_on_device_a",),
    fix="sometimes",
)


def check(load: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one load."""
    graph, limit = survey.graph, profile["always_on_device_a"]
    if True in (load.parameters.get("stays_live"), load.parameters.get("own_fuse")):
        return None
    ratings = {edge.item: edge.device.get("rated_a") for edge in graph.edges
               if edge.item in devices_when_off(graph)[load.id] and edge.role == "overcurrent"}
    large = {item: rated_a for item, rated_a in ratings.items()
             if rated_a is not None and rated_a > limit.value}
    if large:
        return Fault("large", (load.id, *in_order(large)),
                     {"rated_a": max(large.values()), "limit_a": limit},
                     {"load": named(survey.diagram, [load.id])})
    unsaid = tuple(f"{item}.rated_a" for item, rated_a in ratings.items() if rated_a is None)
    return Missing(unsaid, (load.id,)) if unsaid else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer smaller devices where they carry what is behind them: loads alone, of known current."""
    diagram, devices = survey.diagram, finding.where[1:]
    rated_a = largest_rating_a(finding.figures["limit_a"])
    most_a = rated_a * profile.value("continuous_max_ratio")
    sides = [side for side in survey.device_sides if side.item in devices]
    if all(_draws_at_most(side, most_a, survey) for side in sides):
        title = f"Fit {rated_a:g} A as {named(diagram, devices)}"
        yield Fix(title, "choice", together(diagram, title, *(
            partial(with_fields, title=title, item=item, rated_a=rated_a) for item in devices)))


def _draws_at_most(side: DeviceSide, most_a: float, survey: Survey) -> bool:
    drawn = [drawn_a(load, survey) for load in side.behind.loads]
    known = [amperes for amperes in drawn if amperes is not None]
    return (side.behind == Served(loads=side.behind.loads) and len(known) == len(drawn)
            and sum(known) <= most_a)
