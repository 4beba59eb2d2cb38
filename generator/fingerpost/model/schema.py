"""The JSON Schema of a class of the model, for the editors of those who write YAML and for readers of the data."""

from __future__ import annotations

import inspect
import json
from typing import Any

from fingerpost.model.audience import bare_key, is_told
from fingerpost.model.grammar import (
    choices_of,
    defaults_of,
    hints_of,
    is_class,
    is_optional,
    is_record,
    item_of,
    key_of,
    keys_of,
    list_classes,
    parts_of,
    shape_of,
    strip_marks,
    strip_none,
)
from fingerpost.model.words import TEXT_SHAPE

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_KINDS = {str: "string", int: "integer", float: "number", bool: "boolean"}
_NULL = {"type": "null"}


def write_schema(kind: Any, title: str) -> str:
    """The schema of a class, or of a list of one, as text. The same class gives the same bytes."""
    schema = {"$schema": DIALECT, **(_describe_class(kind) if is_class(kind) else _describe(kind)), "title": title}
    if below := {c.__name__: _describe_class(c) for c in _find_classes(kind) if c is not kind}:
        schema["$defs"] = below
    return (
        json.dumps({"$schema": DIALECT, **schema, "title": title}, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
    )


def _find_classes(hint: Any) -> set[type]:
    """Every class that is needed to describe a type."""
    found = set(list_classes(hint))
    return found.union(*(_find_classes(below) for kind in found for below in hints_of(kind).values()))


def _describe(hint: Any) -> dict[str, Any]:
    if is_optional(hint):
        behind = _describe(strip_none(hint))
        return {"anyOf": [*behind.get("anyOf", [behind]), _NULL]}
    if is_told(hint):
        return {"anyOf": [{"type": "string", "pattern": TEXT_SHAPE.pattern}, _describe(strip_marks(hint))]}
    if choices := choices_of(hint):
        return {"type": _KINDS[type(choices[0])], "enum": list(choices)}
    if item := item_of(hint):
        return {"type": "array", "items": _describe(item)}
    if is_class(hint):
        return {"$ref": f"#/$defs/{hint.__name__}"}
    if shape := shape_of(hint):
        return {"type": "string", "pattern": shape.pattern, "maxLength": shape.max_length}
    return {"type": _KINDS[hint]}


def _describe_key(field: str, hint: Any, defaults: dict[str, Any]) -> dict[str, Any]:
    schema = _describe(hint)
    if not is_class(strip_none(hint)):
        schema["title"] = field.replace("_", " ").title()
    if field in defaults:
        schema["default"] = _to_plain(defaults[field])
    return schema


def _describe_class(kind: type) -> dict[str, Any]:
    defaults = defaults_of(kind)
    properties = {key_of(f): _describe_key(f, hint, defaults) for f, hint in hints_of(kind).items()}
    schema = {
        "type": "object",
        "title": kind.__name__,
        "description": inspect.cleandoc(kind.__doc__ or ""),
        "properties": properties,
        "additionalProperties": False,
    }
    if required := [key for field, key in zip(hints_of(kind), keys_of(kind), strict=True) if field not in defaults]:
        schema["required"] = required
    bare = bare_key(kind)
    return {"anyOf": [properties[bare], schema]} if bare else schema


def _to_plain(value: Any) -> Any:
    """A default as it would be written, key by key."""
    if isinstance(value, tuple):
        return [_to_plain(item) for item in value]
    return {key_of(field): _to_plain(part) for field, part in parts_of(value)} if is_record(value) else value
