"""What everybody waits for at each command: the start. In seconds of the processor, against Python alone."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys

from measure import PROJECT, Told

TURNS = 15
_ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def _start(code: str) -> float:
    """Seconds of the processor that a program takes from its start to its end."""
    call = [sys.executable, "-c", code]
    running = subprocess.Popen(
        call, cwd=PROJECT, env=_ENVIRONMENT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, _, used = os.wait4(running.pid, 0)
    running.returncode = 0  # it is waited for already
    return used.ru_utime + used.ru_stime


def tell_starts() -> list[Told]:
    """In turn, so that what else the machine does falls on all of them."""
    nothing = "pass"
    calls = {
        "--help": "from fingerpost.run.cli import main; main(['--help'])",
        "check --help": "from fingerpost.run.cli import main; main(['check', '--help'])",
    }
    found: dict[str, list[float]] = {code: [] for code in (nothing, *calls.values())}
    for turn in range(TURNS + 1):
        for code, times in found.items():
            used = _start(code)
            times += [used] if turn else []  # the first one compiles
    alone = statistics.median(found[nothing])
    told = []
    for name, code in calls.items():
        ours = statistics.median(found[code])
        measured = f"{1000 * ours:.0f} ms, Python {1000 * alone:.0f} ms: {ours / alone:.2f}"
        told.append(Told(f"`{name}` against Python alone", measured, "at most 3.00", ours / alone <= 3))
    return told


ALL = (tell_starts,)
