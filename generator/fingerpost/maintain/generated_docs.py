"""What the docs say about the code, made from the code: JSON Schemas, tables of fields and rooms, the list of rules."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from fingerpost.checks.rules import list_rules
from fingerpost.maintain.rooms import list_rooms, read_duty
from fingerpost.model.audience import Said, bare_key, is_told
from fingerpost.model.case import Case
from fingerpost.model.grammar import (
    choices_of,
    defaults_of,
    hints_of,
    is_class,
    is_optional,
    item_of,
    key_of,
    list_classes,
    shape_of,
    strip_none,
)
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.schema import write_schema
from fingerpost.model.shared import Vocabularies


def _kinds() -> Iterator[tuple[str, str, Any]]:
    """(schema name, title, type) of everything that is written as YAML."""
    yield "protocol", "A protocol", Protocol
    yield "referral", "A short entry", Referral
    yield "case", "A case", Case
    for name, hint in hints_of(Vocabularies).items():
        yield name, f"The vocabulary {name}.yml", hint


def write_schemas() -> dict[str, str]:
    """Every JSON Schema by its file name under protocols/schema/."""
    return {f"{name}.json": write_schema(kind, title) for name, title, kind in _kinds()}


_PLAIN = {int: "whole number", float: "number", bool: "`true` or `false`", str: "text"}


def _describe(hint: Any) -> str:
    """A field's type in a writer's words."""
    if is_told(hint):
        return "text, or its pieces as a list of: [Said](#said)"
    if choices := choices_of(hint):
        return "one of " + ", ".join(f"`{a}`" for a in choices)
    if is_optional(hint):
        return f"{_describe(strip_none(hint))}, or `null`"
    if item := item_of(hint):
        return f"list of: {_describe(item)}"
    if is_class(hint):
        link = f"[{hint.__name__}](#{hint.__name__.lower()})"
        return f"text, or {link}" if hint is Said else f"id, or {link}" if bare_key(hint) else link
    if shape := shape_of(hint):
        return shape.must.removeprefix("must be ")
    return _PLAIN[hint]


def _table(kind: type) -> Iterator[str]:
    yield f"### {kind.__name__}"
    yield ""
    yield " ".join((kind.__doc__ or "").split())
    yield ""
    yield "| key | must | what |"
    yield "|---|---|---|"
    for field, hint in hints_of(kind).items():
        must = "no" if field in defaults_of(kind) else "yes"
        yield f"| `{key_of(field)}` | {must} | {_describe(hint)} |"
    yield ""


def _parts(kind: type, seen: dict[type, None]) -> None:
    if kind in seen:
        return
    seen[kind] = None
    for hint in hints_of(kind).values():
        for part in list_classes(hint):
            _parts(part, seen)


def write_field_tables() -> str:
    """A table of keys for a protocol, a short entry and everything inside them, as Markdown."""
    seen: dict[type, None] = {}
    for kind in (Protocol, Referral):
        _parts(kind, seen)
    return "\n".join(line for kind in seen for line in _table(kind))


def write_rule_list() -> str:
    """Every rule with its sentence, as Markdown."""
    return "\n".join(f"- `{name}`: {sentence}" for name, sentence in list_rules()) + "\n"


def write_room_table() -> str:
    """Every room with its floor and its duty, as Markdown, the lowest first."""
    lines = ["| floor | room | duty |", "|---|---|---|"]
    for room in list_rooms():
        floor = f"{room.floor}.{room.step}" if "." in room.name else f"{room.floor}"
        path = room.name.replace(".", "/")
        shown = f"`{path}.py`" if room.name == "problems" else f"`{path}/`"
        lines.append(f"| {floor} | {shown} | {read_duty(room)} |")
    return "\n".join(lines) + "\n"


def fill_between(text: str, name: str, content: str) -> str:
    """Put generated text between `<!-- name: begin -->` and `<!-- name: end -->`. Raises ValueError without them."""
    pattern = re.compile(rf"(<!-- {name}: begin -->\n).*?(<!-- {name}: end -->)", re.DOTALL)
    if not pattern.search(text):
        raise ValueError(f"no place for '{name}'")
    return pattern.sub(lambda m: f"{m.group(1)}{content}{m.group(2)}", text)


def write_generated(project: Path) -> Mapping[Path, str]:
    """Every generated file as it should be, by its path. Reads the files that hold generated parts."""
    made = {project / "protocols" / "schema" / name: text for name, text in write_schemas().items()}
    guide, developers = project / "protocols" / "README.md", project / "DEVELOPERS.md"
    made[guide] = fill_between(guide.read_text(encoding="utf-8"), "fields", write_field_tables())
    told = fill_between(developers.read_text(encoding="utf-8"), "rooms", write_room_table())
    made[developers] = fill_between(told, "rules", write_rule_list())
    return made
