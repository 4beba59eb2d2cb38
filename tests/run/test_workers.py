"""Thousands of cases: the same sheets wherever they are made, one bad case costs no other, and a run can go on."""

from __future__ import annotations

import os
import signal
import stat
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from datetime import date
from multiprocessing import get_context
from pathlib import Path

import pytest
from cluster import AN_HOUR, run_cluster

from fingerpost.model.library import Library
from fingerpost.run import batch, cli, workers

pytestmark = pytest.mark.rest

CASE = "tests/golden/cases/growth-plate-left-middle.yml"
TODAY = date(2026, 11, 25)
Files = dict[str, bytes]


def quiet(text: str) -> None:
    pass


@pytest.fixture
def cases(project: Path, tmp_path: Path) -> Path:
    """Six cases in two folders: four are right, one is wrong, one is no case."""
    text = (project / CASE).read_text(encoding="utf-8")
    folder = tmp_path / "cases"
    (folder / "new").mkdir(parents=True)
    for number in range(4):
        told = text.replace("reference: ", f"reference: {number} ", 1)
        (folder / ("new" if number % 2 else "") / f"{number}.yml").write_text(told, encoding="utf-8")
    (folder / "4.yml").write_text(text.replace("finger: middle", "finger: thumb"), encoding="utf-8")
    (folder / "5.yml").write_text("{", encoding="utf-8")
    return folder


def make_kit(library: Library, content: bytes = b"") -> workers.Kit:
    return workers.make_kit(library, TODAY, "handout", False, content)


def print_into(
    folder: Path, kit: workers.Kit, cases: Path, opener: Callable[[], Executor], jobs: int, resume: bool = False
) -> batch.Progress:
    found = batch.list_orders([cases], None, Path.as_posix)
    return batch.print_all(kit, found, opener, jobs, folder, resume, Path.as_posix, quiet, quiet)


def read_all(folder: Path) -> Files:
    return {path.name: path.read_bytes() for path in sorted(folder.glob("growth*.pdf"))}


@pytest.fixture(scope="module")
def made_here(library: Library) -> Callable[[Path, Path], Files]:
    def made_here(cases: Path, folder: Path) -> Files:
        print_into(folder, make_kit(library), cases, workers.Here, 1)
        return read_all(folder)

    return made_here


def test_two_processes_make_the_same_bytes(
    library: Library, cases: Path, tmp_path: Path, made_here: Callable[[Path, Path], Files]
) -> None:
    run = print_into(tmp_path / "two", make_kit(library), cases, lambda: workers.open_executor(2), 2)
    assert (run.printed, len(run.refused), run.failed) == (4, 2, {})
    assert read_all(tmp_path / "two") == made_here(cases, tmp_path / "one")
    assert len(read_all(tmp_path / "two")) == 4
    for path in (tmp_path / "two").iterdir():
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def _tell_process(number: int) -> tuple[int, int]:
    return number, os.getpid()


def test_a_process_that_has_printed_its_share_gives_way_to_a_fresh_one() -> None:
    """Or the memory of a run over thousands of cases would grow without end."""
    with workers.Processes(jobs=2, life=3) as executor:
        told = [future.result() for future in [executor.submit(_tell_process, number) for number in range(20)]]
    assert [number for number, _ in told] == list(range(20))
    shares = Counter(pid for _, pid in told)
    assert len(shares) >= 4
    assert max(shares.values()) <= 2 * 3
    assert os.getpid() not in shares


def test_one_job_stays_here_only_for_as_many_cases_as_a_process_may_print() -> None:
    for jobs, cases, here in ((1, 1, True), (1, workers.LIFE, True), (1, workers.LIFE + 1, False), (2, 1, False)):
        with workers.open_executor(jobs, cases) as executor:
            assert isinstance(executor, workers.Here) is here, (jobs, cases)


