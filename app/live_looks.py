"""From what is live to how it is shown: letters of the sources for each item of the sheet."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from app.drawing.bands import LiveLook
from model.diagram import Component, Diagram
from model.kinds import kind_of

if TYPE_CHECKING:
    from model.survey import LiveState


def source_letter(component: Component) -> str:
    """Return the letter of a source: H house, E engine start, P sun, A alternator, W, S, N."""
    if component.kind == "battery_bank":
        return "E" if component.parameters.get("duty") == "start" else "H"
    source = kind_of(component).source
    return source.letter if source is not None else "N"


def _can_be_live(component: Component) -> bool:
    """Say whether a part has an ungrounded side: engines, earths and negative bars have none."""
    if kind_of(component).role in ("engine", "earth"):
        return False
    return component.parameters.get("pole") not in ("-", "E", "N", "bonding")


def live_looks(diagram: Diagram, state: LiveState) -> Mapping[str, LiveLook]:
    """Return the look of every component and conductor that can be live."""
    letters = {item: source_letter(component) for item, component in diagram.components.items()}
    looks: dict[str, LiveLook] = {}
    for live in (state.components, state.conductors):
        for item, sources in live.items():
            if item in diagram.components and not _can_be_live(diagram.components[item]):
                continue
            shown = "".join(sorted({letters[source] for source in sources}))
            looks[item] = LiveLook(shown, item in state.unexpected)
    return looks
