"""What it checks.
The recorded colour of each single DC conductor against the pole it really carries.

Why it matters.
The next person trusts the colour. Red on a negative, or black on a positive, is connected the wrong
way round one day.

Fails when.
Red is on the negative; black or yellow is on the ungrounded side; green or green-yellow carries
current.

Passes when.
The jacket or the sleeves at both ends have a colour that fits the pole.

Limits.
A cable of several cores is not looked at: its cores have colours of their own. A link in series
between blocks has no pole. A colour of two, but for green-yellow, is taken to be a circuit's own
code and passes.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

DC_CORES = frozenset({"+", "-"})
NOT_CURRENT = frozenset({"bonding", "case_ground", "lightning"})
GREENS = frozenset({"green", "green_yellow"})
NEGATIVES = frozenset({"black", "yellow"})


def _conductors(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        single = len(wire.cores) == 1 and wire.cores[0] in DC_CORES
        if single and wire.purpose not in NOT_CURRENT:
            yield wire


RULE = Rule(
    slug="colour_contradicts_pole",
    number="4.9",
    title="Red used for negative, or black or yellow for positive",
    topic="conductors",
    severity="fault",
    looks_at="each conductor of one DC core that carries current",
    subjects=_conductors,
    messages={
        "red_negative": "{wire} is red and carries the DC negative.",
        "dark_positive": "{wire} is {colour} and carries the positive.",
        "green_current": "{wire} is {colour} and carries current; that colour is for bonding only.",
    },
    remedy="Sleeve both ends in the right colour, or replace the conductor.",
    sources=("abyc_e11_colours", "iso_colours"),
    quiet={
        "sleeved": "it is banded or sleeved at both ends in the right colour",
        "cores": "it is a cable of several cores",
        "ac": "it is an AC conductor",
        "bonding": "it is for bonding and carries no current",
        "series": "it joins blocks in series: there is no pole between them",
        "harness": "it belongs to an imported engine's harness",
    },
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor by its sleeves, else its jacket."""
    if wire.factory_harness:
        return None
    shown = wire.sleeve_colour or wire.colour
    if shown is None:
        return Missing((f"{wire.id}.colour",), (wire.id,))
    colour = "_".join(shown.lower().replace("-", " ").replace("/", " ").replace("_", " ").split())
    message = _message(colour, _poles(wire, survey))
    if message is None:
        return None
    return Fault(message, (wire.id,), {}, {
        "wire": named(survey.diagram, [wire.id]), "colour": colour.replace("_", "-")})


def _poles(wire: Conductor, survey: Survey) -> frozenset[str]:
    """Return the poles a conductor carries: none where it joins blocks in series."""
    start, finish = wire.ends()
    is_link = all(survey.diagram.components[end.component].kind == "battery_bank"
                  for end in (start, finish))
    if is_link and start.terminal != finish.terminal:
        return frozenset()
    return DC_CORES & {survey.potentials[node].side for edge in survey.graph.edges_of[wire.id]
                       for node in (edge.a, edge.b)}


def _message(colour: str, poles: frozenset[str]) -> str | None:
    if colour in GREENS:
        return "green_current"
    if colour == "red" and poles == {"-"}:
        return "red_negative"
    if colour in NEGATIVES and poles == {"+"}:
        return "dark_positive"
    return None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer sleeves at both ends, and a cable of the right colour."""
    wire = survey.diagram.conductors[finding.where[0]]
    poles = _poles(wire, survey)
    is_negative = "+" not in poles and ("-" in poles or wire.cores == ("-",))
    right = "yellow" if is_negative else "red"
    spoken = named(survey.diagram, [wire.id])
    title = f"Sleeve both ends of {spoken} in {right}"
    yield Fix(title, "choice", with_fields(survey.diagram, title, wire.id, sleeve_colour=right))
    title = f"Replace {spoken} by a {right} cable"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, wire.id, colour=right, sleeve_colour=None))
