"""An alternator led to a lead battery first, from which a converter charges the lithium."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from model.analysis.charging import is_lithium
from model.analysis.joinable import post_v
from model.edits import apply as applied
from model.kinds.storage import is_same_nominal
from model.survey import Survey
from rules.profiles import Profile
from rules.rewiring import lead_from, to_post
from rules.rule import Fix
from rules.wording import named


def led_to_lead(
    survey: Survey, profile: Profile, alternator: str, lithium: Sequence[str],
    settles: Callable[[Survey], bool],
) -> Iterator[Fix]:
    """Offer to lead an alternator to the post of a lead battery of the same volts, with a fuse of
    its own there, where that settles it and the lithium is charged from somewhere yet.
    """
    diagram = survey.diagram
    lead = lead_from(survey, survey.graph.number[f"{alternator}.+"])
    volts = post_v(survey.graph, lithium[0])
    for part in diagram.components.values():
        own_v = post_v(survey.graph, part.id) if part.kind == "battery_bank" else None
        if lead is None or volts is None or own_v is None or is_lithium(part) is not False or (
                part.stored is True or not is_same_nominal(volts, own_v)):
            continue
        title = (f"Lead {named(diagram, [alternator])} to {named(diagram, [part.id])}, a lead "
                 "battery")
        edit = to_post(survey, profile, title, lead, f"{part.id}.+")
        after = Survey(applied(diagram, edit))
        if settles(after) and all(after.charge_sources[bank.id] for bank in after.banks):
            yield Fix(title, "choice", edit)
