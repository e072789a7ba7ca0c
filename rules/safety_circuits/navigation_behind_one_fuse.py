"""What it checks.
Whether radio, instruments, navigation lights and autopilot all hang on one fuse.

Why it matters.
One chafed wire of a cabin light then leaves the boat blind, dumb and unlit in a shipping lane.

Fails when.
Loads of so many of these sorts are aboard, and all of them are behind one and the same device.

Passes when.
They are spread over two or more, or one of them has a second supply.

Limits.
The first device on the way back from each is looked at. A feeder that a whole panel shares is not
named: its ways are the split.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.load_supply import own_devices
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.safety_loads import role_of, with_roles
from rules.wording import named

SORTS = ("radio", "instrument", "navigation_light", "autopilot")


@dataclass(frozen=True, slots=True)
class Together:
    """All loads of navigation, and the one device before all of them."""

    loads: tuple[str, ...]
    sorts: frozenset[str]
    device: str


def _behind_one(survey: Survey) -> Iterator[Together]:
    loads = with_roles(survey, *SORTS)
    devices = {own_devices(survey.graph)[load.id] for load in loads}
    if len(devices) == 1:
        for device in (one for one in devices if len(one) == 1):
            yield Together(tuple(in_order(load.id for load in loads)),
                           frozenset(map(role_of, loads)), next(iter(device)))


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
)


def check(together: Together, survey: Survey, profile: Profile) -> Answer:
    """Judge them by how many sorts there are."""
    if len(together.sorts) < profile.value("navigation_sorts_count"):
        return None
    return Fault("one", (together.device, *together.loads), {}, {
        "device": named(survey.diagram, [together.device]),
        "loads": named(survey.diagram, together.loads)})
