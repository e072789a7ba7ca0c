"""What it checks.
Each load and each panel, with what hangs on the same point: through how many fuses it is fed.

Why it matters.
Who pulls the fuse of a circuit and finds it live still is hurt, or makes a short with his tool.

Fails when.
In a usual state two fuses or breakers feed one point, so that neither makes it dead by itself.

Passes when.
One device makes it dead; or a change-over switch takes one supply at a time.

Limits.
Where each feed comes through a bank's main switch, banks are in parallel and 2.7 speaks. The fuses
of single batteries of one bank count as one. Starters are left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.feeds import FedPoint, fed_points
from model.survey import Survey
from rules.fixing import without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="two_supplies_to_one_load",
    number="2.10",
    title="Two supplies to one load",
    topic="isolation",
    severity="danger",
    looks_at="each point where loads or panels are fed through two devices or more",
    subjects=lambda survey: fed_points(survey.graph, survey.banks),
    messages={
        "two_feeds": "{devices} feed {loads} at once: opening one of them leaves {loads} live.",
    },
    remedy="Leave one feed, or fit a change-over switch; where two feeds are wanted, fit diodes "
           "and label both fuses.",
    sources=("common_practice",),
    quiet={
        "changeover": "a change-over switch takes one supply at a time",
        "blocks": "they are the fuses of single batteries of one bank",
        "mains": "each feed comes through a bank's main switch: 2.7 judges it",
        "redundant": "diodes part two supplies that are wanted, both fuses labelled",
    },
    fix="sometimes",
)


def check(point: FedPoint, survey: Survey, profile: Profile) -> Answer:
    """Judge one point with two feeds."""
    components = survey.diagram.components
    if point.by_diodes:
        wanted = [components[item].parameters.get("two_feeds_wanted") for item in point.loads]
        if all(answer is True for answer in wanted):
            return None
        unsaid = [item for item, answer in zip(point.loads, wanted, strict=True) if answer is None]
        if False not in wanted:
            return Missing(tuple(f"{item}.two_feeds_wanted" for item in unsaid), point.loads)
    return Fault("two_feeds", (*point.loads, *point.devices), {}, {
        "loads": named(survey.diagram, point.loads),
        "devices": named(survey.diagram, point.devices)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take one feed away: the conductor between its device and the point."""
    point = next((p for p in fed_points(survey.graph, survey.banks)
                  if finding.where == (*p.loads, *p.devices)), None)
    if point is None or len(point.devices) > 2:
        return
    for wire in in_order(point.last_leads):
        title = f"Take {named(survey.diagram, [wire])} away"
        yield Fix(title, "choice", without(survey.diagram, title, [wire]))
