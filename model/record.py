"""What every record of the document is: frozen, compared by value, and read field by field.

`read` checks types, choices and bounds, refuses unknown fields by name, and says what was
expected. Knows nothing of boats.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Annotated, Any, Self, get_args, get_origin

import msgspec
from msgspec.structs import force_setattr

from model.frozen_map import FrozenMap, freeze

_LARGEST = 1.7e308  # beyond it there is only infinity, and "not a number" fits no bound either

Number = Annotated[float, msgspec.Meta(ge=-_LARGEST, le=_LARGEST)]
PositiveNumber = Annotated[float, msgspec.Meta(ge=0, le=_LARGEST)]


class BadRecord(ValueError):
    """Values that do not fit a record: the field ("" for the record itself) and what it wants."""

    def __init__(self, field: str, expected: str) -> None:
        super().__init__(f"{field}: {expected}" if field else expected)
        self.field, self.expected = field, expected


class Record(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Base of every record. A constructor trusts its caller; `read` and `changed` check."""

    @classmethod
    def read(cls, values: Mapping[str, Any]) -> Self:
        """Return the record with these values, by field name or by the name in the file.

        Raise BadRecord.
        """
        if not isinstance(values, Mapping):
            raise BadRecord("", "a record {...} was expected.")
        named = {_file_names(cls).get(name, name): value for name, value in values.items()}
        try:
            return msgspec.convert(named, cls, dec_hook=_decoded)
        except msgspec.ValidationError as error:
            raise _bad(cls, named, error) from None

    def changed(self, **fields: Any) -> Self:
        """Return the record with other field values, checked; raise BadRecord."""
        return self.read({**dict(self), **fields})

    def replaced(self, **fields: Any) -> Self:
        """Return the record with other field values, which are known to fit."""
        return msgspec.structs.replace(self, **fields)

    def __iter__(self) -> Iterator[tuple[str, Any]]:
        """Yield field names with their values, as `dict()` wants them."""
        return ((name, getattr(self, name)) for name in self.__struct_fields__)

    def plain(self) -> dict[str, Any]:
        """Return the record as plain dicts, by the names in the file, without defaults."""
        names = zip(self.__struct_fields__, self.__struct_encode_fields__, strict=True)
        standing = defaults(type(self))
        return {
            written: _plain(value) for name, written in names
            if (value := getattr(self, name)) != standing.get(name, _NO_DEFAULT)
        }

    @classmethod
    def field_names(cls) -> tuple[str, ...]:
        """Return the names of the fields."""
        return cls.__struct_fields__


def set_frozen(record: Record, *names: str) -> None:
    """Make dictionaries that a constructor was given unchangeable; for `__post_init__`."""
    for name in names:
        value = getattr(record, name)
        if type(value) is not FrozenMap:
            force_setattr(record, name, freeze(value))


@cache
def defaults(kind: type[Record]) -> Mapping[str, Any]:
    """Return the default of every field that has one."""
    return {field.name: field.default for field in msgspec.structs.fields(kind)
            if field.default is not msgspec.NODEFAULT}


_NO_DEFAULT = object()


@cache
def _file_names(kind: type[Record]) -> Mapping[str, str]:
    names = zip(kind.__struct_fields__, kind.__struct_encode_fields__, strict=True)
    return {name: written for name, written in names if name != written}


def _plain(value: Any) -> Any:
    if isinstance(value, Record):
        return value.plain()
    if isinstance(value, Mapping):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, tuple):
        return tuple(_plain(item) for item in value)
    return value


def _decoded(wanted: Any, value: Any) -> Any:
    """Read a FrozenMap: a dictionary of the given key and value types, frozen."""
    if get_origin(wanted) is not FrozenMap:
        raise NotImplementedError(f"no way to read {wanted}")
    if isinstance(value, Mapping) and not value:
        return FrozenMap()
    key, item = get_args(wanted)
    found = msgspec.convert(value, dict[key, item], dec_hook=_decoded)  # type: ignore[valid-type]
    return freeze(found) if item is Any else FrozenMap(found)


def _bad(kind: type[Record], named: Mapping[str, Any], error: msgspec.ValidationError) -> BadRecord:
    """Return the error with the field it is about, which a frozen map hides from the reader."""
    text = str(error)
    field = text.partition(" - at `$")[2].rstrip("`").lstrip(".")
    if text.startswith("Object contains unknown field"):
        inner = text.split("`")[1]
        return BadRecord(f"{field}.{inner}" if field else inner,
                         "there is no such field in this version.")
    if text.startswith("Object missing required field"):
        inner = text.split("`")[1]
        return BadRecord(f"{field}.{inner}" if field else inner, "this field is needed.")
    if field.startswith("["):
        field = next((name for name in named if not _reads(kind, name, named[name])), "") + field
    return BadRecord(field, _in_words(text.partition(" - at ")[0]))


_WORDS = {"float": "a finite number", "int": "a whole number", "str": "text",
          "bool": "true or false", "array": "a list", "object": "a record",
          "null": "nothing"}  # fmt: skip


def _in_words(text: str) -> str:
    """Return what the reader expected as a sentence: "expected a finite number, got text."."""
    if "matching regex" in text:
        return "letters, digits, '-' and '_' were expected."
    text = re.sub(rf" <= {re.escape(str(_LARGEST))}| >= -{re.escape(str(_LARGEST))}", "", text)
    text = re.sub(r"`([^`]*)`", lambda found: " or ".join(
        _WORDS.get(part, part) for part in found[1].split(" | ")), text)
    return f"{text[:1].lower()}{text[1:]}."


def _reads(kind: type[Record], name: str, value: Any) -> bool:
    wanted = {f.encode_name: f.type for f in msgspec.structs.fields(kind)}.get(name, Any)
    try:
        msgspec.convert(value, wanted, dec_hook=_decoded)
    except msgspec.ValidationError:
        return False
    return True
