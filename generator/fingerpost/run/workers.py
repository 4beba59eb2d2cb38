"""One case or thousands: each is made by a function that can run here, in other processes, or on a cluster.

Only this process opens cases and writes files. A worker gets the text of a case and gives back the bytes of its files,
so that the result is the same wherever it was made. One bad case does not stop the others.
"""

from __future__ import annotations

import hashlib
import importlib
import multiprocessing
import os
import pickle
import signal
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import Any, Literal

from fingerpost.make import pdf
from fingerpost.make.leaf.page import TooFull
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.case.check import find_case_problems
from fingerpost.plan.person.doubts import find_doubtful_places
from fingerpost.problems import MakeError, Problem
from fingerpost.read.csv_cases import Row
from fingerpost.read.library import read_case_text
from fingerpost.reckon.visits import find_check
from fingerpost.run import site_build
from fingerpost.run.project import PROJECT

Sort = Literal["handout", "coach"]
"""What is printed of a case: its own sheets, or the page for its coach."""

OTHER_VERSION = "this worker has another version of Fingerpost or of its libraries: install the same one everywhere"
ENDED = "the process that printed it was ended, perhaps for want of memory"
FEW = 3
AHEAD = 3
"""How many cases wait for each worker: enough that none stands still, few enough that memory stays flat."""
LIFE = 200
"""How many cases a process prints before a fresh one takes over."""
PATIENCE = 10
"""Seconds after which a scheduler that does not answer is given up."""


@dataclass(frozen=True)
class Order:
    """One case to be printed, as it can travel: the text of its file, a row of a table, or why there is neither."""

    name: str
    source: str | Row | tuple[Problem, ...]


@dataclass(frozen=True)
class Kit:
    """What every case of a run needs. `told` stands for the whole of it, and for our own code."""

    library: bytes
    today: date
    sort: Sort
    calendar: bool
    code: bytes
    told: bytes


@dataclass(frozen=True)
class Made:
    """What came of an order: files by name; or problems of the case; or what failed, which is not the case's fault.

    `doubts`: what may be a slip in a case that is printed.
    """

    files: dict[str, bytes] = field(default_factory=dict)
    note: str = ""
    doubts: tuple[Problem, ...] = ()
    problems: tuple[Problem, ...] = ()
    failed: str = ""


@lru_cache(maxsize=1)
def _hash_code() -> bytes:
    return pdf.hash_press(PROJECT) + site_build.hash_code(PROJECT)


def make_kit(library: Library, today: date, sort: Sort, calendar: bool, content: bytes) -> Kit:
    """`content`: a digest of the files behind the library."""
    code = _hash_code()
    told = hashlib.sha256(code + content + f"{today} {sort} {calendar}".encode()).digest()
    return Kit(pickle.dumps(library), today, sort, calendar, code, told)


def key_of(kit: Kit, order: Order) -> str:
    """The same for the same sheets, printed by the same code."""
    source = repr(sorted(order.source.data.items())) if isinstance(order.source, Row) else str(order.source)
    return hashlib.sha256(kit.told + source.encode()).hexdigest()


@lru_cache(maxsize=1)
def _unpack(library: bytes) -> Library:
    unpacked: Library = pickle.loads(library)  # from the process that gave the order
    return unpacked


@lru_cache(maxsize=1)
def _environment() -> Any:
    return make_environment(pdf.read_templates(PROJECT / "templates"))


def make(kit: Kit, order: Order) -> Made:
    """Make the files of one case. Runs anywhere; opens nothing but Fingerpost's own templates and fonts."""
    if isinstance(order.source, tuple):
        return Made(problems=order.source)
    if kit.code != _hash_code():
        return Made(failed=OTHER_VERSION)
    library, row = _unpack(kit.library), order.source if isinstance(order.source, Row) else None
    document, problems = row.read() if row else read_case_text(str(order.source), order.name)
    if document:
        found = find_case_problems(document, library, kit.today)
        problems += [row.name_column(p) if row else p for p in found]
    if document is None or problems:
        return Made(problems=tuple(problems))
    case = document.value
    try:
        if kit.sort == "coach":
            files = site_build.make_coach_sheet(library, _environment(), case, kit.today, PROJECT)
        else:
            files = site_build.make_case_files(library, _environment(), case, kit.today, PROJECT, kit.calendar)
    except TooFull as full:
        problem = document.problem((full.at,), full.says, full.hint, "case")
        return Made(problems=(row.name_column(problem) if row else problem,))
    except MakeError as error:
        return Made(failed=str(error))
    doubts = tuple(find_doubtful_places(document, library, kit.today))
    notes = ("" if find_check(case) else site_build.UNCHECKED, "" if case.share_with_coach else site_build.NOT_SHARED)
    return Made(files, "; ".join(filter(None, notes)), tuple(map(row.name_column, doubts)) if row else doubts)


