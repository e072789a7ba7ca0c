"""What it checks.
The cranking current of the batteries on each starter against what the engine and the starter need.

Why it matters.
On the first cold morning, or with the battery half flat, the engine does not turn.

Fails when.
The rating is below the engine maker's figure, or the starter draws more than the figure's share of
it.

Passes when.
It covers both.

Limits.
Batteries joined as main switches usually stand are summed, with the solenoid that cranks closed.
Standards of rating are not converted. What the engine needs is asked where the engine is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.circuit_switches import in_use
from model.analysis.fed_by import starters_fed
from model.survey import Survey
from rules.new_batteries import stronger
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="cranking_too_weak",
    number="5.6",
    title="Cranking ability too small",
    topic="batteries",
    severity="fault",
    looks_at="each starter with the batteries that feed it",
    subjects=lambda survey: [
        (starter, tuple(in_order(batteries)))
        for starter, batteries in starters_fed(survey.graph, in_use(survey.graph)).items()
        if batteries],
    messages={
        "engine": "The cranking current of {batteries} is {rated_a}; the engine of {starter} needs "
                  "{needed_a}.",
        "starter": "{starter} draws {drawn_a}; the cranking current of {batteries} is {rated_a}, "
                   "and {limit_a} of that may be counted on.",
    },
    remedy="Fit a larger start battery.",
    sources=("engine_makers",),
    quiet={"warm": "the area never gets cold"},
    figures=("cranking_share_ratio", "warm_start_c"),
    fix="sometimes",
)


def check(cranked: tuple[str, tuple[str, ...]], survey: Survey, profile: Profile) -> Answer:
    """Judge one starter."""
    starter, batteries = cranked
    parts = survey.diagram.components
    engine = parts.get(str(parts[starter].parameters.get("driven_by", "")))
    needed_a = None if engine is None else engine.parameters.get("cranking_need_a")
    drawn_a = parts[starter].parameters.get("cranking_a")
    where = (starter, *batteries)
    ratings = {item: parts[item].parameters.get("cranking_a") for item in batteries}
    unsaid = tuple(f"{item}.cranking_a" for item, rating in ratings.items() if rating is None)
    if unsaid:
        return Missing(unsaid, where)
    rated_a = float(sum(rating for rating in ratings.values() if rating is not None))
    names = {"starter": named(survey.diagram, [starter]),
             "batteries": named(survey.diagram, batteries)}
    if needed_a is not None and rated_a < needed_a:
        return Fault("engine", where, {"rated_a": rated_a, "needed_a": needed_a}, names)
    limit_a = round(rated_a * profile.value("cranking_share_ratio"), 1)
    coldest_c = survey.diagram.boat.lowest_temperature_c
    if coldest_c is not None and coldest_c >= profile.value("warm_start_c"):
        return None
    if drawn_a is not None and drawn_a > limit_a:
        return Fault("starter", where, {
            "drawn_a": drawn_a, "rated_a": rated_a, "limit_a": limit_a}, names)
    asked = [f"{starter}.cranking_a"] if drawn_a is None else []
    if engine is not None and needed_a is None:
        asked.append(f"{engine.id}.cranking_need_a")
    return Missing(tuple(asked), where) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a stronger battery where one alone cranks, for the engine and for the starter."""
    starter, *batteries = finding.where
    parts = survey.diagram.components
    engine = parts.get(str(parts[starter].parameters.get("driven_by", "")))
    drawn_a = parts[starter].parameters.get("cranking_a", 0.0)
    needed_a = 0.0 if engine is None else engine.parameters.get("cranking_need_a", 0.0)
    least_a = max(needed_a, drawn_a / profile.value("cranking_share_ratio"))
    if len(batteries) == 1:
        yield stronger(survey, batteries[0], least_a)
