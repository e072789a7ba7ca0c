"""Fixes that feed a load from elsewhere, with a fuse of its own: from a battery past every main
switch, or from the start bank."""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.circuit_switches import feeding_in_use, in_use
from model.analysis.fed_by import starters_fed
from model.analysis.load_supply import batteries_at_will, live_when_off
from model.kinds.storage import is_same_nominal
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import LeadTo, lead_from, switched_point, to_post
from rules.rule import Fix
from rules.wording import named


def from_battery(survey: Survey, profile: Profile, load: str) -> Iterator[Fix]:
    """Offer to lead what feeds a load to the first battery of its volts that feeds it now, or can.

    Nothing where its lead begins at what is live with everything off already: what is cut then is
    its minus, or the coil of a relay on the way.
    """
    node = survey.graph.number[f"{load}.+"]
    lead = lead_from(survey, node)
    feeding = [battery for battery in in_order(feeding_in_use(survey.graph, [node])
                                               or batteries_at_will(survey.graph, load))
               if _has_volts_of(survey, load, battery)]
    if lead is not None and feeding and not _is_live_when_off(survey, lead):
        title = f"Feed {named(survey.diagram, [load])} from {named(survey.diagram, feeding[:1])}"
        yield Fix(title, "choice", to_post(survey, profile, title, lead, f"{feeding[0]}.+"))


def from_start_bank(survey: Survey, profile: Profile, load: str) -> Iterator[Fix]:
    """Offer to lead what feeds a load to what feeds a starter at its volts, behind its main switch.
    """
    lead = lead_from(survey, survey.graph.number[f"{load}.+"])
    fed = starters_fed(survey.graph, in_use(survey.graph))
    cranking = frozenset().union(*fed.values())
    bank = next((b for b in survey.banks if any(
        _has_volts_of(survey, load, battery) for battery in cranking & set(b.batteries))), None)
    if lead is not None and bank is not None:
        target = switched_point(survey, bank)
        title = f"Feed {named(survey.diagram, [load])} from {target}"
        yield Fix(title, "choice", to_post(survey, profile, title, lead, target))


def _is_live_when_off(survey: Survey, lead: LeadTo) -> bool:
    """Say whether the terminal a lead begins at is live with every main switch open."""
    part = lead.terminal.partition(".")[0]
    ends = {node for edge in survey.graph.edges_of[lead.conductor] for node in (edge.a, edge.b)}
    return any(survey.graph.component_of[node] == part for node in ends & live_when_off(
        survey.graph))


def _has_volts_of(survey: Survey, load: str, battery: str) -> bool:
    """Say whether a battery's positive post stands at the nominal volts of a load's network."""
    own_v, post_v = (survey.potentials[survey.graph.number[f"{item}.+"]].nominal_v
                     for item in (load, battery))
    return own_v is not None and post_v is not None and is_same_nominal(own_v, post_v)
