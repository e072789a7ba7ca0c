"""Ids for new things: the letter of the kind and the next free number."""

from __future__ import annotations

import re
from collections.abc import Container, Iterable

from model.diagram import COLLECTIONS, Diagram


def taken_ids(diagram: Diagram) -> set[str]:
    """Return every id of the diagram; one id names one thing, whatever the collection.

    The ways of panels count: F27 on the sheet is to mean one device, loose or in its row.
    """
    ways = {str(way["id"]) for part in diagram.components.values()
            for way in part.parameters.get("ways", ())}
    return ways | {item for name in COLLECTIONS for item in getattr(diagram, name)}


def fresh_id(letter: str, taken: Container[str], known: Iterable[str]) -> str:
    """Return the letter with the number after the highest one in use."""
    pattern = re.compile(rf"{re.escape(letter)}(\d+)$")
    numbers = [int(found.group(1)) for item in known if (found := pattern.match(item))]
    number = max(numbers, default=0) + 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"


def fresh_ids(letters: Iterable[str], diagram: Diagram) -> list[str]:
    """Return one new id for each letter, none twice."""
    taken = taken_ids(diagram)
    made = []
    for letter in letters:
        item = fresh_id(letter, taken, taken)
        taken.add(item)
        made.append(item)
    return made
