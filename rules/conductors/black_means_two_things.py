"""What it checks.
Whether black is both the live conductor of the AC supply and the DC negative in one place aboard.

Why it matters.
Whoever takes a black wire for the harmless negative of the low-voltage system may hold mains
voltage.

Fails when.
The AC supply has black for live, and a black DC negative ends where AC cables end too.

Passes when.
The DC negatives there are yellow, by jacket or sleeve, or the AC supply uses other colours.

Limits.
Black is live where a single live conductor is recorded as black, or the shore supply is of the
North American kind. One place is what the parts' records call one place.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor, Diagram
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, place_name

RULE = Rule(
    slug="black_means_two_things",
    number="4.10",
    title="Black means two things aboard",
    topic="conductors",
    severity="caution",
    looks_at="the whole boat",
    subjects=lambda survey: (survey.diagram,),
    messages={
        "both": "Black is live on the AC side, and in the same place ({places}) the DC negative "
                "is black too: {wires}.",
    },
    remedy="Use yellow for the DC negative, and mark both.",
    sources=("abyc_e11_colours",),
    quiet={
        "yellow": "the DC negative is yellow",
        "apart": "no AC cable ends where they do",
        "unrecorded": "no colour is recorded of the DC negative: 4.9 asks for it",
        "jacket": "a black jacket around several AC cores tells nothing of the cores",
    },
    figures=("black_live_max_v",),
    fix="always",
)


def check(diagram: Diagram, survey: Survey, profile: Profile) -> Answer:
    """Judge the boat."""
    ac = [wire for wire in diagram.conductors.values() if "L" in wire.cores]
    black = [wire for wire in diagram.conductors.values() if _is_black_negative(wire)]
    is_live = _is_black_live(ac, diagram, profile)
    if not ac or not black or is_live is False:
        return None
    ac_places = {place for wire in ac for place in _places(wire, diagram)} - {None}
    shared = {wire.id: places for wire in black
              if (places := _places(wire, diagram) & ac_places)}
    if shared and is_live is None:
        return Missing(("boat.shore_nominal_v",), tuple(shared))
    if shared:
        names = {place_name(diagram, place)
                 for places in shared.values() for place in places if place}
        items = in_order(shared)
        return Fault("both", tuple(items), {}, {
            "wires": named(diagram, items), "places": ", ".join(sorted(names))})
    unplaced = in_order(end.component for wire in (*ac, *black) for end in wire.ends()
                        if diagram.components[end.component].place is None)
    if unplaced and is_live:
        return Missing(tuple(f"{item}.place" for item in unplaced), tuple(unplaced))
    return None


def _is_black_negative(wire: Conductor) -> bool:
    shown = wire.sleeve_colour or wire.colour
    return wire.cores == ("-",) and shown is not None and shown.lower() == "black"


def _is_black_live(ac: list[Conductor], diagram: Diagram, profile: Profile) -> bool | None:
    """Say whether black is live on the AC side; None when the shore supply would tell."""
    if any(wire.cores == ("L",) and (wire.colour or "").lower() == "black" for wire in ac):
        return True
    volts = diagram.boat.shore_nominal_v
    return None if volts is None else volts <= profile.value("black_live_max_v")


def _places(wire: Conductor, diagram: Diagram) -> set[str | None]:
    return {diagram.components[end.component].place for end in wire.ends()}


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer yellow sleeves on the negatives."""
    title = f"Sleeve {named(survey.diagram, finding.where)} in yellow at both ends"
    makers = [lambda d, item=item: with_fields(d, title, item, sleeve_colour="yellow")
              for item in finding.where]
    yield Fix(title, "mechanical", together(survey.diagram, title, *makers))
