"""One cell of an imported table as the value of a field, or why it is none."""

from __future__ import annotations

import re
from typing import Any

from app.exchange.columns import plain
from model.kinds.record import Field
from model.units import QuantityError, parse_quantity

BLANK = frozenset({"", "?", "-", "unknown", "n/a"})
YES = frozenset({"yes", "y", "true", "1", "x"})
NO = frozenset({"no", "n", "false", "0"})
# Words of the trade for choices, sure enough to be taken and named as guessed.
CHOICE_WORDS = {
    "lifepo4": "lfp", "lithium": "lfp", "lead": "flooded", "wet": "flooded", "lead-acid": "flooded",
    "class t": "class_t", "anl": "bolted", "mega": "bolted", "ato": "blade", "atc": "blade",
    "mrbf": "terminal", "petrol": "petrol", "gasoline": "petrol",
}  # fmt: skip


class BadCell(ValueError):
    """A cell that is no value of its field; the text says what was expected."""


def is_blank(text: str, field: Field | None = None) -> bool:
    """Say whether a cell says nothing: unknown stays unknown. A dash may be a choice: a pole."""
    if field is not None and text.strip() in field.choices:
        return False
    return plain(text) in BLANK or text.strip() in BLANK


def cell_value(field: Field, text: str, unit: str) -> tuple[Any, bool]:
    """Return the value, and whether it was guessed; a bare number is in the heading's unit.

    Raise BadCell.
    """
    value, is_guess = _read(field, text.strip(), unit)
    expected = field.expected(value)
    if expected is not None:
        raise BadCell(f"must be {expected}")
    return value, is_guess


def _read(field: Field, text: str, unit: str) -> tuple[Any, bool]:
    if field.type in ("number", "count"):
        return _number(field, text, unit), False
    if field.type == "choice":
        return _choice(field, text)
    if field.type == "yes_no":
        return _yes_no(text), False
    if field.type in ("ids", "numbers"):
        parts = [part for part in re.split(r"[;,\s]+", text) if part]
        if field.type == "ids":
            return tuple(parts), False
        return tuple(_number(field, part, unit) for part in parts), False
    if field.type == "records":
        raise BadCell("cannot be given in a cell")
    return text, False


def _number(field: Field, text: str, unit: str) -> float | int:
    is_bare = re.fullmatch(r"[-+]?[\d.,]+", text) is not None
    try:
        value = parse_quantity(f"{text} {unit}" if is_bare and unit else text, field.unit)
    except (QuantityError, KeyError) as error:
        raise BadCell(str(error)) from error
    return round(value) if field.type == "count" and float(value).is_integer() else value


def _choice(field: Field, text: str) -> tuple[str, bool]:
    words = plain(text)
    for choice in field.choices:
        if words == plain(choice):
            return choice, False
    meant = CHOICE_WORDS.get(words)
    if meant in field.choices:
        return str(meant), True
    close = [choice for choice in field.choices if plain(choice).startswith(words)]
    if len(close) == 1:
        return close[0], True
    raise BadCell(f"must be one of {', '.join(field.choices)}")


def _yes_no(text: str) -> bool:
    words = plain(text)
    if words in YES:
        return True
    if words in NO:
        return False
    raise BadCell("must be yes or no")
