"""A quick test is held to its kind: what would make it slow, or lean on the machine, fails it with a way out."""

from __future__ import annotations

import socket
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import quick

from fingerpost.make import pdf, website

HERE = Path(__file__).parents[1]


def connect() -> None:
    with socket.socket() as unused:
        unused.connect(("127.0.0.1", 9))


DEEDS: dict[str, Callable[[], object]] = {
    "starts a process": lambda: subprocess.run([sys.executable, "-c", ""], check=True),
    "opens a connection": connect,
    "brings weasyprint": lambda: sys.audit("import", "weasyprint.text", None, None, None, None),
    "brings the PDF engine": pdf.open_engine,
    "builds a site": lambda: website.build_site(None, None, None, None, None),  # type: ignore[arg-type]
}


@pytest.mark.parametrize("deed", DEEDS)
def test_a_quick_test_that_is_none_fails_and_is_told_the_mark(deed: str) -> None:
    with pytest.raises(pytest.fail.Exception, match=f"a quick test {deed}: .* mark 'rest'"):
        DEEDS[deed]()


@pytest.mark.rest
def test_other_tests_may_do_so() -> None:
    subprocess.run([sys.executable, "-c", ""], check=True)


@pytest.mark.parametrize(
    ("path", "fixtures", "marks", "kind"),
    [
        ("test_a.py", (), (), "quick"),
        ("test_a.py", ("library", "built_site"), (), "rest"),
        ("test_a.py", (), ("rest",), "rest"),
        ("test_a.py", (), ("sweep",), "rest"),
        ("browser/test_a.py", (), (), "rest"),
    ],
)
def test_what_is_quick(path: str, fixtures: tuple[str, ...], marks: tuple[str, ...], kind: str) -> None:
    class Item:
        def __init__(self) -> None:
            self.path, self.fixturenames, self.marks = HERE / path, fixtures, list(marks)

        def get_closest_marker(self, name: str) -> bool:
            return name in self.marks

        def add_marker(self, name: str) -> None:
            self.marks.append(name)

    item = Item()
    quick.mark_kinds([item])  # type: ignore[list-item]
    assert item.marks[-1] == kind
