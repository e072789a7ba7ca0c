"""What it checks.
Whether the DC negative is joined to the boat's ground: engine, hull, plate or bonding bus.

Why it matters.
Without that one tie a fault to metal makes the metal live and trips nothing, and stray current
finds its own way home, through the shaft.

Fails when.
Negatives are drawn and none leads from the batteries to ground.

Passes when.
One conductor joins them.

Limits.
Boats whose negatives are implied are not judged: the tie would not be drawn either.
"""

from __future__ import annotations

from model.analysis.ground import reaches_ground
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="negative_not_grounded",
    number="7.1",
    title="DC negative is not tied to the ship's ground",
    topic="grounding",
    severity="fault",
    looks_at="the batteries together",
    subjects=lambda survey: [survey.diagram],
    messages={"floating": "No negative leads from {batteries} to engine, hull or earth."},
    remedy="Run one conductor from the main negative to the engine or the ground bus, as large as "
           "starting needs.",
    sources=("iso_earthing", "abyc_e11"),
    quiet={"insulated": "the system is declared insulated",
           "implied": "the negatives are not drawn"},
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    graph, systems = survey.graph, survey.diagram.systems.values()
    drawn = any(s.returns == "drawn" and s.earthing != "insulated" for s in systems)
    batteries = in_order(item for bank in survey.banks for item in bank.batteries)
    posts = [graph.number[f"{item}.-"] for item in batteries]
    if not drawn or reaches_ground(graph, posts):
        return None
    return Fault("floating", tuple(batteries), {},
                 {"batteries": named(survey.diagram, batteries)})
