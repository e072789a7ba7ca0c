"""What it checks.
Whether battery posts and positive bars are covered.

Why it matters.
A spanner that falls across bare posts is welded there by hundreds of amperes, and the battery may
burst.

Fails when.
The terminals of a battery or of a positive bar are recorded as not covered, and no closed box
stands around them.

Passes when.
They are covered, or the battery stands in a closed box, or the bar in an enclosure.

Limits.
A bar is taken for what it is wired to, else for what is noted of it. In an insulated system the
negative bars count too. Only eyes can tell: until it is answered the question stands on the list of
what to look at aboard.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.negatives import earthing
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

BARS = ("busbar", "terminal_block", "stud")
# What stands around a part of each kind.
AROUND = {"battery_bank": "boxed", "busbar": "enclosed", "terminal_block": "enclosed"}


def _posts_and_bars(survey: Survey) -> Iterator[Component]:
    for part in survey.diagram.components.values():
        bar = part.kind in BARS and _is_live(part, survey)
        if (part.kind == "battery_bank" or bar) and part.stored is not True:
            yield part


def _is_live(bar: Component, survey: Survey) -> bool:
    """Say whether a bar is of an ungrounded pole: both are in an insulated system."""
    sides = {survey.potentials[node].side for node in survey.graph.nodes_of(bar.id)}
    if "+" in sides:
        return True
    if "-" in sides or bar.parameters.get("pole") == "-":
        return earthing(survey, bar.id)[0] == "insulated"
    return True


RULE = Rule(
    slug="terminals_uncovered",
    number="5.9",
    title="Terminals uncovered",
    topic="batteries",
    severity="fault",
    looks_at="each battery and positive bar",
    subjects=_posts_and_bars,
    messages={"bare": "The terminals of {part} are not covered."},
    remedy="Fit boots on the posts, or a lid.",
    sources=("abyc_e10", "iso_batteries", "survey_lists"),
    quiet={"boxed": "it stands in a closed box or an enclosure"},
    questions={
        "covered": "{item}: are all its terminals covered by boots or a lid?",
        "boxed": "{item}: does it stand in a closed battery box?",
        "enclosed": "{item}: is it inside an enclosure?",
    },
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery or bar."""
    around = AROUND.get(part.kind)
    closed = around is not None and part.parameters.get(around)
    covered = part.parameters.get("covered")
    if covered is True or closed is True:
        return None
    if covered is None:
        return Missing((f"{part.id}.covered",), (part.id,))
    if closed is None:
        return Missing((f"{part.id}.{around}",), (part.id,))
    return Fault("bare", (part.id,), {}, {"part": named(survey.diagram, [part.id])})
