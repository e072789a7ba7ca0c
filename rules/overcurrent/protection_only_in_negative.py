"""What it checks.
Circuits whose only fuse or breaker stands in the negative conductor.

Why it matters.
A positive wire that chafes through to the engine or to another negative makes a short that never
passes the negative wire. The device sees nothing of it.

Fails when.
In a system with earthed negative the positive of a load has no device, and its negative has one.

Passes when.
The positive has a device of its own, or the system is insulated.

Limits.
A positive without a device whose negative has none either belongs to 1.1. A switch of a battery
management unit in the negative is a switch and no device.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.negative_devices import NegativeDevice
from model.survey import Survey
from rules.distance import MM_PER_M
from rules.fixing import inserted, together
from rules.profiles import Profile
from rules.rewiring import taken_out
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

_OF_THE_DEVICE = ("class", "rated_a", "rated_dc_v", "interrupt_a", "interrupt_at_v", "speed",
                  "trip", "reset")

RULE = Rule(
    slug="protection_only_in_negative",
    number="1.19",
    title="Protection only in the negative",
    topic="overcurrent",
    severity="danger",
    looks_at="each fuse and breaker drawn in a negative conductor",
    subjects=lambda survey: survey.negative_devices,
    messages={
        "negative_only": "{device} stands in the negative of {loads}; the positive has no fuse or "
                         "breaker.",
    },
    remedy="Move the device to the positive, near the battery or busbar.",
    sources=("abyc_e11", "cfr_overcurrent", "iso_overcurrent"),
    quiet={
        "insulated": "the system is fully insulated, with devices in both conductors",
        "management": "it is a battery management unit's switch in the negative, which is no fuse",
        "both": "the positive has a device of its own",
        "no_volts": "the volts of the system are not known: 1.1 judges the positive",
    },
    fix="sometimes",
)


def check(device: NegativeDevice, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the positives of the loads behind it."""
    if not device.unguarded:
        return None
    system = device.system
    if system is None or system.earthing == "insulated":
        return None
    where = (device.device, *device.unguarded)
    if system.earthing is None:
        return Missing((f"{system.id}.earthing",), where)
    return Fault("negative_only", where, {}, {
        "device": named(survey.diagram, [device.device]),
        "loads": named(survey.diagram, device.unguarded)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to move the device into the positive, where the lead leaves the battery."""
    device, first = finding.where[:2]
    lead = next((lead for lead in survey.leads
                 if any(end.item == first for end in lead.ends)), None)
    part = survey.diagram.components[device]
    if lead is None or taken_out(survey.diagram, "", device) is None:
        return
    wire = survey.diagram.conductors[lead.conductor]
    start = survey.graph.component_of[lead.node]
    end = next(end for end in wire.ends() if end.component == start)
    length_m = profile.value("unsheathed_max_mm") / MM_PER_M / 2
    fields = {name: part.parameters[name] for name in _OF_THE_DEVICE if name in part.parameters}
    title = f"Move {named(survey.diagram, [device])} into the positive"
    yield Fix(title, "mechanical", together(
        survey.diagram, title,
        partial(taken_out, title=title, part=device),
        partial(inserted, title=title, conductor=wire.id, at=f"{end.component}.{end.terminal}",
                kind=part.kind, length_m=min(length_m, wire.length_m or length_m), **fields)))
