"""Reads HTML and CSS the way browsers do, and tells what is structure and what is text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Any
from xml.etree.ElementTree import Element

import tinycss2
import tinyhtml5  # the engine of the sheets reads HTML with it, and CSS with the one above

from hostile.payloads import find_numbers

Part = tuple[str, tuple[tuple[str, str], ...]]
_OWN_HEADING = re.compile(r"#[\w-]*zq\d+q[\w-]*")
_LOADING = {"src", "href", "srcset", "action", "data", "poster", "formaction", "srcdoc", "xlink:href"}


@lru_cache(maxsize=8)
def parse(html: str) -> Element:
    return tinyhtml5.parse(html, namespace_html_elements=False)


def _name(tag: Any) -> str:
    return tag if isinstance(tag, str) else "comment"


def _unmeasure(style: str) -> str:
    """A style attribute without its lengths: those of a leaf are reckoned from the letters that they hold."""
    return re.sub(r"-?\d+\.\d\dmm\b", "0mm", style)


def _is_drawing(element: Element) -> bool:
    return _name(element.tag).endswith("svg")


def _mask(value: str) -> str:
    return "(text)" if find_numbers(value) else value


def list_parts(root: Element) -> Iterator[Part]:
    """Every element outside of drawings with its attributes, in order. A planted text as a value is told as a text.

    How large a drawing is, or a part of a leaf, depends on where its texts are broken into lines.
    """
    sized = () if not _is_drawing(root) else ("width", "height", "viewBox")
    values = {str(name): "" if name in sized else _mask(value) for name, value in root.attrib.items()}
    if "style" in values:
        values["style"] = _unmeasure(values["style"])
    yield _name(root.tag), tuple(sorted(values.items()))
    if not _is_drawing(root):
        for child in root:
            yield from list_parts(child)


def list_drawn(root: Element) -> set[tuple[str, frozenset[str]]]:
    """The kinds of element in the drawings: where a text is broken into lines depends on its letters."""
    drawings = [element for element in root.iter() if _is_drawing(element)]
    return {(_name(e.tag), frozenset(map(str, e.attrib))) for drawing in drawings for e in drawing.iter()}


def list_links(root: Element) -> set[tuple[str, str]]:
    """Everything that an element loads or leads to; of a heading of the page itself only that it is one."""
    found = ((str(name), value) for e in root.iter() for name, value in e.attrib.items() if str(name) in _LOADING)
    return {(name, "(heading)" if _OWN_HEADING.fullmatch(value) else value) for name, value in found}


def read_text(root: Element) -> str:
    """The text that people read: no script, no style, no drawing; and what is read to those who do not see it."""
    pieces: list[str] = []

    def walk(element: Element) -> None:
        if _name(element.tag) not in ("script", "style", "comment") and not _is_drawing(element):
            pieces.extend(v for k, v in element.attrib.items() if str(k) in ("aria-label", "data-head", "content"))
            pieces.append(element.text or "")
            for child in element:
                walk(child)
        pieces.append(f"{' ' if _name(element.tag) == 'br' else ''}{element.tail or ''}")

    walk(root)
    return " ".join("".join(pieces).split())


def read_drawn(root: Element) -> str:
    """The text of the drawings, lines joined."""
    return " ".join(" ".join(t for e in root.iter() if _is_drawing(e) for t in e.itertext()).split())


def list_styles(root: Element) -> list[str]:
    """Every token of every style sheet in a page; of a string only that it is one, if a text was planted in it."""
    css = "".join(e.text or "" for e in root.iter() if _name(e.tag) == "style")
    css += "".join(_unmeasure(e.attrib["style"]) for e in root.iter() if "style" in e.attrib and not _is_drawing(e))
    return list(_list_tokens(tinycss2.parse_component_value_list(css, skip_comments=True)))


def _list_tokens(tokens: Any) -> Iterator[str]:
    for token in tokens:
        if token.type == "string":
            yield "(text)" if find_numbers(token.value) else f'"{token.value}"'
        elif getattr(token, "content", None) is not None:
            yield f"{token.type} {getattr(token, 'name', '')}"
            yield from _list_tokens(token.content)
        elif getattr(token, "arguments", None) is not None:
            yield f"{token.name}("
            yield from _list_tokens(token.arguments)
        else:
            yield re.sub(r"\s+", " ", token.serialize())


def read_css_strings(root: Element) -> str:
    """The strings of the style sheets: the running lines of a printed page."""
    css = "".join(e.text or "" for e in root.iter() if _name(e.tag) == "style")
    found: list[str] = []

    def walk(tokens: Any) -> None:
        for token in tokens:
            if token.type == "string":
                found.append(token.value)
            walk(getattr(token, "content", None) or getattr(token, "arguments", None) or ())

    walk(tinycss2.parse_component_value_list(css))
    return " ".join(" ".join(found).split())


def read_everything(root: Element) -> str:
    """What people read on a page or on paper, but for the drawings."""
    return f"{read_text(root)} {read_css_strings(root)}"
