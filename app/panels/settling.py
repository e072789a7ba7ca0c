"""How many questions a field would settle: checks that could not judge something without it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from app.words import _, ngettext

Settling = Mapping[str, int]


def words(count: int) -> str:
    """Return what a field would settle, in words."""
    return ngettext("would settle {count} question", "would settle {count} questions",
                    count).format(count=count)


def rest_words(fields: int, known: int, counts: Iterable[int]) -> str:
    """Return the line that opens the rest of a form: what filling it in is good for."""
    waiting = [count for count in counts if count]
    if not waiting:
        return _("{fields} more fields, {known} known").format(fields=fields, known=known)
    return _("{fields} more; {count} {would_settle}").format(
        fields=fields, count=len(waiting), would_settle=words(sum(waiting)))
