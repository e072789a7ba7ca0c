"""What it checks.
Bundles in which AC and DC conductors lie together.

Why it matters.
Chafed through, mains voltage reaches the low-voltage system, and with it everything a hand may
touch.

Fails when.
An AC conductor and a DC conductor of one bundle both lie without a sheath.

Passes when.
The AC ones, or the DC ones, are sheathed for their whole length, or they have a trunk of their own.

Limits.
A bundle is what the conductors' records give the same bundle name.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

AC = frozenset({"L", "L2", "N", "E"})


def _bundles(survey: Survey) -> Iterator[list[Conductor]]:
    found: dict[str, list[Conductor]] = {}
    for wire in survey.diagram.conductors.values():
        if wire.bundle:
            found.setdefault(wire.bundle, []).append(wire)
    yield from found.values()


def _is_ac(wire: Conductor) -> bool:
    return bool(AC & set(wire.cores))


RULE = Rule(
    slug="ac_and_dc_in_one_bundle",
    number="4.20",
    title="AC and DC in one bundle",
    topic="conductors",
    severity="fault",
    looks_at="each bundle",
    subjects=_bundles,
    messages={
        "together": "{ac} (AC) and {dc} (DC) lie in bundle {bundle} without a sheath between.",
    },
    remedy="Give the AC a trunk of its own, or sheathe it.",
    sources=("iso_separation", "abyc_e11"),
    quiet={
        "sheathed": "one or the other is sheathed",
        "trunk": "the AC has a trunk of its own",
    },
    fix="always",
)


def check(wires: list[Conductor], survey: Survey, profile: Profile) -> Answer:
    """Judge one bundle."""
    bare = [[wire for wire in wires if _is_ac(wire) is ac and not _is_sheathed(wire)]
            for ac in (True, False)]
    if not all(bare):
        return None
    known = [[wire.id for wire in side if wire.sheath is not None] for side in bare]
    if not all(known):
        unknown = [wire.id for side in bare for wire in side if wire.sheath is None]
        return Missing(tuple(f"{item}.sheath" for item in unknown), tuple(unknown))
    ac, dc = known
    return Fault("together", (*ac, *dc), {}, {
        "ac": named(survey.diagram, ac), "dc": named(survey.diagram, dc),
        "bundle": str(wires[0].bundle)})


def _is_sheathed(wire: Conductor) -> bool:
    return wire.sheath == "whole" or wire.in_enclosure is True


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the sheath, and the trunk of its own."""
    diagram = survey.diagram
    name = diagram.conductors[finding.where[0]].bundle
    items = [wire.id for wire in diagram.conductors.values()
             if wire.bundle == name and _is_ac(wire)]
    for title, fields in (
        (f"Sheathe {named(diagram, items)} for the whole length", {"sheath": "whole"}),
        (f"Take {named(diagram, items)} out of the bundle", {"bundle": None}),
    ):
        makers = [lambda d, item=item, title=title, fields=fields: with_fields(
            d, title, item, **fields) for item in items]
        yield Fix(title, "choice", together(diagram, title, *makers))
