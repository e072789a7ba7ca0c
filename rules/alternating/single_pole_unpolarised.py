"""What it checks.
Boats whose shore supply may have live and neutral exchanged: whether every breaker opens both.

Why it matters.
Opened in the neutral, a circuit is "off" and live. Who then unscrews the lamp is killed.

Fails when.
A main or branch opens one conductor and polarity is not assured.

Passes when.
All open both, or the supply is polarised, or a transformer is aboard.

Limits.
A polarised supply without an indicator belongs to 9.3.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from model.analysis.single_pole import SinglePole, single_pole
from model.survey import Survey
from rules.double_pole import double_pole
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _single(survey: Survey) -> Iterable[SinglePole]:
    return (single_pole(survey.graph),)


RULE = Rule(
    slug="single_pole_unpolarised",
    number="9.11",
    title="Single-pole breakers in an unpolarised supply",
    topic="alternating",
    severity="danger",
    looks_at="the devices that open one pole of what the shore feeds, together",
    subjects=_single,
    messages={"single": "{devices:opens/open} one conductor; which one is live depends on "
                        "the plug."},
    remedy="Fit double-pole breakers.",
    sources=("iso_ac",),
    quiet={"polarised": "the supply is polarised", "transformer": "a transformer is aboard"},
    fix="always",
)


def check(single: SinglePole, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    assured = survey.diagram.boat.shore_polarity_assured
    if assured is True:
        return None
    if single.devices and assured is False:
        return Fault("single", single.devices, {},
                     {"devices": named(survey.diagram, single.devices)})
    asked = ("boat.shore_polarity_assured",) if single.devices else single.unsaid
    return Missing(asked, single.devices) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer double-pole breakers."""
    yield double_pole(survey, finding.where)
