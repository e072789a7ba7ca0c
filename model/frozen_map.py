"""A dictionary that refuses change, nested values too.

A frozen record alone still lets its dictionaries be changed; a diagram must be a value all the
way down. Knows nothing of boats.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, NoReturn, TypeVar

K = TypeVar("K")
V = TypeVar("V")


class FrozenMap(dict[K, V]):
    """An immutable mapping: equal to a dict with the same items, hashable by its keys."""

    def _refuse(self, *_args: Any, **_kwargs: Any) -> NoReturn:
        raise TypeError("a FrozenMap cannot be changed; make another with .with_item()")

    __setitem__ = __delitem__ = __ior__ = _refuse
    clear = pop = popitem = setdefault = update = _refuse

    def __hash__(self) -> int:  # type: ignore[override]
        """Hash by keys only: values may be large, and equality decides in the end."""
        return hash(frozenset(self))

    def __copy__(self) -> FrozenMap[K, V]:
        """Return the same object: it cannot change."""
        return self

    def __deepcopy__(self, _memo: dict[int, Any]) -> FrozenMap[K, V]:
        """Return the same object: it cannot change."""
        return self

    def __reduce__(self) -> tuple[type[FrozenMap[K, V]], tuple[list[tuple[K, V]]]]:
        """Pickle by the items, since the usual way would use item assignment."""
        return (FrozenMap, (list(self.items()),))

    def with_items(self, items: Iterable[tuple[K, V | None]]) -> FrozenMap[K, V]:
        """Return another map in which each key has the given value; None removes the key."""
        changed: dict[K, V] = dict(self)
        for key, value in items:
            if value is None:
                changed.pop(key, None)
            else:
                changed[key] = value
        return FrozenMap(changed)

    def with_item(self, key: K, value: V | None) -> FrozenMap[K, V]:
        """Return another map with one key set, or removed when the value is None."""
        return self.with_items([(key, value)])


def freeze(value: Any) -> Any:
    """Return a JSON-like value with dicts as FrozenMap and lists as tuples, all the way down."""
    if isinstance(value, Mapping):
        return FrozenMap({key: freeze(item) for key, item in value.items()})
    if isinstance(value, list | tuple):
        return tuple(freeze(item) for item in value)
    return value


def thaw(value: Any) -> Any:
    """Return the value as plain dicts and lists, for writing as JSON."""
    if isinstance(value, Mapping):
        return {key: thaw(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [thaw(item) for item in value]
    return value
