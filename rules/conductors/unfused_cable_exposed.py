"""What it checks.
Conductors that no fuse protects, starter cables among them, where they run through the bilge,
along fuel lines or against the engine.

Why it matters.
Nothing stops the current when such a cable chafes through. In the bilge or beside fuel that is
fire or flooding.

Fails when.
It runs there without a sheath for its whole length.

Passes when.
It is sheathed, or runs clear of these places.

Limits.
Where it runs is what its record and its route say. A conductor with a device before it at either
end it can be fed from belongs to section 1; sense leads and coil wires belong to 1.16.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.protection import NO_DEVICE
from model.analysis.runs import is_dc_power
from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

FUEL_SPACES = frozenset({"petrol_tank_space"})


def _unfused(survey: Survey) -> Iterator[Conductor]:
    for wire in survey.diagram.conductors.values():
        if _has_no_device(wire, survey):
            yield wire


def _has_no_device(wire: Conductor, survey: Survey) -> bool:
    for edge in survey.graph.edges_of.get(wire.id, ()):
        if is_dc_power(survey.graph, edge) and survey.is_ungrounded(edge):
            feeds = (survey.protection.worst(edge, node) for node in (edge.a, edge.b))
            if any(feed is not None and feed.rated_a == NO_DEVICE for feed in feeds):
                return True
    return False


RULE = Rule(
    slug="unfused_cable_exposed",
    number="4.21",
    title="Unfused cable through bilge, near fuel or on the engine",
    topic="conductors",
    severity="danger",
    looks_at="each conductor that no device protects, those of starter circuits too",
    subjects=_unfused,
    messages={
        "bilge": "{wire} runs through the bilge without a sheath, and no fuse protects it.",
        "fuel": "{wire} runs along fuel or against the engine without a sheath, and no fuse "
                "protects it.",
    },
    remedy="Lead it elsewhere, or sleeve it and clamp it clear.",
    sources=("abyc_e11", "common_practice"),
    quiet={
        "sheathed": "it is sheathed for its whole length",
        "clear": "it runs clear of bilge, fuel and engine",
        "sense": "it is a sense lead: 1.16 judges it",
        "negative": "it is of the earthed side",
        "fused": "a device protects it",
    },
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.in_enclosure or wire.sheath == "whole":
        return None
    passed = {place.environment for item in wire.route
              if (place := survey.diagram.places.get(item)) is not None}
    wet, fuel = wire.in_bilge or "bilge" in passed, wire.near_fuel or passed & FUEL_SPACES
    if not wet and not fuel:
        return None
    if wire.sheath is None:
        return Missing((f"{wire.id}.sheath",), (wire.id,))
    return Fault("fuel" if fuel else "bilge", (wire.id,), {},
                 {"wire": named(survey.diagram, [wire.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the sheath, and another way for it."""
    wire = finding.where[0]
    spoken = named(survey.diagram, [wire])
    title = f"Sheathe {spoken} for its whole length"
    yield Fix(title, "choice", with_fields(survey.diagram, title, wire, sheath="whole"))
    places = survey.diagram.places
    route = tuple(item for item in survey.diagram.conductors[wire].route if item not in places
                  or places[item].environment not in FUEL_SPACES | {"bilge"})
    title = f"Lead {spoken} clear of bilge, fuel and engine"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, wire, in_bilge=False, near_fuel=False, route=route))
