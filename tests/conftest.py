"""Settings and shared things for all tests: drawn examples are the same on every run, and no example is timed."""

from __future__ import annotations

import fcntl
import os
from datetime import date
from pathlib import Path

import pytest
from hypothesis import settings
from site_under_test import build, whole_site

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.read.library import read_case, read_library

settings.register_profile("fingerpost", derandomize=True, deadline=None, max_examples=100)
settings.load_profile("fingerpost")

PROJECT = Path(__file__).resolve().parent.parent
TODAY = date(2026, 11, 25)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--refresh-golden", action="store_true", help="write the golden files anew: read the diff")


@pytest.fixture(scope="session")
def project() -> Path:
    """The project's folder."""
    return PROJECT


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped collection, which must be readable as a whole."""
    read, problems = read_library(PROJECT / "protocols")
    assert not problems
    return read


@pytest.fixture(scope="session")
def cases() -> dict[str, Case]:
    """The demo cases by file name without its ending."""
    found = {}
    for path in sorted((PROJECT / "tests" / "golden" / "cases").glob("*.yml")):
        document, problems = read_case(path, path.name)
        assert document
        assert not problems
        found[path.stem] = document.value
    assert len(found) == 3
    return found


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The whole site with stubs for the general sheets, built once, however many workers there are."""
    base = tmp_path_factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        base = base.parent
    with (base / "site.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (base / "site").exists():
            build(base / "site", whole_site())
    return base / "site"
