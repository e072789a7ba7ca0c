"""The first breaker behind a source of AC: fitted close to it, or moved nearer to it."""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import first_devices
from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import inserted
from rules.new_device import largest_rating_a
from rules.placing_device import moved_nearer, near_m
from rules.profiles import Profile
from rules.rule import Fix
from rules.tying import leads_of
from rules.wording import named


def fitted_at_source(
    survey: Survey, profile: Profile, source: str, suits_a: float | None
) -> Iterator[Fix]:
    """Offer a double-pole breaker where the one cable of a source leaves it.

    Rated `suits_a` [A], or less where the cable carries less; the rating stays open when either is
    not known. Nothing where several cables leave the source: each would need one.
    """
    cables = leads_of(survey, source, "L")
    if len(cables) != 1:
        return
    (cable,) = cables
    (at,) = [f"{end.component}.{end.terminal}" for end in cable.ends() if end.component == source]
    rated_a = _rating_a(survey, profile, cable, suits_a)
    device = f"a {rated_a:g} A double-pole breaker" if rated_a else "a double-pole breaker"
    asked = "" if rated_a else ", its rating to be chosen"
    title = (f"Fit {device} where {named(survey.diagram, [cable.id])} leaves "
             f"{named(survey.diagram, [source])}{asked}")
    yield Fix(title, "choice", inserted(
        survey.diagram, title, cable.id, at, "ac_breaker", near_m(profile),
        rated_a=rated_a, poles_opened="L_and_N"))


def _rating_a(
    survey: Survey, profile: Profile, cable: Conductor, suits_a: float | None
) -> float | None:
    ampacity_a = survey.ampacity_range(cable, profile.ampacity_table).low_a
    if suits_a is None or ampacity_a is None:
        return None
    return suits_a if suits_a <= ampacity_a else largest_rating_a(ampacity_a) or None


def moved_to_source(
    survey: Survey, profile: Profile, live: int, device: str
) -> Iterator[Fix]:
    """Offer to move the first breaker nearer to the live terminal of its source."""
    for first in first_devices(survey.graph, live):
        if first.edge is not None and first.edge.item == device:
            yield from moved_nearer(survey, device, first.conductors, profile, "choice")
