"""Ways of a panel on which nothing is wired yet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from model.diagram import Component
from model.survey import Survey


def free_ways(survey: Survey, panel: Component) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Yield the ways ("P1.w3") of a panel that are listed, rated, not wired and not spoken for."""
    wired = {f"{end.component}.{end.terminal}" for wire in survey.diagram.conductors.values()
             for end in wire.ends()}
    for way in panel.parameters.get("ways", ()):
        item = f"{panel.id}.{way['id']}"
        unclaimed = way.get("spare") is True or not way.get("label")
        if way.get("rated_a") and item not in wired and unclaimed:
            yield item, way