class Here(Executor):
    """An executor that does the work at once, in this process."""

    def submit(self, call: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        done: Future[Any] = Future()
        try:
            done.set_result(call(*given, **named))
        except Exception as error:
            done.set_exception(error)
        return done


def _leave_interrupts_to_the_parent() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _open_pool(jobs: int) -> ProcessPoolExecutor:
    ways = multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if "forkserver" in ways else "spawn")
    if "forkserver" in ways:
        context.set_forkserver_preload(["weasyprint", __name__])
    return ProcessPoolExecutor(jobs, mp_context=context, initializer=_leave_interrupts_to_the_parent)


class Processes(Executor):
    """Processes on this computer. After so many cases fresh ones take over, while the old ones finish what they have.

    Why: of each case about 0.1 MB stays behind in the libraries below the PDF engine, and nothing gives it back.
    """

    def __init__(self, jobs: int, life: int) -> None:
        self._jobs, self._life = jobs, life
        self._pool, self._given = _open_pool(jobs), 0

    def submit(self, call: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        if self._given == self._jobs * self._life:
            self._pool.shutdown(wait=False)
            self._pool, self._given = _open_pool(self._jobs), 0
        self._given += 1
        return self._pool.submit(call, *given, **named)

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self._pool.shutdown(wait, cancel_futures=cancel_futures)


def open_executor(jobs: int, cases: int = 1) -> Executor:
    """Processes on this computer; none but this one for one job and no more cases than a process lives for."""
    return Here() if jobs == 1 and cases <= LIFE else Processes(jobs, LIFE)


class Cluster(Executor):
    """The workers behind a running dask scheduler. Raises MakeError where there are none."""

    def __init__(self, address: str) -> None:
        try:
            distributed: Any = importlib.import_module("distributed")
        except ImportError as error:
            raise MakeError(
                "--scheduler needs the extra 'cluster': install Fingerpost as fingerpost[cluster]"
            ) from error
        try:
            self._client = distributed.Client(address, timeout=PATIENCE, set_as_default=False)
        except (OSError, ValueError, TimeoutError) as error:
            raise MakeError(f"no scheduler answers at {address}") from error
        self.threads = sum(self._client.nthreads().values())
        if not self.threads:
            self._client.close()
            raise MakeError(f"the scheduler at {address} has no workers")
        self._executor = self._client.get_executor(pure=False)

    def submit(self, call: Callable[..., Any], /, *given: Any, **named: Any) -> Future[Any]:
        future: Future[Any] = self._executor.submit(call, *given, **named)
        return future

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        self._executor.shutdown(wait)
        self._client.close()


def choose_workers(jobs: int | None, scheduler: str | None, cases: int) -> tuple[Callable[[], Executor], int]:
    """What opens the executor, and how many cases it makes at once. A few cases are not worth other processes."""
    if scheduler:
        cluster = Cluster(scheduler)
        return lambda: cluster, cluster.threads
    pdf.open_engine()  # now, and not once for each case, where a library is missing
    count = jobs or (min(os.cpu_count() or 1, cases) if cases > FEW else 1)
    return lambda: open_executor(count, cases), count


def _result(order: Order, future: Future[Made]) -> Made:
    """What came of it. A broken executor is for the caller; any other failure is this order's own."""
    try:
        return future.result()
    except BrokenExecutor:
        raise
    except Exception as error:
        return Made(failed=f"{type(error).__name__}: {error} (a mistake in Fingerpost, not in the case)")


def _submit(executor: Executor, kit: Kit, order: Order) -> Future[Made]:
    try:
        return executor.submit(make, kit, order)
    except BrokenExecutor as error:
        broken: Future[Made] = Future()
        broken.set_exception(error)
        return broken


def _make_alone(kit: Kit, order: Order, opener: Callable[[], Executor]) -> Made:
    with opener() as executor:
        try:
            return _result(order, _submit(executor, kit, order))
        except BrokenExecutor:
            return Made(failed=ENDED)


def make_all(
    kit: Kit, orders: Iterable[Order], opener: Callable[[], Executor], workers: int
) -> Iterator[tuple[Order, Made]]:
    """What comes of each order, in the order given. Only a few are under way at a time.

    Where a process dies, nobody knows for which case: those under way are made once more, each in a process of its own.
    """
    ahead = workers * AHEAD if workers > 1 else 1
    source, waiting = iter(orders), deque[tuple[Order, Future[Made]]]()
    executor = opener()
    try:
        while True:
            while len(waiting) < ahead and (order := next(source, None)):
                waiting.append((order, _submit(executor, kit, order)))
            if not waiting:
                return
            try:
                made = _result(*waiting[0])
            except BrokenExecutor:
                executor.shutdown(cancel_futures=True)
                suspects = [order for order, _ in waiting]
                waiting.clear()
                yield from ((order, _make_alone(kit, order, opener)) for order in suspects)
                executor = opener()
                continue
            yield waiting.popleft()[0], made
    finally:
        executor.shutdown(cancel_futures=True)
