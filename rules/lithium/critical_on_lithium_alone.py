"""What it checks.
Navigation lights, radio, instruments and what the owner marks critical: which batteries can feed
them.

Why it matters.
When the management of the lithium bank opens, everything on it is gone at once, with no dimming
before.

Fails when.
In no position of the switches anything but lithium feeds them.

Passes when.
A change-over or link brings another battery.

Limits.
Relays that close by themselves do not count. The loads of one bank are one finding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import is_lithium
from model.analysis.load_supply import batteries_at_will
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import role_of
from rules.wording import named

CRITICAL = ("navigation_light", "radio", "instrument")


@dataclass(frozen=True, slots=True)
class OnOneBank:
    """Critical loads that the same batteries can feed, and no others."""

    batteries: frozenset[str]
    loads: tuple[str, ...]


def _by_bank(survey: Survey) -> Iterator[OnOneBank]:
    groups: dict[frozenset[str], list[str]] = {}
    for part in survey.diagram.components.values():
        if role_of(part) in CRITICAL or part.parameters.get("critical") is True:
            groups.setdefault(batteries_at_will(survey.graph, part.id), []).append(part.id)
    yield from (OnOneBank(batteries, tuple(in_order(loads)))
                for batteries, loads in groups.items() if batteries)


RULE = Rule(
    slug="critical_on_lithium_alone",
    number="6.5",
    title="Navigation and radio depend on the lithium bank alone",
    topic="lithium",
    severity="caution",
    looks_at="the critical loads that the same batteries can feed",
    subjects=_by_bank,
    messages={"alone": "Nothing but {batteries} feeds {loads}: when the management opens, that is "
                       "dark."},
    remedy="Fit a change-over to the start bank for radio and lights.",
    sources=("abyc_e13",),
    quiet={"changeover": "a change-over or link to another battery is drawn"},
)


def check(group: OnOneBank, survey: Survey, profile: Profile) -> Answer:
    """Judge the critical loads of one bank."""
    batteries = in_order(group.batteries)
    of_lithium = {item: is_lithium(survey.diagram.components[item]) for item in batteries}
    if False in of_lithium.values():
        return None
    unsaid = tuple(f"{item}.chemistry" for item, known in of_lithium.items() if known is None)
    if unsaid:
        return Missing(unsaid, (*group.loads, *batteries))
    return Fault("alone", (*group.loads, *batteries), {}, {
        "loads": named(survey.diagram, group.loads),
        "batteries": named(survey.diagram, batteries)})
