"""Records as plain JSON values and back: what the file, the journal and the clipboard share."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from model.diagram import (
    Acceptance,
    BoatInfo,
    Component,
    Conductor,
    DcSystem,
    Mode,
    Place,
    Record,
    Sheet,
)
from model.frozen_map import thaw

RECORD_TYPES: Mapping[str, type[Record]] = {
    "boat": BoatInfo,
    "sheet": Sheet,
    "systems": DcSystem,
    "places": Place,
    "components": Component,
    "conductors": Conductor,
    "modes": Mode,
    "acceptances": Acceptance,
}


def natural_key(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sorting key by which W2 comes before W10."""
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part)
        for part in re.split(r"(\d+)", text) if part
    )


def to_plain(record: Record) -> dict[str, Any]:
    """Return the record as plain JSON values; what equals its default is left out."""
    plain = record.plain()
    if isinstance(record, Conductor):
        plain["cores"] = record.cores
    thawed: dict[str, Any] = thaw(plain)
    return _whole_numbers(thawed)


def _whole_numbers(value: Any) -> Any:
    """Write 12.0 as 12: the file reads as people write, and both compare equal."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    if isinstance(value, dict):
        return {key: _whole_numbers(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_whole_numbers(item) for item in value]
    return value


def from_plain(collection: str, plain: Mapping[str, Any]) -> Record:
    """Return the record of that collection; raise BadRecord when it does not fit."""
    return RECORD_TYPES[collection].read(plain)
