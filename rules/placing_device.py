"""Where a device goes: fitted at the start of a conductor, or moved nearer to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import Any

from model.analysis.leads import LeadEnd
from model.diagram import Conductor, End
from model.survey import Survey
from rules.distance import MM_PER_M
from rules.fixing import inserted, together, with_fields
from rules.new_device import fuse_for_conductors, fuse_words
from rules.profiles import Profile
from rules.rule import Fix, Grade
from rules.wording import named, quantity


def near_m(profile: Profile) -> float:
    """Return a length well within what is allowed before a device. [m]."""
    return round(profile.value("unsheathed_max_mm") / MM_PER_M / 2, 3)


def drawn_a(survey: Survey, conductor: str) -> float:
    """Return the largest current of a conductor over the duty cases. [A]."""
    duty = survey.duty.conductors.get(conductor)
    return 0.0 if duty is None else round(duty.current_a, 2)


def all_conductors(first: str, ends: Iterable[LeadEnd]) -> tuple[str, ...]:
    """Return the conductors of all branches of a lead or tap, each once."""
    return tuple(dict.fromkeys((first, *(item for end in ends for item in end.conductors))))


def fitted_at_start(
    survey: Survey, conductor: str, node: int, guarded: tuple[str, ...], least_a: float,
    profile: Profile, grade: Grade = "mechanical", snug: bool = False,
) -> Iterator[Fix]:
    """Offer a fuse where a conductor leaves a terminal: the largest that the conductors it guards
    allow, of at least `least_a` [A], and of the class that breaks the fault there; with `snug` the
    smallest.
    """
    wire = survey.diagram.conductors[conductor]
    at = _end_at(wire, survey.graph.component_of[node])
    fuse = fuse_for_conductors(survey, node, guarded, profile, least_a, snug=snug)
    if at is None or fuse is None:
        return
    title = (f"Fit {fuse_words(fuse)} where {named(survey.diagram, [conductor])} leaves "
             f"{named(survey.diagram, [at.component])}")
    yield Fix(title, grade, inserted(
        survey.diagram, title, conductor, f"{at.component}.{at.terminal}", "fuse",
        _within(wire, profile), **fuse))


def fitted_at_both_ends(
    survey: Survey, conductor: str, node: int, end: LeadEnd, profile: Profile
) -> Iterator[Fix]:
    """Offer a fuse at each end of a link between two batteries."""
    posts = ((conductor, survey.graph.component_of[node]), (end.conductors[-1], end.item))
    steps: list[Any] = []
    words = ""
    for item, battery in posts:
        wire = survey.diagram.conductors[item]
        at = _end_at(wire, battery)
        post = survey.graph.number[f"{battery}.+"]
        fuse = fuse_for_conductors(survey, post, end.conductors, profile, drawn_a(survey, item))
        if at is None or fuse is None:
            return
        words = fuse_words(fuse)
        steps.append(partial(
            inserted, conductor=item, at=f"{at.component}.{at.terminal}", kind="fuse",
            length_m=_within(wire, profile), **fuse))
    title = (f"Fit {words} at each end of the link between "
             f"{named(survey.diagram, [battery for _, battery in posts])}")
    yield Fix(title, "mechanical", together(
        survey.diagram, title, *(partial(step, title=title) for step in steps)))


def moved_nearer(
    survey: Survey, device: str, conductors: tuple[str, ...], profile: Profile,
    grade: Grade = "mechanical",
) -> Iterator[Fix]:
    """Offer to move a device to the start of the one conductor before it; what that conductor
    loses, the one behind the device gains.
    """
    part = survey.diagram.components.get(device)
    at_device = [wire for wire in survey.diagram.conductors.values()
                 if device in (wire.start.component, wire.finish.component)]
    if part is None or len(conductors) != 1 or len(at_device) > 2:
        return
    before = survey.diagram.conductors[conductors[0]]
    length_m = near_m(profile)
    title = (f"Move {named(survey.diagram, [device])} to "
             f"{quantity('mm', length_m * MM_PER_M, survey.diagram)} along "
             f"{named(survey.diagram, [before.id])}")
    steps = [partial(with_fields, title=title, item=before.id, length_m=length_m)]
    for wire in at_device:
        if wire.id != before.id and wire.length_m is not None and before.length_m is not None:
            longer_m = round(wire.length_m + max(before.length_m - length_m, 0.0), 3)
            steps.append(partial(with_fields, title=title, item=wire.id, length_m=longer_m))
    yield Fix(title, grade, together(survey.diagram, title, *steps))


def _end_at(wire: Conductor, component: str) -> End | None:
    return next((end for end in wire.ends() if end.component == component), None)


def _within(wire: Conductor, profile: Profile) -> float:
    return min(near_m(profile), wire.length_m or near_m(profile))
