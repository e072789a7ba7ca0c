"""What it checks.
Each switch that opens a negative and no positive.

Why it matters.
With the negative open everything stays live up to the last terminal; any touch of engine, hull or
bonding closes the circuit again.

Fails when.
In a system with earthed negative such a switch is the only one by hand for a bank or a load.

Passes when.
The positive has a switch or breaker too, or the system is insulated and both poles are opened.

Limits.
A negative that is switched beside the positive belongs to 8.10. Some inland rules want a switch in
the negative as well: accept what they ask for. Contacts that a management unit works are not looked
at.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.negatives import NegativeCut, earthing, sole_disconnect_of
from model.analysis.unswitched import unswitched
from model.diagram import Diagram
from model.edits import Edit, merge
from model.edits import apply as applied
from model.survey import Survey
from rules.always_on import is_always_on
from rules.fixing import inserted, with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import NEAR_M, lead_from, switch_in_feed, taken_out
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="negative_switched_alone",
    number="2.9",
    title="Only the negative is switched",
    topic="isolation",
    severity="fault",
    looks_at="each device that opens a negative alone",
    subjects=lambda survey: survey.negative_cuts,
    messages={
        "bank": "{switch} opens the negative of {parted} and nothing opens its positive: all of it "
                "stays live.",
        "load": "{switch} opens the negative of {parted} and no switch opens the positive: it "
                "stays live.",
    },
    remedy="Put the switch in the positive; in an insulated system one of two poles.",
    sources=("abyc_e11_switch", "iso_switch"),
    quiet={
        "insulated": "the system is insulated: its switches open two poles",
        "additional": "the positive has a switch or breaker too",
    },
    fix="sometimes",
)


def check(cut: NegativeCut, survey: Survey, profile: Profile) -> Answer:
    """Judge one switch in a negative."""
    parted = sole_disconnect_of(survey, cut)
    if not parted:
        return None
    earthed, system = earthing(survey, parted[0])
    if earthed is None:
        return Missing((f"{system}.earthing",), (cut.part, *parted))
    if earthed == "insulated":
        return None
    return Fault("bank" if cut.batteries else "load", (cut.part, *in_order(parted)), {}, {
        "switch": named(survey.diagram, [cut.part]),
        "parted": named(survey.diagram, in_order(parted))})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to let it open the positive, or to fit a switch there."""
    cut = next(c for c in survey.negative_cuts if c.part == finding.where[0])
    diagram = survey.diagram
    if cut.mirrored:
        title = f"Let {named(diagram, [cut.part])} open the positive"
        yield Fix(title, "mechanical", with_fields(diagram, title, cut.part, poles="+"))
        return
    title = f"Move the switch of {named(diagram, finding.where[1:])} to the positive"
    fitted = _for_bank(survey, title, cut) if cut.batteries else (
        _for_load(survey, diagram, title, finding.where[1:]))
    if fitted is not None and (out := taken_out(applied(diagram, fitted), title, cut.part)):
        yield Fix(title, "choice", merge(fitted, out))


def _for_bank(survey: Survey, title: str, cut: NegativeCut) -> Edit | None:
    bank = next(b for b in survey.banks if set(b.batteries) & set(cut.batteries))
    loads = [item for item in unswitched(survey.graph, bank).loads
             if not is_always_on(survey.diagram.components[item])]
    return switch_in_feed(survey, title, bank, loads)


def _for_load(
    survey: Survey, diagram: Diagram, title: str, loads: tuple[str, ...]
) -> Edit | None:
    if len(loads) > 1:
        return None
    plus = f"{loads[0]}.+"
    wires = [w for w in diagram.conductors.values()
             if plus in {f"{e.component}.{e.terminal}" for e in w.ends()}]
    lead = lead_from(survey, survey.graph.number[plus])
    if lead is None or len(wires) != 1:
        return None
    return inserted(diagram, title, wires[0].id, plus, "load_switch", NEAR_M)
