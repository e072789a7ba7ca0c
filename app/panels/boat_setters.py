"""What the fields of the boat and of its systems do when they are typed in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from app.drafting.parts import set_title
from app.panels.fields import Setter
from app.words import _, in_words, within
from model.diagram import BoatInfo, Diagram, Known
from model.edits import Edit, changed, setting
from model.kinds.record import Field
from model.record import defaults

DO = Callable[[Edit], str | None]


def boat_setter(diagram: Callable[[], Diagram], name: str, do: DO) -> Setter:
    """Return what sets a field of the boat in the diagram as it then is."""
    def put(value: Any, _known: Known | None) -> str | None:
        now, empty = diagram(), defaults(BoatInfo)[name]
        boat = changed(now.boat, **{name: empty if value is None else value})
        return do(setting(now, set_title(in_words(name), _("the boat")), boat,
                          merge_key=f"boat.{name}"))
    return put


def system_setter(
    diagram: Callable[[], Diagram], system_id: str, field: Field, do: DO
) -> Setter:
    """Return what sets a field of a system in the diagram as it then is."""
    def put(value: Any, _known: Known | None) -> str | None:
        now = diagram()
        system = changed(now.systems[system_id], **{field.name: value})
        return do(setting(now, set_title(within(field.title), system.name or system_id), system,
                          merge_key=f"{system_id}.{field.name}"))
    return put
