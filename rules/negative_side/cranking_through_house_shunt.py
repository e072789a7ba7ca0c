"""What it checks.
Each shunt in a drawn negative: whether the current of a starter passes it that another bank feeds.

Why it matters.
Hundreds of amperes of cranking through a shunt that is sized for lamps overheat it, and the
monitor counts them as the house bank's.

Fails when.
The start bank's negative and the starter's meet over the shunt alone, and its ratings are below the
cranking current.

Passes when.
The start bank's negative goes to the system's side, or the shunt is rated for it.

Limits.
Cranking from the counted bank itself belongs to 8.5. Only drawn negatives are followed.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.fed_by import starters_fed
from model.analysis.shunts import Shunted, carries_cranking, shunted_banks
from model.survey import Survey
from rules.fixing import moved
from rules.profiles import Profile
from rules.rewiring import other_end, terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="cranking_through_house_shunt",
    number="8.3",
    title="Starter current passes through the house shunt",
    topic="negative_side",
    severity="caution",
    looks_at="each shunt in a negative",
    subjects=shunted_banks,
    messages={
        "cranking": "The {current_a} of {starter} return through {shunt}, which is rated for "
                    "{rated_a}.",
    },
    remedy="Take the start bank's negative straight to the main negative on the system's side.",
    sources=("common_practice",),
    quiet={"rated": "the shunt is rated at or above the cranking current"},
    fix="sometimes",
)


def check(shunted: Shunted, survey: Survey, profile: Profile) -> Answer:
    """Judge one shunt by the starters whose current passes it."""
    components = survey.diagram.components
    shunt = components[shunted.shunt].parameters
    starters = carries_cranking(survey, shunted)
    if not starters:
        return None
    ratings = [shunt[name] for name in ("rated_a", "short_time_a") if name in shunt]
    unsaid = [f"{item}.cranking_a" for item in starters
              if "cranking_a" not in components[item].parameters]
    if unsaid or not ratings:
        fields = (*unsaid, *(() if ratings else (f"{shunted.shunt}.rated_a",)))
        return Missing(fields, (shunted.shunt, *starters))
    worst = max(starters, key=lambda item: components[item].parameters["cranking_a"])
    current_a = components[worst].parameters["cranking_a"]
    if current_a <= max(ratings):
        return None
    return Fault(
        "cranking", (shunted.shunt, worst), {"current_a": current_a, "rated_a": max(ratings)},
        {"starter": named(survey.diagram, [worst]),
         "shunt": named(survey.diagram, [shunted.shunt])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the start battery's negative to the system's side of the shunt."""
    diagram = survey.diagram
    shunted = next(s for s in shunted_banks(survey) if s.shunt == finding.where[0])
    for battery in sorted(starters_fed(survey.graph)[finding.where[1]]):
        minus = f"{battery}.-"
        wires = [w for w in diagram.conductors.values()
                 if minus in {f"{e.component}.{e.terminal}" for e in w.ends()}]
        if len(wires) == 1:
            target = terminal_name(survey.graph, shunted.system_node)
            title = f"Take {named(diagram, [wires[0].id])} to {target}"
            yield Fix(title, "choice", moved(
                diagram, title, wires[0].id, other_end(wires[0], minus), target))
