"""What it checks.
The list of fuses in the papers being printed: whether it is there, with rating and type of each.

Why it matters.
At sea the list says what goes back into the holder. A gap in it is filled with whatever fits.

Fails when.
The list of protection is not among the sheets, or a fuse or breaker on it has no rating, or a fuse
no class.

Passes when.
The list is printed and complete.

Limits.
The fuses of panels and blocks count by their ways, stored spares do not. Where each one is belongs
to 12.13. It speaks when papers are printed.
"""

from __future__ import annotations

from model.graph import Edge
from model.survey import Survey
from rules.fuses_aboard import devices_aboard, is_fuse
from rules.ordering import in_order
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="fuse_list_incomplete",
    number="12.2",
    title="Fuse without a rating and position on the fuse list",
    topic="papers",
    severity="fault",
    looks_at="the list of protection that is printed",
    subjects=lambda survey: [],
    messages={
        "no_list": "The papers have {devices} and no list of protection.",
        "gaps": "On the list of protection rating or class is missing for {devices}.",
    },
    remedy="Write rating and class down, and print the list.",
    sources=("survey_lists",),
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the list."""
    devices = devices_aboard(survey)
    gaps = (item for item, edge in devices.items() if _has_gap(edge, survey))
    missing = "protection" not in papers.lists
    found = tuple(in_order(devices if missing else gaps))
    return Fault("no_list" if missing else "gaps", found, {},
                 {"devices": named(survey.diagram, found)}) if found else None


def _has_gap(edge: Edge, survey: Survey) -> bool:
    unclassed = is_fuse(edge, survey) and "class" not in edge.device
    return edge.device.get("rated_a") is None or unclassed
