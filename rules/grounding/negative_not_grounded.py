"""What it checks.
Whether the DC negative is joined to the boat's ground: engine, hull, plate or bonding bus.

Why it matters.
Without that one tie a fault to metal makes the metal live and trips nothing, and stray current
finds its own way home, through the shaft.

Fails when.
Negatives are drawn and none leads from a bank to ground.

Passes when.
One conductor joins them.

Limits.
Boats whose negatives are implied are not judged: the tie would not be drawn either.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.drawn_returns import without_return
from model.analysis.ground import reaches_ground
from model.analysis.negatives import earthing
from model.survey import Survey
from rules.fixing import connected
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import ground_terminal, leads_of, size_of_thickest
from rules.wording import named

RULE = Rule(
    slug="negative_not_grounded",
    number="7.1",
    title="DC negative is not tied to the ship's ground",
    topic="grounding",
    severity="fault",
    looks_at="the banks together",
    subjects=lambda survey: [survey.diagram],
    messages={"floating": "No negative leads from {batteries} to engine, hull or earth."},
    remedy="Run one conductor from the main negative to the engine or the ground bus, as large as "
           "starting needs.",
    sources=("iso_earthing", "abyc_e11"),
    quiet={"insulated": "the system is declared insulated",
           "implied": "the negatives are not drawn",
           "bare": "nothing at all is connected to a battery's negative: 4.8 names it"},
    fix="sometimes",
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    apart = [bank for bank in survey.banks if _floats(bank, survey)]
    known = {bank.id: earthing(survey, bank.id) for bank in apart}
    batteries = in_order(item for bank in apart if known[bank.id][0] == "negative_earthed"
                         for item in bank.batteries)
    if batteries:
        return Fault("floating", tuple(batteries), {},
                     {"batteries": named(survey.diagram, batteries)})
    unsaid = in_order({f"{system}.earthing" for stated, system in known.values() if not stated})
    return Missing(tuple(unsaid), tuple(known)) if unsaid else None


def _floats(bank: Bank, survey: Survey) -> bool:
    """Say whether the negatives of a bank's system are drawn and lead to no ground."""
    graph, own = survey.graph, earthing(survey, bank.id)[1]
    posts = [graph.number[f"{item}.-"] for item in bank.batteries]
    drawn = any(system.id == own and system.returns == "drawn"
                for system in survey.diagram.systems.values())
    return drawn and not reaches_ground(graph, posts) and (
        without_return(survey).isdisjoint(bank.batteries))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer one conductor from the minus of the first bank to that of a grounded bank, else to the
    main ground.
    """
    battery = finding.where[0]
    tied = [bank for bank in survey.banks if not _floats(bank, survey)]
    ground = f"{tied[0].id}.-" if tied else ground_terminal(survey)
    if ground is not None:
        title = f"Tie the negative of {named(survey.diagram, [battery])} to {ground}"
        size = size_of_thickest(leads_of(survey, battery, "-"))
        yield Fix(title, "choice", connected(
            survey.diagram, title, f"{battery}.-", ground, cores=("-",), **size))
