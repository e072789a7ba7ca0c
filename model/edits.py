"""Edits: the only way a diagram changes. Plain data, checked whole, done all or nothing.

An edit puts another value under the same id. Undo, quick fixes, pasting, the planned change and
the cases of the tests all use this one type.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from model.diagram import COLLECTIONS, Diagram, Record
from model.errors import BadField, StaleEdit, WrongId
from model.record import BadRecord
from model.validity import check_items


class Change(Struct, frozen=True):
    """One value put in place of another. Adding has before=None, removing has after=None.

    `collection` is the name of one of the diagram's collections, or "boat" or "sheet" (whose
    `id` is the empty text).
    """

    collection: str
    id: str
    before: Record | None
    after: Record | None


class Edit(Struct, frozen=True):
    """A titled row of changes that are done together. `merge_key` joins typing into one step."""

    label: str
    changes: tuple[Change, ...]
    merge_key: str = ""

    def is_empty(self) -> bool:
        """Return whether the edit changes nothing."""
        return all(change.before == change.after for change in self.changes)


def current(diagram: Diagram, collection: str, item: str) -> Record | None:
    """Return what stands there now, or None."""
    if collection in COLLECTIONS:
        found: Record | None = getattr(diagram, collection).get(item)
        return found
    value: Record = getattr(diagram, collection)
    return value


def put(diagram: Diagram, collection: str, item: str, after: Record | None) -> Change:
    """Return the change that puts `after` where the diagram now has what it has."""
    return Change(collection, item, current(diagram, collection, item), after)


def setting(diagram: Diagram, label: str, *values: Record, merge_key: str = "") -> Edit:
    """Return the edit that puts each value under its own id, adding what is not there."""
    return Edit(
        label,
        tuple(put(diagram, collection_of(value), getattr(value, "id", ""), value)
              for value in values),
        merge_key,
    )


def collection_of(value: Record) -> str:
    """Return the name of the collection a record belongs to."""
    names = {
        "DcSystem": "systems", "Place": "places", "Component": "components",
        "Conductor": "conductors", "Mode": "modes", "Acceptance": "acceptances",
        "BoatInfo": "boat", "Sheet": "sheet",
    }
    return names[type(value).__name__]


def changed(value: Any, **fields: Any) -> Any:
    """Return the record with other field values, validated (a plain copy would not be)."""
    return value.changed(**fields)


def inverse(edit: Edit) -> Edit:
    """Return the edit that takes this one back."""
    return Edit(
        edit.label,
        tuple(Change(c.collection, c.id, c.after, c.before) for c in reversed(edit.changes)),
    )


def merge(first: Edit, second: Edit) -> Edit:
    """Return one edit that does both, keeping the oldest before and the newest after."""
    merged: dict[tuple[str, str], Change] = {}
    for change in (*first.changes, *second.changes):
        key = (change.collection, change.id)
        before = merged[key].before if key in merged else change.before
        merged[key] = Change(change.collection, change.id, before, change.after)
    return Edit(second.label, tuple(merged.values()), second.merge_key)


def apply(diagram: Diagram, edit: Edit) -> Diagram:
    """Return the diagram after the edit.

    Raise StaleEdit when a `before` is not what stands there, or another ModelError when the
    result would hold a bad value or a reference that leads nowhere. Nothing is done then.
    """
    touched: dict[str, dict[str, Record | None]] = {}
    for change in edit.changes:
        _check_change(diagram, change, touched)
        touched.setdefault(change.collection, {})[change.id] = change.after
    values: dict[str, Any] = {}
    for name, items in touched.items():
        if name in COLLECTIONS:
            values[name] = getattr(diagram, name).with_items(items.items())
        else:
            values[name] = items[""]
    result = diagram.replaced(**values)
    check_items(result, _to_check(result, touched))
    return result


def _check_change(
    diagram: Diagram, change: Change, touched: dict[str, dict[str, Record | None]]
) -> None:
    done = touched.get(change.collection, {})
    now = done.get(change.id, current(diagram, change.collection, change.id))
    if change.id in done:
        now = done[change.id]
    if now != change.before:
        raise StaleEdit(change.collection, change.id)
    if change.after is None:
        return
    if getattr(change.after, "id", "") != change.id:
        raise WrongId(change.id, getattr(change.after, "id", ""))
    try:
        change.after.changed()
    except BadRecord as error:
        raise BadField(change.id, error.field, error.expected) from error


def _to_check(
    diagram: Diagram, touched: dict[str, dict[str, Record | None]]
) -> Iterable[Record]:
    """Return the new values, and all others that may refer to something removed or reshaped."""
    components = touched.get("components", {})
    reshaped = set(components)
    if any(after is None for items in touched.values() for after in items.values()):
        for name in COLLECTIONS:
            yield from getattr(diagram, name).values()
        return
    for items in touched.values():
        yield from (after for after in items.values() if after is not None)
    if reshaped:
        for conductor in diagram.conductors.values():
            if {conductor.start.component, conductor.finish.component} & reshaped:
                yield conductor


