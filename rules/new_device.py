"""The fuse that suits a place: class, rating, volts and interrupting rating, from the table.

A lead bank of 12 V and a lithium bank ask for different classes: the first class that can break
the fault there is taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from model.diagram import Size
from model.protection_tables import FuseClass, class_interrupts_a, fuse_classes, large_bank
from model.survey import Survey
from model.tables import standard_device_ratings_a
from rules.allowance import largest_device_a
from rules.distance import distance
from rules.fixing import thicker, together, with_fields
from rules.highest_volts import highest_charging_v
from rules.profiles import Profile
from rules.rule import Fix, Grade
from rules.wording import named, size_words

# Cheapest first.
_ORDER = ("blade", "bolted", "terminal", "class_t")


def suitable_fuse(
    survey: Survey, node: int, least_a: float, most_a: float, profile: Profile,
    fault_a: float | None = None,
) -> dict[str, Any] | None:
    """Return the fields of the first fuse rated from `least_a` to `most_a` [A] that stands the
    volts of a terminal and breaks the fault there; None when there is none.

    `fault_a` [A] takes the place of the whole fault at the terminal.
    """
    nominal_v = survey.potentials[node].nominal_v
    if nominal_v is None:
        return None
    if fault_a is None:
        fault_a = survey.faults.strong.fault(node).current_a
    highest_v, _ = highest_charging_v(nominal_v, survey, profile)
    for word in _ORDER:
        broken = class_interrupts_a(word, nominal_v)
        if broken is None or not _breaks(broken.low.value, fault_a):
            continue
        for row in fuse_classes():
            fits = [r for r in row.ratings_a if least_a <= r <= most_a]
            volts = _volts(row, highest_v)
            if row.word == word and fits and volts:
                return {"class": word, "rated_a": min(fits), "rated_dc_v": volts,
                        "interrupt_a": broken.low.value, "interrupt_at_v": nominal_v}
    return None


def _breaks(interrupt_a: float, fault_a: float) -> bool:
    return interrupt_a >= fault_a or interrupt_a >= large_bank().suffices_a


def _volts(row: FuseClass, highest_v: float) -> float | None:
    return next((volts for volts in row.made_for_v if volts >= highest_v), None)


def fuse_for_conductors(
    survey: Survey, node: int, conductors: tuple[str, ...], profile: Profile,
    least_a: float = 0.0, fault_a: float | None = None, snug: bool = False,
) -> dict[str, Any] | None:
    """Return the fields of the largest suitable fuse that conductors allow, of at least `least_a`
    [A], or with `snug` the smallest; None when there is none or an ampacity is not known.
    """
    most_a = most_device_a(survey, conductors, profile)
    for least in (least_a,) if snug else (most_a, least_a):
        fuse = suitable_fuse(survey, node, least, most_a, profile, fault_a) if most_a else None
        if fuse is not None and fuse["rated_a"] >= least_a:
            return fuse
    return None


def most_device_a(survey: Survey, conductors: tuple[str, ...], profile: Profile) -> float:
    """Return the largest device that conductors in series allow, 0 when not known. [A]."""
    lows = [survey.ampacity_range(survey.diagram.conductors[item], profile.ampacity_table).low_a
            for item in conductors]
    known = [low for low in lows if low is not None]
    if not known or len(known) < len(lows):
        return 0.0
    return largest_device_a(min(known), profile)


def most_behind_a(survey: Survey, device: str, profile: Profile) -> float:
    """Return the largest rating of a device that the conductors behind it allow. [A]."""
    return most_device_a(survey, chain_behind(survey, device), profile)


def fuse_words(fuse: dict[str, Any]) -> str:
    """Return a fuse as a person reads it: "a class T fuse of 110 A"."""
    return f"a {class_words(fuse)} fuse of {fuse['rated_a']:g} A"


def class_words(fuse: dict[str, Any]) -> str:
    """Return the class of a fuse as a person reads it."""
    return "class T" if fuse["class"] == "class_t" else str(fuse["class"])


def largest_rating_a(most_a: float) -> float:
    """Return the largest standard rating that is not above a limit, 0 with none. [A]."""
    return max((r for r in standard_device_ratings_a() if r <= most_a), default=0.0)


def chain_behind(survey: Survey, device: str) -> tuple[str, ...]:
    """Return the conductors in series behind a device."""
    return tuple(dict.fromkeys(item for circuit in survey.circuits if circuit.at == device
                               for item in circuit.chain))


def _guarded(survey: Survey, device: str, profile: Profile) -> tuple[str, ...]:
    """Return the conductors that a device alone guards: behind it and tapped farther on."""
    tapped = [item for tap in survey.taps if tap.guard.device == device
              and not all(end.kind == "device" and distance(
                  end, profile, False).verdict == "within" for end in tap.ends)
              for item in tap.chain]
    return tuple(dict.fromkeys((*chain_behind(survey, device), *tapped)))


def larger_device(
    survey: Survey, device: str, least_a: float, profile: Profile,
    conductors: tuple[str, ...] | None = None, grade: Grade = "choice",
) -> Iterator[Fix]:
    """Offer the next standard rating from `least_a` [A] up for a device, with thicker conductors
    behind it where they do not allow that. `conductors` take the place of those behind it.
    """
    rated_a = next((r for r in standard_device_ratings_a() if r >= least_a), None)
    if rated_a is None:
        return
    chain = _guarded(survey, device, profile) if conductors is None else conductors
    thin = tuple(item for item in chain
                 if most_device_a(survey, (item,), profile) < rated_a)
    sizes = thick_enough(survey, thin, rated_a, profile)
    if len(sizes) < len(thin):
        return
    title = f"Fit {rated_a:g} A as {named(survey.diagram, [device])}"
    if sizes:
        title = f"{title} and replace {_thicker_words(survey, sizes)}"
    edits = [partial(with_fields, title=title, item=item, size=size)
             for item, size in sizes.items()]
    edits.append(partial(with_fields, title=title, item=device, rated_a=rated_a))
    yield Fix(title, grade, together(survey.diagram, title, *edits))


def thick_enough(
    survey: Survey, conductors: tuple[str, ...], carries_a: float, profile: Profile
) -> dict[str, Size]:
    """Return the smallest sizes that carry a current [A], of those conductors that have one."""
    sizes = {item: thicker(survey, item, profile, carries_a=carries_a) for item in conductors}
    return {item: size for item, size in sizes.items() if size is not None}


def thicker_all(
    survey: Survey, conductors: tuple[str, ...], carries_a: float, profile: Profile,
    grade: Grade = "mechanical",
) -> Iterator[Fix]:
    """Offer to replace conductors by ones that carry a current. [A]."""
    sizes = thick_enough(survey, conductors, carries_a, profile)
    if sizes and len(sizes) == len(conductors):
        title = f"Replace {_thicker_words(survey, sizes)}"
        yield Fix(title, grade, together(survey.diagram, title, *(
            partial(with_fields, title=title, item=item, size=size)
            for item, size in sizes.items())))


def _thicker_words(survey: Survey, sizes: dict[str, Size]) -> str:
    largest = list(dict.fromkeys(size_words(size) for size in sizes.values()))
    return f"{named(survey.diagram, sizes)} by {' and '.join(largest)}"
