"""Lifting old files: one step for each version, each a function with a test of its own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from model.diagram import FORMAT_VERSION
from model.errors import UnreadableFile

Document = dict[str, Any]

# Version 1 is the first; the step from n to n + 1 stands under n.
_STEPS: Mapping[int, Callable[[Document], Document]] = {}


def upgraded(document: Document, version: int, name: str) -> Document:
    """Return the document as the present version writes it; raise UnreadableFile."""
    if version < 1:
        raise UnreadableFile(name, "format_version", "1 or more was expected.")
    for step in range(version, FORMAT_VERSION):
        document = _STEPS[step](document)
    return document
