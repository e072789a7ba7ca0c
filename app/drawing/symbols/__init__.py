"""Symbols: for each kind of component what it looks like, as it stands, and where its ports are."""

from __future__ import annotations

from app.drawing.symbols import (
    conversion,
    distribution,
    loads,
    panels,
    protection,
    sources,
    switching,
)
from app.drawing.symbols.record import Draw, Parameters, PortPlace, Positions, Symbol

KIND_MIME = "application/x-loomwright-kind"  # a symbol dragged to the sheet, by its kind

_DRAWN: dict[str, Draw] = {
    slug: draw
    for module in (sources, conversion, switching, protection, distribution, panels, loads)
    for slug, draw in module.SYMBOLS.items()
}


def symbol(kind: str, parameters: Parameters, positions: Positions) -> Symbol:
    """Return the symbol of a kind of component; a kind without one is a plain box with its name.

    `positions` tell how its contacts stand, by handle id ("" for an only handle).
    """
    draw = _DRAWN.get(kind)
    if draw is None:
        return loads.plain_box({"what": kind.replace("_", " ")}, positions)
    return draw(parameters, positions)


def has_symbol(kind: str) -> bool:
    """Say whether a kind has a symbol of its own."""
    return kind in _DRAWN


__all__ = ["KIND_MIME", "PortPlace", "Symbol", "has_symbol", "symbol"]
