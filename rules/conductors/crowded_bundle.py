"""What it checks.
Bundles of several conductors that are all well loaded at once.

Why it matters.
Each warms the others. The table of ampacity allows for that, but leaves nothing in hand for a hot
day or a tight locker.

Fails when.
Three or more lie together and every one carries more than a good part of its reduced ampacity.

Passes when.
One of them is lightly loaded, or they are never loaded together.

Limits.
A bundle is what the conductors' records give one name, or the count one of them states. AC cables
are not counted. One above its ampacity belongs to 4.1.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.ampacity_range import AmpacityRange, ampacity_range
from model.analysis.bundles import Bundle
from model.diagram import Conductor
from model.edits import changed
from model.survey import Survey
from rules.fixing import thicker, together, with_fields
from rules.loading import loadings
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

Part = tuple[Conductor, AmpacityRange, float]

RULE = Rule(
    slug="crowded_bundle",
    number="4.7",
    title="Many loaded conductors in one bundle",
    topic="conductors",
    severity="caution",
    looks_at="each bundle of DC power conductors",
    subjects=lambda survey: survey.bundles,
    messages={
        "crowded": "{wires} lie in a bundle of {bundle_count}, and each carries more than "
                   "{share_percent} of what it may there: {wire} {current_a} of {ampacity_a}.",
        "alone": "{wire} lies in a bundle of {bundle_count}, all of them loaded, and carries "
                 "{current_a}, more than {share_percent} of the {ampacity_a} it may carry there.",
    },
    remedy="Split the bundle, or use thicker conductors.",
    sources=("abyc_e11", "cfr_conductors"),
    quiet={
        "light": "one of them is lightly loaded, whatever it may carry",
        "never_together": "they are never loaded together",
        "too_much": "one of them carries more than it may: 4.1 judges it",
    },
    figures=("bundle_least_count", "bundle_share_percent"),
    fix="sometimes",
)


def check(bundle: Bundle, survey: Survey, profile: Profile) -> Answer:
    """Judge one bundle."""
    if bundle.count < profile.value("bundle_least_count"):
        return None
    share = profile["bundle_share_percent"]
    wires = [survey.diagram.conductors[item] for item in bundle.conductors]
    parts = [(wire, reduced(wire, bundle, survey, profile), _current_a(wire, survey))
             for wire in wires]
    if any(load_a > (room.low_a or math.inf) for _, room, load_a in parts):
        return None  # 4.1 judges it
    if all(100 * load_a > share.value * (room.high_a or math.inf) for _, room, load_a in parts):
        return _fault(bundle, max(parts, key=_share), survey, share)
    if all(room.low_a is None or 100 * load_a > share.value * room.low_a
           for _, room, load_a in parts):
        missing = (f"{wire.id}.{field}" for wire, room, _ in parts for field in room.missing)
        return Missing(tuple(missing), bundle.conductors)
    return None


def _share(part: Part) -> float:
    """Return the share a conductor surely carries of what it may. [unitless]"""
    _, room, load_a = part
    assert room.high_a is not None
    return load_a / room.high_a


def _fault(bundle: Bundle, fullest: Part, survey: Survey, share: Figure) -> Fault:
    """Return the fault, told of the fullest one."""
    wire, room, load_a = fullest
    assert room.high_a is not None
    return Fault(
        "crowded" if bundle.conductors[1:] else "alone", bundle.conductors,
        {"bundle_count": bundle.count, "share_percent": share, "current_a": load_a,
         "ampacity_a": room.high_a},
        {"wires": named(survey.diagram, bundle.conductors),
         "wire": named(survey.diagram, [wire.id])},
        sources=room.sources, unverified=not room.confirmed)


def reduced(
    wire: Conductor, bundle: Bundle, survey: Survey, profile: Profile
) -> AmpacityRange:
    """Return what a conductor may carry among so many."""
    among = changed(wire, bundle_count=bundle.count)
    return ampacity_range(among, survey.diagram, profile.ampacity_table)


def _current_a(wire: Conductor, survey: Survey) -> float:
    """Return the largest current that counts. [A]"""
    return next((one.current_a for one in loadings(survey, wire.id) if not one.asks), 0.0)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer conductors so thick that none is loaded above the share."""
    diagram = survey.diagram
    bundle = next(one for one in survey.bundles if one.conductors == finding.where)
    makers, texts = [], []
    for item in finding.where:
        wire = diagram.conductors[item]
        among = reduced(wire, bundle, survey, profile).low_a
        alone = survey.ampacity_range(wire, profile.ampacity_table).low_a
        if not among or not alone:
            return
        needs_a = _current_a(wire, survey) / profile.value("bundle_share_percent") * 100
        size = thicker(survey, item, profile, carries_a=needs_a * alone / among)
        if size is None:
            return
        texts.append(f"{named(diagram, [item])} by {size_words(size)}")
        makers.append(lambda d, item=item, size=size: with_fields(d, "", item, size=size))
    title = f"Replace {', '.join(texts)}"
    yield Fix(title, "choice", together(diagram, title, *makers))
