"""Between which bounds an ampacity lies when not all that decides it is stated.

A verdict may be certain although a field is missing: a device too large for the best insulation
is too large for any. What is certain is said; only what hangs on the field cannot be told.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass

from model.analysis.ampacity import Ampacity, RuleSet, ampacity
from model.diagram import Conductor, Diagram
from model.edits import changed
from model.errors import TableRangeError
from model.table_files import table_rows

_TABLES = {"us": "ampacity_33cfr183_table5", "iso": "ampacity_iso13297"}


@dataclass(frozen=True, slots=True)
class AmpacityRange:
    """The least and the greatest ampacity a conductor may have, equal when all is known. [A].

    None for both when `missing` leaves no bound, as without a size; the insulation is named
    where its class is in no table, or the engine space's heat rules it out.
    """

    low_a: float | None
    high_a: float | None
    missing: tuple[str, ...] = ()
    sources: tuple[str, ...] = ()
    confirmed: bool = True


def ampacity_range(conductor: Conductor, diagram: Diagram, rule_set: RuleSet) -> AmpacityRange:
    """Return the bounds of a conductor's ampacity by a rule set's table."""
    missing: tuple[str, ...] = ()
    with suppress(TableRangeError):
        exact = ampacity(conductor, diagram, rule_set)
        missing = exact.missing
        if not missing:
            return _range([exact], ())
    if "size" in missing:
        return AmpacityRange(None, None, missing)
    classes = insulation_classes_c(rule_set) if "insulation_c" in missing else (
        conductor.insulation_c,)
    found = []
    for insulation_c in classes:
        for engine_space_m in (0.0, 1.0) if "engine_space_m" in missing else (
                conductor.engine_space_m,):
            guess = changed(conductor, insulation_c=insulation_c, engine_space_m=engine_space_m)
            with suppress(TableRangeError):  # not every class is allowed everywhere
                found.append(ampacity(guess, diagram, rule_set))
    if not found:
        return AmpacityRange(None, None, ("insulation_c",))
    return _range(found, missing)


def insulation_classes_c(rule_set: RuleSet) -> tuple[float, ...]:
    """Return the insulation classes of a rule set's table that its factors know too. [C]."""
    columns = table_rows(_TABLES[rule_set])[0]
    found = (re.search(r"insulation_(\d+)", name) for name in columns)
    return tuple(sorted(float(match[1]) for match in found if match))


def _range(found: Iterable[Ampacity], missing: tuple[str, ...]) -> AmpacityRange:
    every = list(found)
    values = [one.value_a for one in every if one.value_a is not None]
    sources = dict.fromkeys(source for one in every for source in one.sources)
    return AmpacityRange(min(values), max(values), missing, tuple(sources),
                         all(one.confirmed for one in every))
