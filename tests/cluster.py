"""A dask scheduler and workers as processes of their own on this computer, as a cluster has them.

Dask gives up what does not answer within some seconds. On a machine that is busy with other things an answer may take
minutes and is right all the same, so that here only the end of a process counts: nothing is given up by the clock.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import fingerpost

AN_HOUR = 3600
_SETTINGS = {
    "DASK_DISTRIBUTED__COMM__TIMEOUTS__CONNECT": str(AN_HOUR),
    "DASK_DISTRIBUTED__COMM__TIMEOUTS__TCP": str(AN_HOUR),
    "DASK_DISTRIBUTED__SCHEDULER__WORKER_TTL": "None",
    "PYTHONPATH": str(Path(fingerpost.__file__).parents[1]),
}


@contextmanager
def run_cluster(folder: Path, count: int) -> Iterator[str]:
    """The address of a scheduler that has `count` workers of one thread each; all of them are gone afterwards."""
    import distributed

    folder.mkdir()
    told, log = folder / "scheduler.json", folder / "log"
    scheduler = ["scheduler", "--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(told)]
    worker = ["worker", "--scheduler-file", str(told), "--no-nanny", "--nthreads", "1", "--no-dashboard"]
    started: list[subprocess.Popen[bytes]] = []

    def wait_until(done: Callable[[], bool]) -> None:
        while not done():
            assert all(process.poll() is None for process in started), log.read_text(errors="replace")
            time.sleep(0.05)

    try:
        with log.open("wb") as said:
            for name, *options in (scheduler, *[[*worker, "--local-directory", str(folder)]] * count):
                call = [sys.executable, "-m", f"distributed.cli.dask_{name}", *options]
                started.append(subprocess.Popen(call, env=os.environ | _SETTINGS, stdout=said, stderr=said))
        wait_until(told.exists)
        with distributed.Client(scheduler_file=str(told), timeout=AN_HOUR, set_as_default=False) as client:
            wait_until(lambda: len(client.nthreads()) == count)
            address = str(client.scheduler.address)
        yield address
    finally:
        for process in started:
            process.kill()
            process.wait()
