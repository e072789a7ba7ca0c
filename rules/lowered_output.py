"""The limit of a charging source set lower, where it has one that can be set."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from model.analysis.charging import outlets, regulator_of
from model.edits import apply as applied
from model.survey import Survey
from rules.charging_output import output_at
from rules.fixing import with_fields
from rules.rule import Fix
from rules.wording import named

Setting = tuple[str, str, float]
WORDS = {"charge_a": "Set the charging current of {item} to", "output_cap_a": "Cap {item} at",
         "current_limit_a": "Limit the input of {item} to"}


def lowered(
    survey: Survey, sources: Iterable[str], by_a: float, settles: Callable[[Survey], bool]
) -> Iterator[Fix]:
    """Offer for each of some sources to give less by so much [A], where that `settles` it."""
    for source in sources:
        setting = _setting(survey, source, by_a)
        if setting is None:
            continue
        item, field, most_a = setting
        words = WORDS[field].format(item=named(survey.diagram, [item]))
        title = f"{words} {most_a:g} A"
        edit = with_fields(survey.diagram, title, item, **{field: most_a})
        if settles(Survey(applied(survey.diagram, edit))):
            yield Fix(title, "choice", edit)


def _setting(survey: Survey, source: str, by_a: float) -> Setting | None:
    """Return the part, the field and the figure [A] by which a source gives so much less; None
    when it has no limit to set, several outputs, or gives no more than that.
    """
    part = survey.diagram.components[source]
    given = [output_at(survey, one).amperes for one in outlets(survey.graph)
             if one.source == source]
    if len(given) != 1 or given[0] is None or math.floor(given[0] - by_a) <= 0:
        return None
    most_a, facts = given[0] - by_a, part.parameters
    if part.kind == "inverter_charger":
        return source, "charge_a", math.floor(most_a)
    if part.kind == "dc_dc_charger" and {"input_v", "output_v"} <= facts.keys():
        ratio = facts["output_v"] / facts["input_v"] / facts.get("efficiency", 1)
        return source, "current_limit_a", math.floor(most_a * ratio)
    regulator = regulator_of(survey.diagram, part) if part.kind == "alternator" else None
    return None if regulator is None else (regulator.id, "output_cap_a", math.floor(most_a))
