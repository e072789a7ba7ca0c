"""What it checks.
The plus and minus terminals of batteries, loads, panels, chargers and other sources against the
polarity of what they are connected to.

Why it matters.
Electronics fed the wrong way round die at once; a charger or battery connected so makes a short
that burns cables.

Fails when.
A plus terminal is connected to the negative, or a minus terminal to the positive. Where both were
changed over and the cores left as they were, that is read as such and not as a short circuit.

Passes when.
The plus lies above the minus, as on a load between two taps of a bank; or the part has no
polarity.

Limits.
The polarity is walked from the batteries; what no battery reaches is not judged. Loads behind a
reversed panel are named with it. A battery is named when terminals, bars, fuses and cores around it
say that it is the one, not what hangs on it. All other checks judge the boat with these turned
right, so that what they cause is not told again. Batteries joined otherwise than their volts allow
belong to 5.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.wrong_side import WrongSide, change_over
from model.survey import Survey
from rules.fixing import moved, together
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="polarity_reversed",
    number="4.17",
    title="Reversed polarity at a battery, load or charger",
    topic="conductors",
    severity="danger",
    looks_at="each battery, load, panel, charger and other source",
    subjects=lambda survey: survey.wrong_sides,
    messages={
        "plus": "{part} is connected the wrong way round: its {terminal} terminal is on the "
                "negative, by {wires}.",
        "minus": "{part} is connected the wrong way round: its {terminal} terminal is on the "
                 "positive, by {wires}.",
        "battery_plus": "{part} is connected the wrong way round: its plus is where its minus "
                        "belongs, by {wires}.",
        "battery_minus": "{part} is connected the wrong way round: its minus is where its plus "
                         "belongs, by {wires}.",
    },
    remedy="Swap the two, and test with a meter before anything is connected.",
    sources=("claim_files",),
    quiet={
        "without": "the part has no polarity",
        "between": "its plus lies above its minus, as between two taps of a bank",
        "unreached": "no battery reaches it",
        "string": "it is a battery on the plus of another, and may be the top of a string that is "
                  "not finished",
    },
    fix="sometimes",
    as_drawn=True,
)


def check(wrong: WrongSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one part that is connected the wrong way round."""
    pole = "plus" if wrong.wants == "+" else "minus"
    is_battery = survey.diagram.components[wrong.item].kind == "battery_bank"
    message = f"battery_{pole}" if is_battery else pole
    return Fault(message, (wrong.item, *wrong.conductors), {}, {
        "part": named(survey.diagram, [wrong.item]), "terminal": wrong.terminal,
        "wires": named(survey.diagram, wrong.conductors)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to swap the conductors at the plus and the minus, when each is a single one."""
    diagram, item = survey.diagram, finding.where[0]
    title = f"Swap plus and minus of {named(diagram, [item])}"
    makers = [lambda d, move=move: moved(
        d, title, move.wire, f"{item}.{move.port}", f"{item}.{move.to}")
        for move in change_over(survey.graph, item)]
    if makers:
        yield Fix(title, "mechanical", together(diagram, title, *makers))