def test_a_cluster_makes_the_same_bytes(
    library: Library,
    cases: Path,
    tmp_path: Path,
    made_here: Callable[[Path, Path], Files],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The very way of `--scheduler`, on a dask cluster of two workers on this computer."""
    monkeypatch.setattr(workers, "PATIENCE", AN_HOUR)
    with run_cluster(tmp_path / "cluster", 2) as address:
        opener, jobs = workers.choose_workers(None, address, 4)
        assert jobs == 2
        run = print_into(tmp_path / "far", make_kit(library), cases, opener, jobs)
    assert (run.printed, len(run.refused), run.failed) == (4, 2, {})
    assert read_all(tmp_path / "far") == made_here(cases, tmp_path / "one")


def test_no_scheduler_is_told_in_one_line(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_client(address: str, **more: object) -> None:
        raise OSError("Timed out trying to connect")

    monkeypatch.setattr("distributed.Client", no_client)
    call = ["--out", str(tmp_path), "handout", str(project / CASE), "--scheduler", "tcp://127.0.0.1:1"]
    assert cli.main(call) == 1
    assert capsys.readouterr().out == "nothing was made: no scheduler answers at tcp://127.0.0.1:1\n"


def test_a_worker_with_other_code_prints_nothing(
    library: Library, cases: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Else a cluster where an update was forgotten would print sheets of an older version among the new."""
    kit = make_kit(library)
    monkeypatch.setattr(workers, "_hash_code", lambda: b"another")
    run = print_into(tmp_path / "out", kit, cases, workers.Here, 1)
    assert set(run.failed.values()) == {workers.OTHER_VERSION}
    assert not (tmp_path / "out").exists()


def die_at_two(kit: workers.Kit, order: workers.Order) -> workers.Made:
    if order.name == "2":
        os.kill(os.getpid(), signal.SIGKILL)
    return workers.Made({order.name: b"made"})


def break_at_two(kit: workers.Kit, order: workers.Order) -> workers.Made:
    if order.name == "2":
        raise ZeroDivisionError("by nought")
    return workers.Made({order.name: b"made"})


@pytest.mark.parametrize(
    ("make", "told"),
    [(die_at_two, workers.ENDED), (break_at_two, "ZeroDivisionError: by nought")],
    ids=["dies", "breaks"],
)
def test_a_case_that_kills_its_process_costs_no_other(
    make: Callable[[workers.Kit, workers.Order], workers.Made],
    told: str,
    library: Library,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(workers, "make", make)

    def opener() -> Executor:
        return ProcessPoolExecutor(2, mp_context=get_context("fork"))

    asked = [workers.Order(str(number), "") for number in range(8)]
    came = list(workers.make_all(make_kit(library), asked, opener, 2))
    assert sorted(order.name for order, _ in came) == [str(number) for number in range(8)]
    assert [(order.name, made.failed[: len(told)]) for order, made in came if made.failed] == [("2", told)]


def test_few_cases_are_under_way_at_a_time(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """Else the texts of all cases, and all their sheets, would lie in memory together."""
    given = 0

    def give() -> Iterator[workers.Order]:
        nonlocal given
        for number in range(40):
            given += 1
            yield workers.Order(str(number), "")

    monkeypatch.setattr(workers, "make", break_at_two)
    for taken, _ in enumerate(workers.make_all(make_kit(library), give(), workers.Here, 2), 1):
        assert given - taken <= 2 * workers.AHEAD


def test_a_run_goes_on_where_it_ended(library: Library, cases: Path, tmp_path: Path) -> None:
    kit, folder = make_kit(library), tmp_path / "out"
    assert print_into(folder, kit, cases, workers.Here, 1).printed == 4

    def go_on(kit: workers.Kit) -> tuple[int, int]:
        run = print_into(folder, kit, cases, workers.Here, 1, resume=True)
        return run.printed, run.there

    assert go_on(kit) == (0, 4)
    sorted(folder.glob("growth*.pdf"))[0].unlink()
    assert go_on(kit) == (1, 3), "one whose file is gone"
    text = (cases / "0.yml").read_text(encoding="utf-8")
    (cases / "0.yml").write_text(text.replace("reference: 0", "reference: 00"), encoding="utf-8")
    assert go_on(kit) == (1, 3), "one that was changed"
    assert go_on(make_kit(library, b"protocols have changed")) == (4, 0)


def test_the_list_of_what_is_printed_says_nothing_about_anybody(library: Library, cases: Path, tmp_path: Path) -> None:
    print_into(tmp_path / "out", make_kit(library), cases, workers.Here, 1)
    for line in (tmp_path / "out" / ".printed").read_text(encoding="utf-8").splitlines():
        key, *names = line.split("\t")
        assert len(key) == 64
        assert all((tmp_path / "out" / name).is_file() for name in names)


def test_the_command_ends_with_a_table_and_every_reason(
    cases: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    call = ["--out", str(tmp_path), "handout", str(cases), "--today", "2026-11-25", "--jobs", "1"]
    assert cli.main(call) == 1
    out = capsys.readouterr().out
    assert "\nprinted             4\nrefused             2  1 × a thumb has other pulleys" in out
    assert "4.yml:" in out
    assert out.endswith("2 problems\n")


def test_a_folder_without_cases_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "empty").mkdir()
    assert cli.main(["--out", str(tmp_path), "handout", str(tmp_path / "empty")]) == 1
    assert "there is no case in this folder" in capsys.readouterr().out


def test_columns_without_a_table_are_told(project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    columns = project / "templates" / "project" / "columns.yml"
    call = ["--out", str(tmp_path), "handout", str(project / CASE), "--columns", str(columns)]
    assert cli.main(call) == 1
    assert "columns belong to a table (.csv), and none is named" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("seconds", "told"),
    [
        (0.2, "1 second"),
        (59, "59 seconds"),
        (89, "89 seconds"),
        (90, "2 minutes"),
        (5399, "90 minutes"),
        (7200, "2 hours"),
    ],
)
def test_time_left_is_told_in_a_unit_that_says_something(seconds: float, told: str) -> None:
    assert batch.write_duration(seconds) == told
