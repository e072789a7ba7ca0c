"""Reading a diagram from a file. Whatever is wrong is told as file, place and what was expected."""

from __future__ import annotations

import json
from codecs import BOM_UTF8
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from model.diagram import COLLECTIONS, FORMAT_VERSION, Diagram, Record
from model.errors import ModelError, UnreadableFile
from model.frozen_map import FrozenMap
from model.record import BadRecord
from model.storage.plain import from_plain
from model.storage.upgrade import upgraded
from model.validity import check_diagram

LARGEST_FILE_BYTES = 64 * 1024 * 1024


def load(path: Path | str) -> Diagram:
    """Read and check a `.loom` file; raise UnreadableFile."""
    name = str(path)
    try:
        if Path(path).is_dir():
            raise UnreadableFile(name, "", "this is a folder; a .loom file was expected.")
        if Path(path).stat().st_size > LARGEST_FILE_BYTES:
            raise UnreadableFile(name, "", "the file is larger than 64 MiB; no diagram is.")
        raw = Path(path).read_bytes()
    except FileNotFoundError:
        raise UnreadableFile(name, "", "there is no such file.") from None
    except OSError as error:
        raise UnreadableFile(name, "", f"it cannot be read ({error.strerror}).") from error
    try:
        text = raw.removeprefix(BOM_UTF8).decode("utf-8")
    except UnicodeDecodeError as error:
        raise UnreadableFile(
            name, f"byte {error.start}", "this is not text; a .loom file (JSON) was expected."
        ) from error
    return loads(text, name)


def loads(text: str, name: str = "the text") -> Diagram:
    """Return the diagram written in the text; raise UnreadableFile, which names `name`."""
    document = _document(text, name)
    version = document.get("format_version")
    if isinstance(version, bool) or not isinstance(version, int):
        raise UnreadableFile(name, "format_version", "a whole number was expected.")
    if version > FORMAT_VERSION:
        raise UnreadableFile(
            name, "format_version",
            f"the file is of version {version}; this program reads up to {FORMAT_VERSION}. "
            "A newer Loomwright wrote it.",
        )
    document = upgraded(document, version, name)
    known = {"format_version", "boat", "sheet", "extra", *COLLECTIONS}
    unknown = next((key for key in document if key not in known), None)
    if unknown is not None:
        raise UnreadableFile(name, unknown, "there is no such field in this version.")
    values: dict[str, Any] = {"format_version": FORMAT_VERSION}
    for single in ("boat", "sheet"):
        values[single] = _record(single, document.get(single, {}), name, single)
    for collection in COLLECTIONS:
        values[collection] = _collection(collection, document.get(collection, []), name)
    values["extra"] = document.get("extra", {})
    try:
        diagram = Diagram.read(values)
        check_diagram(diagram)
    except BadRecord as error:
        raise UnreadableFile(name, error.field, error.expected) from error
    except ModelError as error:
        raise UnreadableFile(name, ", ".join(error.ids[:1]), error.sentence) from error
    return diagram


def _document(text: str, name: str) -> dict[str, Any]:
    def no_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for key, value in pairs:
            if key in found:
                raise UnreadableFile(name, key, "the same field stands twice in one record.")
            found[key] = value
        return found

    def no_constant(constant: str) -> Any:
        raise UnreadableFile(name, constant, "a finite number was expected.")

    try:
        document = json.loads(text, object_pairs_hook=no_twice, parse_constant=no_constant)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise UnreadableFile(
            name, place, f"the file is not whole JSON here ({error.msg.lower()})."
        ) from error
    except (RecursionError, ValueError) as error:
        raise UnreadableFile(name, "", "nested too deep or a number too long.") from error
    if not isinstance(document, dict):
        raise UnreadableFile(name, "line 1", "one JSON object was expected.")
    return document


def _collection(collection: str, items: Any, name: str) -> FrozenMap[str, Record]:
    if not isinstance(items, list):
        raise UnreadableFile(name, collection, "a list was expected.")
    found: dict[str, Record] = {}
    for number, item in enumerate(items, start=1):
        own = item.get("id") if isinstance(item, Mapping) else None
        place = f"{collection}, {own if isinstance(own, str) else f'item {number}'}"
        record = _record(collection, item, name, place)
        if own in found:
            raise UnreadableFile(name, place, "this id stands twice; every id must be its own.")
        found[own] = record  # type: ignore[index]
    return FrozenMap(found)


def _record(collection: str, item: Any, name: str, place: str) -> Record:
    if not isinstance(item, Mapping):
        raise UnreadableFile(name, place, "a record {...} was expected.")
    try:
        return from_plain(collection, item)
    except BadRecord as error:
        field = error.field or "record"
        raise UnreadableFile(name, f"{place}, {field}", error.expected) from error
