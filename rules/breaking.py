"""What several checks say of devices that cannot break the fault, and what they offer."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from model.analysis.interrupting import Breaking, is_backed
from model.protection_tables import interrupt_steps_a
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.new_device import fuse_words, most_behind_a, suitable_fuse
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Sourced
from rules.wording import named, quantity

Group = tuple[Breaking, ...]


def judged(group: Group, survey: Survey) -> Answer:
    """Judge a main device, or those behind the mains of a bank."""
    for message, verdict in (("too_low", "fails"), ("unknown", "unrecorded")):
        found = tuple(one for one in group if one.verdict == verdict)
        if found:
            return _fault(message, found, survey)
    fields = tuple(dict.fromkeys(name for one in group for name in one.missing))
    return Missing(fields, _where(group)) if fields else None


def _fault(message: str, found: Group, survey: Survey) -> Fault:
    worst = max(found, key=lambda one: one.fault_a)
    figures: dict[str, float | Sourced] = {"fault_a": worst.fault_a}
    severe = False
    if message == "too_low":
        highs = [(one.own.high, one) for one in found if one.own is not None]
        least = min((high for high, _ in highs), key=lambda figure: figure.value)
        figures["interrupt_a"] = least if least.source else least.value
        severe = any(high.confirmed and not is_backed(survey, one) for high, one in highs)
    guessed = survey.faults.guessed(worst.batteries)
    assumed = f" (the resistance of {named(survey.diagram, guessed)} is assumed)"
    items = in_order(one.side.item for one in found)
    several = message == "too_low" and len(found) > 1
    return Fault("several" if several else message, _where(found), figures,
                 {"device": named(survey.diagram, items), "assumed": assumed if guessed else ""},
                 severity="danger" if severe else "caution",
                 assumed=tuple(f"{item}.internal_resistance_ohm" for item in guessed))


def _where(group: Group) -> tuple[str, ...]:
    items = in_order(one.side.item for one in group)
    return (*items, *dict.fromkeys(b for one in group for b in one.batteries))


def stronger_devices(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer fuses of the class that breaks the fault, and breakers with such a rating."""
    found = [one for one in survey.breakings if one.side.item in finding.where]
    changes = {one.side.item: _stronger(one, survey, profile) for one in found}
    if None in changes.values():
        return
    words = named(survey.diagram, in_order(changes))
    title = f"Fit devices that break the fault as {words}"
    if len(found) == 1:
        fields = changes[found[0].side.item] or {}
        what = fuse_words(fields) if "class" in fields else (
            f"a device that breaks {quantity('a', fields['interrupt_a'], survey.diagram)}")
        title = f"Fit {what} as {words}"
    yield Fix(title, "mechanical", together(survey.diagram, title, *(
        partial(with_fields, title=title, item=item, **(fields or {}))
        for item, fields in changes.items())))


def _stronger(one: Breaking, survey: Survey, profile: Profile) -> dict[str, Any] | None:
    """Return the fields of a device that breaks the fault, None when there is none."""
    part = survey.diagram.components.get(one.side.item)
    rated_a = one.side.rated_a
    if part is None or part.kind != "fuse":
        step = next((a for a in interrupt_steps_a() if a >= one.fault_a), None)
        volts = survey.potentials[one.side.node].nominal_v
        own = {"interrupt_at_v": volts} if part is not None else {}
        return None if step is None else {"interrupt_a": step, **own}
    if rated_a is None:
        return None
    most_a = max(rated_a, most_behind_a(survey, one.side.item, profile))
    return suitable_fuse(survey, one.side.node, rated_a, most_a, profile, one.fault_a)
