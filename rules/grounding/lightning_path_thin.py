"""What it checks.
The conductors of the lightning system, from mast to water.

Why it matters.
Tens of thousands of amperes take the thick straight way, or burst the thin one and take what is
beside it.

Fails when.
One of them has less copper than the figure.

Passes when.
All are heavy.

Limits.
Conductors of the purpose "lightning" are taken for the path.
"""

from __future__ import annotations

from model.analysis.copper import copper_mm2
from model.diagram import Conductor
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="lightning_path_thin",
    number="7.14",
    title="Lightning conductor joined to small negative wires",
    topic="grounding",
    severity="caution",
    looks_at="each conductor of the lightning system",
    subjects=lambda survey: [wire for wire in survey.diagram.conductors.values()
                             if wire.purpose == "lightning"],
    messages={"thin": "{wire} has {copper_mm2} on the way from mast to water; {limit_mm2} is the "
                      "least."},
    remedy="Run a heavy path of its own, as straight as can be.",
    sources=("abyc_te4",),
    quiet={"none": "the boat has no lightning system"},
    figures=("lightning_mm2",),
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if survey.diagram.boat.lightning_system is False:
        return None
    copper, limit = copper_mm2(wire), profile["lightning_mm2"]
    if copper is None:
        return Missing((f"{wire.id}.size",), (wire.id,))
    return Fault("thin", (wire.id,), {"copper_mm2": round(copper, 1), "limit_mm2": limit},
                 {"wire": named(survey.diagram, [wire.id])}) if copper < limit.value else None
