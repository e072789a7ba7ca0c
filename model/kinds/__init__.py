"""The catalogue of kinds of component: one file for each family, one record for each kind."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from model.errors import UnknownKind
from model.kinds import (
    conversion,
    distribution,
    grounding,
    loads,
    measuring,
    protection,
    sources,
    storage,
    switching,
)
from model.kinds.record import Field, Handle, Kind, Link, Port

if TYPE_CHECKING:
    from model.diagram import Component

FAMILIES = (
    ("storage", "Storage"),
    ("sources", "Supply"),
    ("conversion", "Conversion"),
    ("switching", "Switching"),
    ("protection", "Protection"),
    ("distribution", "Distribution"),
    ("measuring", "Measuring and control"),
    ("loads", "Loads"),
    ("alternating", "AC side"),
    ("earthing", "Earth and bonding"),
)

_MODULES = (storage, sources, conversion, switching, protection, distribution, measuring, loads,
            grounding)


@cache
def catalogue() -> Mapping[str, Kind]:
    """Return every kind by its slug, in the order of the families."""
    kinds = [kind for module in _MODULES for kind in module.KINDS]
    by_slug = {kind.slug: kind for kind in kinds}
    if len(by_slug) != len(kinds):
        raise ValueError("two kinds of component have the same slug")
    return MappingProxyType(by_slug)


def kind_of(component: Component) -> Kind:
    """Return the record of a component's kind; raise UnknownKind."""
    kind = catalogue().get(component.kind)
    if kind is None:
        raise UnknownKind(component.id, component.kind)
    return kind


def port_of(component: Component, port_id: str) -> Port | None:
    """Return the port of that id on the component, or None."""
    ports = kind_of(component).ports(component.parameters)
    return next((port for port in ports if port.id == port_id), None)


__all__ = ["FAMILIES", "Field", "Handle", "Kind", "Link", "Port", "catalogue", "kind_of", "port_of"]
