"""What it checks.
Whether radio, instruments, navigation lights and autopilot all hang on one fuse.

Why it matters.
One chafed wire of a cabin light then leaves the boat blind, dumb and unlit in a shipping lane.

Fails when.
Of so many of these sorts all that is aboard is behind one and the same device.

Passes when.
They are spread over two or more, or one of them has a second supply.

Limits.
The first device on the way back from each is looked at; the main device of a bank is left out. A
feeder that a whole panel shares is not
named: its ways are the split.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.load_supply import behind_main_switch, own_devices
from model.survey import Survey
from rules.ordering import in_order
from rules.own_feed import own_feed
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.safety_loads import role_of, with_roles
from rules.wording import named

SORTS = ("radio", "instrument", "navigation_light", "autopilot")


@dataclass(frozen=True, slots=True)
class Together:
    """Loads of navigation whose whole sorts hang on one device."""

    loads: tuple[str, ...]
    sorts: frozenset[str]
    device: str


def _behind_one(survey: Survey) -> Iterator[Together]:
    """Yield each device with the sorts that wholly hang on it, a bank's main device apart."""
    graph = survey.graph
    devices = {load.id: own_devices(graph)[load.id] for load in with_roles(survey, *SORTS)}
    by_sort: dict[str, list[str]] = {}
    for load in with_roles(survey, *SORTS):
        if devices[load.id]:
            by_sort.setdefault(role_of(load), []).append(load.id)
    for device in in_order({item for own in devices.values() for item in own}):
        sorts = {sort: loads for sort, loads in by_sort.items()
                 if all(devices[load] == {device} for load in loads)}
        loads = in_order(load for several in sorts.values() for load in several)
        if loads and not behind_main_switch(graph, loads[0]):
            yield Together(tuple(loads), frozenset(sorts), device)


RULE = Rule(
    slug="navigation_behind_one_fuse",
    number="10.7",
    title="All navigation critical items behind one fuse",
    topic="safety_circuits",
    severity="caution",
    looks_at="what navigates, speaks and lights, together",
    subjects=_behind_one,
    messages={"one": "{device} alone feeds {loads}: when it opens, all of them are gone."},
    remedy="Split them over two or more fuses.",
    sources=("common_practice",),
    quiet={"two": "one of them has a second supply"},
    figures=("navigation_sorts_count",),
    fix="sometimes",
)


def check(together: Together, survey: Survey, profile: Profile) -> Answer:
    """Judge them by how many sorts there are."""
    if len(together.sorts) < profile.value("navigation_sorts_count"):
        return None
    return Fault("one", (together.device, *together.loads), {}, {
        "device": named(survey.diagram, [together.device]),
        "loads": named(survey.diagram, together.loads)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer one of them a way or fuse of its own, the radio first, where that makes sorts few
    enough.
    """
    device, *loads = finding.where
    parts = survey.diagram.components
    sorts = {role_of(parts[load]): load for load in reversed(loads)}
    if len(sorts) <= profile.value("navigation_sorts_count"):
        first = min(sorts, key=SORTS.index)
        yield from own_feed(survey, profile, sorts[first], device)
