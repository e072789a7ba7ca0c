"""What it checks.
Whether the papers being printed have the page of limits and shutdown, on a boat with lithium.

Why it matters.
When the management shuts down at night in a channel, the page says what went out, why, and what
brings it back.

Fails when.
A lithium battery is aboard and the page is not among the sheets, or its limits of charge and
discharge are blank.

Passes when.
The page is printed with them, the currents of an external unit included, or there is no lithium.

Limits.
Whether the limits are right is only in the maker's sheet. It speaks when papers are printed.
"""

from __future__ import annotations

from model.analysis.management import stated_limit
from model.diagram import Component
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

LIMITS = ("max_charge_v", "max_charge_a", "max_discharge_a")

RULE = Rule(
    slug="lithium_page_missing",
    number="12.15",
    title="Lithium limits and shutdown behaviour not in the pack",
    topic="papers",
    severity="fault",
    looks_at="the page of lithium batteries that is printed",
    subjects=lambda survey: [],
    messages={
        "missing": "{batteries}: lithium, and the page of its limits is not among the papers.",
        "blank": "On the page of lithium batteries the limits of {batteries} are blank.",
    },
    remedy="Write the limits down from the maker's sheet, and print the page.",
    sources=("abyc_e13",),
    quiet={"no_lithium": "there is no lithium aboard"},
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the page."""
    lithium = [b for b in batteries_aboard(survey) if b.parameters.get("chemistry") in LITHIUM]
    missing = "lithium" not in papers.lists
    found = tuple(battery.id for battery in lithium if missing or _is_blank(battery, survey))
    return Fault("missing" if missing else "blank", found, {},
                 {"batteries": named(survey.diagram, found)}) if found else None


def _is_blank(battery: Component, survey: Survey) -> bool:
    return any(stated_limit(survey.diagram, battery, name) is None for name in LIMITS)
