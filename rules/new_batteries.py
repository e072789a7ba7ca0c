"""Batteries in place of others: a whole set alike, one of a higher cranking current, more capacity.

What is written on the label of the old one goes with it: when it was bought, its make, what a test
gave. The owner reads the new label.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any

from model.diagram import Component
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.rule import Fix
from rules.wording import named

OF_THE_SORT = (
    "chemistry", "capacity_ah", "duty", "cranking_a", "cranking_standard",
    "internal_resistance_ohm", "short_circuit_a", "rest_v", "max_charge_v", "float_v",
    "max_charge_a", "max_discharge_a", "peak_discharge_a", "model_text", "management",
    "cold_charge_cutoff", "heated", "max_in_series", "max_in_parallel", "alternator_approved",
    "min_c", "max_c",
)
STEP_A = STEP_AH = 10  # batteries are sold in such steps; common practice, no source
OF_THE_ONE: dict[str, Any] = dict.fromkeys(("installed", "tested_capacity_ah", "tested_on"))


def all_alike(survey: Survey, batteries: Sequence[str]) -> Iterator[Fix]:
    """Offer new batteries of one sort for a whole set, by each sort of which chemistry and capacity
    are known.

    Nothing where they differ in volts or in how many blocks they are: that is no question of the
    sort. Lead is not replaced by lithium: that asks for more than batteries.
    """
    parts = [survey.diagram.components[item] for item in batteries]
    if len({_blocks(part) for part in parts}) > 1:
        return
    sorts = [_sort(part) for part in parts]
    all_lithium = all(sort["chemistry"] in LITHIUM for sort in sorts)
    for place, (part, sort) in enumerate(zip(parts, sorts, strict=True)):
        is_known = sort["chemistry"] is not None and sort["capacity_ah"] is not None
        if not is_known or sort in sorts[:place] or (
                sort["chemistry"] in LITHIUM and not all_lithium):
            continue
        title = (f"Replace {named(survey.diagram, batteries)} by new ones like "
                 f"{named(survey.diagram, [part.id])}")
        yield Fix(title, "choice", together(survey.diagram, title, *(
            partial(with_fields, title=title, item=item, **sort, **OF_THE_ONE)
            for item in batteries)))


def _sort(part: Component) -> dict[str, Any]:
    return {field: part.parameters.get(field) for field in OF_THE_SORT}


def _blocks(part: Component) -> tuple[float | None, int, int]:
    facts = part.parameters
    return (facts.get("block_nominal_v"), facts.get("series_count", 1),
            facts.get("parallel_count", 1))


def stronger(survey: Survey, battery: str, least_a: float) -> Fix:
    """Return the fix that fits a battery of at least such a cranking current [A] in place of one.
    """
    cranking_a = math.ceil(least_a / STEP_A) * STEP_A
    title = (f"Fit a battery of {cranking_a:g} A cranking current as "
             f"{named(survey.diagram, [battery])}, its other facts to be read off its label")
    return Fix(title, "choice", with_fields(
        survey.diagram, title, battery, cranking_a=cranking_a, model_text=None, **OF_THE_ONE))


def larger(survey: Survey, batteries: Sequence[str], ratio: float) -> Iterator[Fix]:
    """Offer so many times the capacity for a bank that is drawn as one part."""
    if len(batteries) == 1:
        (item,) = batteries
        capacity_ah = survey.diagram.components[item].parameters["capacity_ah"]
        steps = max(math.ceil(capacity_ah * ratio / STEP_AH), capacity_ah // STEP_AH + 1)
        asked_ah = steps * STEP_AH
        title = (f"Fit {asked_ah:g} Ah as {named(survey.diagram, [item])}, its other facts to be "
                 "read off its label")
        yield Fix(title, "choice", with_fields(
            survey.diagram, title, item, capacity_ah=asked_ah, model_text=None, **OF_THE_ONE))
