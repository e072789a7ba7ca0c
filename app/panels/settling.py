"""How many questions a field would settle: checks that could not judge something without it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rules.engine import Report

Settling = Mapping[str, int]


def settling(report: Report) -> Settling:
    """Return, by field ("W3.size"), how many checks wait for it."""
    return Counter(field for one in report.cannot_tell for field in dict.fromkeys(one.missing))


def words(count: int) -> str:
    """Return what a field would settle, in words."""
    return f"would settle {count} question{'' if count == 1 else 's'}"


def rest_words(fields: int, known: int, counts: Iterable[int]) -> str:
    """Return the line that opens the rest of a form: what filling it in is good for."""
    waiting = [count for count in counts if count]
    if not waiting:
        return f"{fields} more fields, {known} known"
    return f"{fields} more; {len(waiting)} {words(sum(waiting))}"
