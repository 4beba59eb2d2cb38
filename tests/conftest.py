"""Settings and shared things for all tests: drawn examples are the same on every run, and no example is timed."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
import quick
import spread
from hypothesis import HealthCheck, settings
from site_under_test import build, whole_site

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.read.library import read_case, read_library

# On a busy machine all examples are slow, and none is wrong for it.
SLOW = [HealthCheck.too_slow]
settings.register_profile("fingerpost", derandomize=True, deadline=None, suppress_health_check=SLOW, max_examples=100)
settings.load_profile("fingerpost")

PROJECT = Path(__file__).resolve().parent.parent
TODAY = date(2026, 11, 25)


quick.begin_watching()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--refresh-golden", action="store_true", help="write the golden files anew: read the diff")
    parser.addoption(
        "--record-costs", action="store_true", help="write anew what each test file costs (of a whole run)"
    )


def pytest_configure(config: pytest.Config) -> None:
    if config.getoption("--record-costs"):
        config.pluginmanager.register(spread.Recorder())


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    return True if config.option.markexpr == "quick" and quick.is_slow_folder(collection_path) else None


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    quick.mark_kinds(items)
    if hasattr(config, "workerinput"):
        spread.sort_by_cost(items)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    with quick.watch(item):
        return (yield)


def pytest_xdist_make_scheduler(config: pytest.Config, log: object) -> spread.Spread:
    config.option.loadscopereorder = False
    return spread.Spread(config, log)


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
