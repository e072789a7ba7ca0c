"""Reading the shipped tables as they are: rows of text. Knows no table's meaning."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

import assets

# By path: importlib.resources costs a start some milliseconds.
FOLDER = Path(assets.__file__).parent / "tables"


@cache
def table_rows(name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of `assets/tables/NAME.csv`, each by its column's name."""
    import csv  # a start reads no table

    text = (FOLDER / f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))
