"""What it checks.
Each fuse, breaker and switch that opens a negative and no positive.

Why it matters.
When a common return opens, its current looks for another way home: through data cables, bonding and
the shields of antennas, which burn.

Fails when.
In a system with earthed negative it splits the return of a bank or of more than one load.

Passes when.
Nothing but conductors and bars is in the common return.

Limits.
A switch in the negative that is the only one of a bank or load belongs to 2.9. Contacts that a
management unit works are left to its maker.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.negatives import NegativeCut, earthing, sole_disconnect_of
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rewiring import taken_out
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="common_return_opened",
    number="8.10",
    title="Negative switch or fuse splits a common return",
    topic="negative_side",
    severity="danger",
    looks_at="each device that opens a negative alone",
    subjects=lambda survey: survey.negative_cuts,
    messages={
        "splits": "{device} can open the common return of {parted}: the current would go home "
                  "through data cables, bonding or shields.",
    },
    remedy="Take it out of the negative.",
    sources=("common_practice",),
    quiet={
        "two_pole": "the system is insulated and both poles are opened",
        "one_load": "nothing but one load hangs on it",
        "sole": "it is all that parts a bank or load by hand: 2.9 judges it",
        "management": "a management unit works it",
    },
    fix="sometimes",
)


def check(cut: NegativeCut, survey: Survey, profile: Profile) -> Answer:
    """Judge one device in a negative."""
    if _is_automatic(cut, survey) or sole_disconnect_of(survey, cut):
        return None
    parted = cut.batteries or cut.loads
    if not cut.batteries and len(cut.loads) < 2:
        return None
    earthed, system = earthing(survey, parted[0])
    if earthed is None:
        return Missing((f"{system}.earthing",), (cut.part, *parted))
    if earthed == "insulated":
        return None
    return Fault("splits", (cut.part, *parted), {}, {
        "device": named(survey.diagram, [cut.part]), "parted": named(survey.diagram, parted)})


def _is_automatic(cut: NegativeCut, survey: Survey) -> bool:
    """Say whether a coil opens it, and neither a hand nor an overcurrent."""
    contacts = [e for e in survey.graph.edges_of[cut.part] if e.role == "contact"]
    return bool(contacts) and not cut.switch


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take it out, or to let it open the positive where the return is implied."""
    cut = next(c for c in survey.negative_cuts if c.part == finding.where[0])
    diagram = survey.diagram
    if cut.mirrored:
        title = f"Let {named(diagram, [cut.part])} open the positive"
        yield Fix(title, "mechanical", with_fields(diagram, title, cut.part, poles="+"))
        return
    title = f"Take {named(diagram, [cut.part])} out of the negative"
    edit = taken_out(diagram, title, cut.part)
    if edit is not None:
        yield Fix(title, "mechanical", edit)
