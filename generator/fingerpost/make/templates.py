"""The one template environment. Templates and data come in as text, text goes out; nothing is opened here."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import CodeType
from typing import Any, NoReturn

from jinja2 import BytecodeCache, DictLoader, Environment, StrictUndefined
from jinja2.bccache import Bucket
from markupsafe import Markup

from fingerpost.make.leaf.metrics import bind

_CSS = re.compile(r"[^A-Za-z0-9 .,]")


def _css(content: str) -> Markup:
    """Text as a CSS string with its quotes; every unusual sign as an escape, so that none can end it.

    The blank behind an escape belongs to it: without one, an escape would swallow a blank of the text.
    """
    return Markup('"' + _CSS.sub(lambda m: f"\\{ord(m.group(0)):06x} ", content) + '"')


def _kind(block: object) -> str:
    return type(block).__name__.lower()


def _refuse(part: object) -> NoReturn:
    """What a template calls for a part of the plan that it cannot lay out.

    Why: a part that is passed over is missing from every page, and nobody sees that it is.
    """
    raise TypeError(f"no template lays out {type(part).__name__}: {part!r}")


class _Compiled(BytecodeCache):
    """What became of each template by its name and text, for all environments: they differ in nothing else."""

    def __init__(self) -> None:
        self._codes: dict[tuple[str, str], CodeType] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        bucket.code = self._codes.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        if bucket.code:
            self._codes[bucket.key, bucket.checksum] = bucket.code


_COMPILED = _Compiled()


def make_environment(templates: Mapping[str, str]) -> Environment:
    """An environment over templates given as texts by name. An unknown variable is an error."""
    environment = Environment(
        loader=DictLoader(dict(templates)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        bytecode_cache=_COMPILED,
    )
    environment.filters["css"] = _css
    environment.filters["bound"] = bind
    environment.tests["of_kind"] = lambda block, kind: _kind(block) == kind
    environment.globals["refuse"] = _refuse
    environment.globals["nowhere"] = lambda target: ""
    return environment


def render(
    environment: Environment,
    template: str,
    *,
    href: Callable[[str], str],
    drawings: Mapping[str, str],
    **data: Any,
) -> str:
    """Fill one template. `href` turns a site address into a link, `drawings` holds the SVG of each picture by name."""
    safe = {name: Markup(svg) for name, svg in drawings.items()}
    return environment.get_template(template).render(href=href, drawings=safe, **data)
