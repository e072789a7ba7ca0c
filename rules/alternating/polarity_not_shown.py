"""What it checks.
Boats whose breakers open the live conductor alone: whether something shows that live and neutral
are exchanged.

Why it matters.
With the wrong plug on the quay every switch aboard opens the neutral, and what is "off" stays live.

Fails when.
The supply is polarised, a branch opens one pole, and no indicator is fitted.

Passes when.
An indicator is there, all open both poles, or a transformer polarises.

Limits.
A supply whose polarity is not assured belongs to 9.11.
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
    slug="polarity_not_shown",
    number="9.3",
    title="Reverse-polarity indicator missing",
    topic="alternating",
    severity="fault",
    looks_at="the devices that open one pole of what the shore feeds, together",
    subjects=_single,
    messages={"dark": "{devices:opens/open} the live conductor alone, and nothing shows when "
                      "live and neutral are exchanged."},
    remedy="Fit an indicator, or breakers that open both.",
    sources=("abyc_e11", "iso_ac_earthing"),
    quiet={"double": "all of them open both", "transformer": "a transformer polarises"},
    fix="always",
)


def check(single: SinglePole, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    assured = survey.diagram.boat.shore_polarity_assured
    shown = any(part.kind == "polarity_indicator" for part in survey.diagram.components.values())
    if assured is False or shown:
        return None
    if single.devices and assured:
        return Fault("dark", single.devices, {},
                     {"devices": named(survey.diagram, single.devices)})
    asked = ("boat.shore_polarity_assured",) if single.devices else single.unsaid
    return Missing(asked, single.devices) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer double-pole breakers."""
    yield double_pole(survey, finding.where)
