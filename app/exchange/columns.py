"""Headings of an imported table: what each column is, and the unit it gives its figures in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Literal

from msgspec import Struct

from model.table_files import table_rows

Table = Literal["components", "conductors"]
_UNIT = re.compile(r"\s*(?:\[([^\]]+)\]|\(([^)]+)\)|/\s*(\S+)|,\s*(\S+))\s*$")


class Column(Struct, frozen=True):
    """A column: its heading as written, the words without the unit, and the unit ("" for none)."""

    heading: str
    words: str
    unit: str


def column(heading: str) -> Column:
    """Return a heading read: "Length (ft)", "Length [ft]", "Length / ft" give the unit ft."""
    text = heading.strip().lstrip("\ufeff")
    found = _UNIT.search(text)
    unit = next((part for part in found.groups() if part), "") if found else ""
    words = text[: found.start()] if found else text
    return Column(text, plain(words), unit)


def plain(text: str) -> str:
    """Return words without case, underscores and needless signs: "Rated_Current." and so on."""
    return " ".join(re.sub(r"[^\w+./-]+|_", " ", text.casefold()).replace(".", " ").split())


@cache
def aliases(table: Table) -> Mapping[str, tuple[str, ...]]:
    """Return the fields that a heading's words may mean, the first that a kind has."""
    return {plain(row["words"]): tuple(row["fields"].split())
            for row in table_rows("import_columns") if row["table"] == table}
