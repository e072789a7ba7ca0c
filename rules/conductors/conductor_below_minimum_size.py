"""What it checks.
The size of each DC conductor against the least that lasts aboard, alone and inside a sheath.

Why it matters.
A thin conductor breaks at its terminals when the boat works, whatever current it carries.

Fails when.
A conductor that runs alone, or one inside a sheath, is thinner than the rule set allows.

Passes when.
It is thick enough, or a short end, or it lies inside equipment or a panel.

Limits.
A cable of several cores counts as sheathed, an SAE gauge as the AWG of its number. Data and signal
wires are judged only when they carry more than a small current. AC cables belong to 9.9, bonding
to section 7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import OTHER_PURPOSES
from model.analysis.runs import AC_AND_SIGNAL
from model.diagram import Conductor, Size
from model.survey import Survey
from model.units import area_mm2
from rules.fixing import thicker, with_fields
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

SIGNALS = frozenset({"data", "sense", "control"})


def _conductors(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        is_dc = not set(wire.cores) & {*AC_AND_SIGNAL}
        if is_dc and wire.size is not None and wire.purpose not in OTHER_PURPOSES - SIGNALS:
            yield wire


RULE = Rule(
    slug="conductor_below_minimum_size",
    number="4.5",
    title="Conductor thinner than the minimum",
    topic="conductors",
    severity="fault",
    looks_at="each DC conductor whose size is recorded",
    subjects=_conductors,
    messages={
        "alone": "{wire} has {size_mm2} and runs alone; at least {least_mm2} is asked for.",
        "sheathed": "{wire} has {size_mm2} inside its sheath; at least {least_mm2} is asked for.",
    },
    remedy="Replace it by a thicker one.",
    sources=("cfr_conductors", "iso_conductors"),
    quiet={
        "unsized": "its size is not recorded: 4.19 asks for it",
        "inside": "it lies inside equipment or a panel",
        "short": "it is a short end",
        "signal": "it is a data or signal wire that carries a small current",
        "ac": "it is an AC cable: 9.9 judges it",
        "bonding": "it is a bonding conductor: section 7 judges it",
    },
    figures=("alone_least_mm2", "sheathed_least_mm2", "short_end_m", "signal_max_a"),
    fix="sometimes",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    assert wire.size is not None
    own_mm2 = _counted_mm2(wire.size)
    alone, sheathed = profile["alone_least_mm2"], profile["sheathed_least_mm2"]
    if own_mm2 >= alone.value or wire.in_enclosure or _is_signal(wire, survey, profile):
        return None
    is_sheathed = True if len(wire.cores) > 1 else (
        None if wire.sheath is None else wire.sheath == "whole")
    if own_mm2 >= sheathed.value and is_sheathed:
        return None
    if wire.length_m is not None and wire.length_m <= profile.value("short_end_m"):
        return None
    if own_mm2 >= sheathed.value and is_sheathed is None:
        return Missing((f"{wire.id}.sheath",), (wire.id,))
    if wire.length_m is None:
        return Missing((f"{wire.id}.length_m",), (wire.id,))
    least: Figure = sheathed if is_sheathed else alone
    return Fault(
        "sheathed" if is_sheathed else "alone", (wire.id,),
        {"size_mm2": round(own_mm2, 3), "least_mm2": least},
        {"wire": named(survey.diagram, [wire.id])})


def _counted_mm2(size: Size) -> float:
    """Return the copper of a size; an SAE gauge counts as the AWG of its number. [mm2]"""
    return area_mm2("awg" if size.standard == "sae" else size.standard, size.text)


def _is_signal(wire: Conductor, survey: Survey, profile: Profile) -> bool:
    """Say whether it is a signal wire of small current."""
    if wire.purpose not in SIGNALS:
        return False
    return round(survey.duty.conductors[wire.id].current_a, 3) < profile.value("signal_max_a")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the thinnest size that is allowed."""
    wire = finding.where[0]
    size: Size | None = thicker(survey, wire, profile, least_mm2=finding.figures["least_mm2"])
    if size is not None:
        title = f"Replace {named(survey.diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "mechanical", with_fields(survey.diagram, title, wire, size=size))
