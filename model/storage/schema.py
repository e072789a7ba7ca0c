"""The JSON Schema of the file, made from the records and the catalogue of kinds.

`python -m model.storage.schema` writes it to assets; with `--check` it only says whether it is
stale.
"""

from __future__ import annotations

import json
import sys
from importlib.resources import files
from pathlib import Path
from typing import Any, get_args, get_origin

import msgspec

from model.diagram import COLLECTIONS, FORMAT_VERSION
from model.frozen_map import FrozenMap
from model.kinds import catalogue
from model.kinds.record import Field, Kind
from model.record import Record
from model.storage.plain import RECORD_TYPES

REFERENCE = "#/$defs/{name}"
SCHEMA_PATH = f"schema/loom-{FORMAT_VERSION}.schema.json"


def field_schema(field: Field) -> dict[str, Any]:
    """Return the JSON Schema of one field of a kind."""
    schema = _type_schema(field)
    schema["title"] = field.title
    if field.unit:
        schema["description"] = f"[{field.unit}]"
    return schema


def _type_schema(field: Field) -> dict[str, Any]:
    if field.type in ("number", "count"):
        schema: dict[str, Any] = {"type": "integer" if field.type == "count" else "number",
                                  "minimum": 0 if field.minimum is None else field.minimum}
        return schema if field.maximum is None else {**schema, "maximum": field.maximum}
    if field.type == "choice":
        return {"enum": list(field.choices)}
    if field.type == "yes_no":
        return {"type": "boolean"}
    if field.type in ("text", "id"):
        return {"type": "string"}
    if field.type == "ids":
        return {"type": "array", "items": {"type": "string"}}
    if field.type == "numbers":
        return {"type": "array", "items": {"type": "number"}}
    columns = {column.name: field_schema(column) for column in field.columns}
    row = {"type": "object", "properties": columns, "required": ["id"],
           "additionalProperties": False}
    return {"type": "array", "items": row}


def parameters_schema(kind: Kind) -> dict[str, Any]:
    """Return the JSON Schema of a kind's parameters."""
    return {
        "type": "object",
        "title": kind.title,
        "properties": {field.name: field_schema(field) for field in kind.fields},
        "additionalProperties": False,
    }


def _map_schema(_kind: type) -> dict[str, Any]:
    return {"type": "object"}


def _describe_maps(record: type[Record], schema: dict[str, Any]) -> dict[str, Any]:
    """Say what the dictionaries of a record hold; return the definitions that this needs."""
    needed: dict[str, Any] = {}
    for field in msgspec.structs.fields(record):
        if get_origin(field.type) is FrozenMap and get_args(field.type)[1] is not Any:
            (held,), more = msgspec.json.schema_components(
                [get_args(field.type)[1]], ref_template=REFERENCE)
            schema["properties"][field.encode_name]["additionalProperties"] = held
            needed.update(more)
    return needed


def file_schema() -> dict[str, Any]:
    """Return the JSON Schema of the whole file."""
    _, definitions = msgspec.json.schema_components(
        RECORD_TYPES.values(), schema_hook=_map_schema, ref_template=REFERENCE)
    properties: dict[str, Any] = {"format_version": {"const": FORMAT_VERSION}}
    for name, record in RECORD_TYPES.items():
        schema = definitions[record.__name__]
        definitions.update(_describe_maps(record, schema))
        if name == "components":
            schema["properties"]["kind"] = {"enum": list(catalogue())}
            schema["allOf"] = [
                {"if": {"properties": {"kind": {"const": slug}}},
                 "then": {"properties": {"parameters": parameters_schema(kind)}}}
                for slug, kind in catalogue().items()
            ]
        definitions[record.__name__] = schema
        reference = {"$ref": f"#/$defs/{record.__name__}"}
        many = name in COLLECTIONS
        properties[name] = {"type": "array", "items": reference} if many else reference
    properties["extra"] = {"type": "object", "additionalProperties": {"type": "string"}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Loomwright diagram, version {FORMAT_VERSION}",
        "type": "object",
        "required": ["format_version"],
        "additionalProperties": False,
        "properties": properties,
        "$defs": dict(sorted(definitions.items())),
    }


def schema_text() -> str:
    """Return the schema as the shipped file has it."""
    return json.dumps(file_schema(), indent=1, ensure_ascii=False) + "\n"


def main(arguments: list[str]) -> int:
    """Write the shipped schema, or with --check say whether it is stale (exit 1)."""
    path = Path(str(files("assets").joinpath(SCHEMA_PATH)))
    if "--check" in arguments:
        fresh = path.exists() and path.read_text("utf-8") == schema_text()
        print("the schema is up to date" if fresh else "the schema is stale")
        return 0 if fresh else 1
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(schema_text(), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
