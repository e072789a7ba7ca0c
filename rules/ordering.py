"""Ids in the order people count: W2 before W10."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache


@lru_cache(maxsize=20_000)
def natural(item: str) -> tuple[tuple[bool, int, str], ...]:
    """Return what sorts ids as people count."""
    parts = re.split(r"(\d+)", item)
    return tuple((part.isdigit(), int(part) if part.isdigit() else 0, part) for part in parts)


def in_order(items: Iterable[str]) -> list[str]:
    """Return each id once, in the order people count."""
    return sorted(set(items), key=natural)
