"""Which tests are quick, and a guard that holds them to it.

A test is quick unless it lies in a folder or uses a fixture that is slow, or it, or its file, has the mark `rest`. The
guard watches every quick test, in every run: what starts a process, opens a connection, brings the PDF engine or
builds a site fails, and is told to take that mark.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from fingerpost.make import pdf, website

FOLDERS = ("browser",)
FIXTURES = {"browser", "built_site", "desk_site"}
PROCESSES = {"subprocess.Popen", "os.posix_spawn", "os.fork", "os.forkpty", "os.system", "os.exec"}
CONNECTIONS = {"socket.connect", "socket.bind", "socket.getaddrinfo"}
LIBRARIES = {"weasyprint", "mkdocs", "playwright", "distributed"}

_watched: list[str] = []


def is_slow_folder(path: Path) -> bool:
    return path.relative_to(Path(__file__).parent).parts[:1] in [(name,) for name in FOLDERS]


def mark_kinds(items: list[pytest.Item]) -> None:
    """Give each test the mark `quick` or `rest`."""
    for item in items:
        asked = set(getattr(item, "fixturenames", ()))
        slow = asked & FIXTURES or is_slow_folder(item.path) or item.get_closest_marker("sweep")
        if slow or item.get_closest_marker("rest"):
            item.add_marker("rest")
        else:
            item.add_marker("quick")


def stop(deed: str) -> None:
    """Fail the test that runs, if it is a quick one."""
    if _watched:
        pytest.fail(f"a quick test {deed}: give it, or its file, the mark 'rest'")


def _hear(event: str, arguments: tuple[Any, ...]) -> None:
    if not _watched:
        return
    if event in PROCESSES:
        stop("starts a process")
    elif event in CONNECTIONS:
        stop("opens a connection")
    elif event == "import" and str(arguments[0]).partition(".")[0] in LIBRARIES:
        stop(f"brings {str(arguments[0]).partition('.')[0]}")


def _watch_call(module: Any, name: str, deed: str) -> None:
    """What was imported before can't be heard any more, so the doors to it are watched too."""
    call = getattr(module, name)

    @functools.wraps(call)
    def watched(*given: Any, **named: Any) -> Any:
        stop(deed)
        return call(*given, **named)

    setattr(module, name, watched)


def begin_watching() -> None:
    """Once in a process; nothing that is watched for can be taken off again."""
    sys.addaudithook(_hear)
    _watch_call(pdf, "open_engine", "brings the PDF engine")
    _watch_call(website, "build_site", "builds a site")


@contextmanager
def watch(item: pytest.Item) -> Iterator[None]:
    """Hold one test to its kind while it runs, with its fixtures."""
    if item.get_closest_marker("quick"):
        _watched.append(item.nodeid)
    try:
        yield
    finally:
        _watched.clear()
