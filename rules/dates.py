"""Dates as they are written on labels and title blocks: year and month."""

from __future__ import annotations

import re

MONTHS = 12


def months(written: str | None) -> int | None:
    """Return a date like 2024-05 or 2024-05-17 in months from year nought; None when it is none."""
    found = re.match(r"(\d{4})-(\d{2})", written or "")
    return None if found is None else int(found.group(1)) * MONTHS + int(found.group(2))
