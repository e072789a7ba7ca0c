"""Words of the Particulars about the diagram: links to parts, sizes, what a conductor carries."""

from __future__ import annotations

from app.drawing.wording import designation, length_text, size_text
from app.words import _, decimal
from model.diagram import Conductor, Diagram


def linked(diagram: Diagram, item: str) -> str:
    """Return a part or conductor as a link, its name after the designation."""
    thing = diagram.components.get(item) or diagram.conductors[item]
    from html import escape  # its table of entities would cost every start two milliseconds

    name = escape(getattr(thing, "name", ""))
    return f'<a href="{escape(item)}">{escape(designation(thing))}</a> {name}'.strip()


def sized(wire: Conductor, length_unit: str) -> str:
    """Return a conductor's size and length, in italics."""
    said = f"{size_text(wire.size)} {length_text(wire.length_m, length_unit)}".strip()
    return f"<i>{decimal(said)}</i>"


def cores_text(wire: Conductor) -> str:
    """Return what the conductor carries, in words where the letters do not say it."""
    cores = wire.cores
    known = {("+",): _("positive"), ("-",): _("negative"), ("+", "-"): _("positive and negative"),
             ("L", "N", "E"): _("L, N and earth"), ("E",): _("earth")}
    return known.get(tuple(cores), "cores " + " ".join(cores))
