"""The job file's form as JSON Schema 2020-12, for editors and other programs."""

from __future__ import annotations

import json
from typing import Any

from sillwright.job.fields import field_docs
from sillwright.job.model import READING_KEYS, Job

_DIALECT = "https://json-schema.org/draft/2020-12/schema"
_BARE = {"type": ["string", "number"]}


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file's data, as a TOML reader gives it."""
    schema = Job.model_json_schema(mode="validation", ref_template="#/$defs/{model}")
    definitions = schema["$defs"]
    for name, definition in {**definitions, "Job": schema}.items():
        _describe(name, definition)
    reading = definitions["Reading"]
    reading["properties"] = {key: reading["properties"][key] for key in READING_KEYS}
    reading["properties"]["value"] |= _BARE
    reading["required"] = ["value"]
    for name in ("Reading", "Shim"):
        about = definitions[name].pop("description")
        definitions[name] = {"description": about, "anyOf": [_BARE, definitions[name]]}
    whole = _readings(_without_null(schema))
    return {"$schema": _DIALECT, **whole, "title": "Sillwright job file"}


def _describe(name: str, definition: dict[str, Any]) -> None:
    """Give each key its docstring; take away titles, and defaults that are only true in inches."""
    docs = field_docs(name)
    definition.pop("title", None)
    definition["description"] = docs.about
    for key, field in definition.get("properties", {}).items():
        field.pop("title", None)
        default = field.pop("default", None)
        if isinstance(default, str | bool) and default != "":
            field["default"] = default
        if key in docs.fields:
            field["description"] = docs.fields[key]


def _without_null(schema: Any) -> Any:
    """Take away null, which TOML does not have, and name limits as JSON Schema does."""
    if isinstance(schema, list):
        return [_without_null(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    names = {"gt": "exclusiveMinimum", "ge": "minimum"}
    schema = {names.get(key, key): _without_null(value) for key, value in schema.items()}
    options = schema.get("anyOf", [])
    if {"type": "null"} in options:
        rest = [each for each in options if each != {"type": "null"}]
        del schema["anyOf"]
        schema |= rest[0] if len(rest) == 1 else {"anyOf": rest}
    return schema


def _readings(schema: Any) -> Any:
    """Allow one reading wherever a list of readings is allowed."""
    if isinstance(schema, list):
        return [_readings(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    changed = {key: _readings(value) for key, value in schema.items()}
    reference = {"$ref": "#/$defs/Reading"}
    if schema.get("type") == "array" and schema.get("items") == reference:
        rest = {key: changed.pop(key) for key in ("type", "items")}
        changed["anyOf"] = [reference, {**rest, "minItems": 1}]
    return changed


def schema_text() -> str:
    """Return the schema as the text of its file."""
    return json.dumps(job_schema(), indent=1, ensure_ascii=False) + "\n"
