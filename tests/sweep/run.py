"""Plan many cases, hold each against all detectors, and tell what was found."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from multiprocessing import get_context
from pathlib import Path

from fingerpost.model.library import Library
from fingerpost.plan.case.check import find_case_findings
from fingerpost.read.library import read_library
from sweep.cases import TODAY, Chosen, count_cases, describe, list_all, list_pairs, make_case
from sweep.detectors import DETECTORS, detect
from sweep.sheets import tell

PROJECT = Path(__file__).resolve().parent.parent.parent
EXAMPLES = 3
TEXTS_SHOWN = 40
CHUNK = 200


@dataclass
class Tally:
    """What was found. `cases`: how many cases each detector caught; `texts`: how many cases each text stood in; `met`:
    which sayings stood on any sheet."""

    planned: int = 0
    held: int = 0
    refused: Counter[str] = field(default_factory=Counter)
    cases: Counter[str] = field(default_factory=Counter)
    texts: dict[str, Counter[str]] = field(default_factory=dict)
    examples: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    met: set[str] = field(default_factory=set)

    def add(self, other: Tally) -> None:
        self.planned += other.planned
        self.held += other.held
        self.refused += other.refused
        self.cases += other.cases
        self.met |= other.met
        for name, counted in other.texts.items():
            self.texts.setdefault(name, Counter()).update(counted)
        for key, told in other.examples.items():
            kept = self.examples.setdefault(key, [])
            kept += told[: EXAMPLES - len(kept)]


def sweep(library: Library, chosen: Iterable[Chosen]) -> Tally:
    """Plan each case and hold it against every detector."""
    tally = Tally()
    for one in chosen:
        case = make_case(library, one)
        against = next(find_case_findings(case, library, TODAY), None)
        if against:
            tally.refused[f"{case.protocol}: {against[1]}"] += 1
            continue
        told = tell(library, case)
        tally.planned += 1
        tally.met |= told.said.keys()
        tally.held += bool(told.facts.hold)
        found = set(detect(told))
        tally.cases.update({name for name, _ in found})
        for name, text in found:
            tally.texts.setdefault(name, Counter())[text] += 1
            kept = tally.examples.setdefault((name, text), [])
            if len(kept) < EXAMPLES:
                kept.append(describe(case))
    return tally


def take_sample(rows: Sequence[Chosen], most: int) -> Sequence[Chosen]:
    """At most so many of the rows, spread evenly over them."""
    return rows[:: max(1, -(-len(rows) // most))]


def read_shipped() -> Library:
    """The shipped collection. Raises ValueError where it cannot be read."""
    library, problems = read_library(PROJECT / "protocols")
    if problems:
        raise ValueError(str(problems[0]))
    return library


# ------------------------------------------------------------------ in several processes

_LIBRARY: list[Library] = []


def _sweep_chunk(chunk: Sequence[Chosen]) -> Tally:
    return sweep(_LIBRARY[0], chunk)


def _chunks(chosen: Iterator[Chosen]) -> Iterator[list[Chosen]]:
    while chunk := list(islice(chosen, CHUNK)):
        yield chunk


def sweep_all(library: Library, processes: int, pairs_only: bool = False) -> Tally:
    """All cases that the form can make, and all pairs of what it leaves open."""
    _LIBRARY[:] = [library]
    total = Tally()

    def chosen() -> Iterator[Chosen]:
        yield from list_pairs(library)
        if not pairs_only:
            yield from list_all(library)

    if processes == 1:
        for chunk in _chunks(chosen()):
            total.add(_sweep_chunk(chunk))
        return total
    with get_context("fork").Pool(processes) as pool:
        for part in pool.imap(_sweep_chunk, _chunks(chosen())):
            total.add(part)
    return total


# ------------------------------------------------------------------ the report


def write_report(library: Library, tally: Tally, seconds: float = 0.0) -> str:
    """What was counted and found, the most frequent first."""
    counted = count_cases(library)
    lines = [f"The form can make {sum(counted.values()):,} cases:"]
    lines += [f"  {count:>8,}  {name}" for name, count in counted.items()]
    lines += [
        f"Planned {tally.planned:,} (of them {tally.held:,} stop sheets), refused {sum(tally.refused.values()):,}:"
    ]
    lines += [f"  {count:>8,}  {why}" for why, count in tally.refused.most_common()]
    each = f", {1000 * seconds / max(1, tally.planned):.1f} ms a case" if seconds else ""
    lines += [f"In {seconds:.0f} s{each}." if seconds else ""]
    lines += [f"{len(tally.cases)} of {len(DETECTORS)} detectors found something."]
    for name, count in tally.cases.most_common():
        doc = (DETECTORS[name].__doc__ or "").strip().splitlines()[0]
        texts = tally.texts[name]
        lines += ["", f"## {name}: {count:,} cases, {len(texts)} texts", f"   {doc}"]
        for at, (text, times) in enumerate(texts.most_common(TEXTS_SHOWN)):
            lines.append(f"  - {times:,} x {text}")
            lines += [f"      {told}" for told in tally.examples[name, text][: EXAMPLES if at == 0 else 1]]
        if len(texts) > TEXTS_SHOWN:
            lines.append(f"  … and {len(texts) - TEXTS_SHOWN} more texts")
    lines += ["", "Silent: " + ", ".join(name for name in DETECTORS if name not in tally.cases)]
    return "\n".join(lines) + "\n"


def timed(library: Library, processes: int, pairs_only: bool) -> tuple[Tally, float]:
    began = time.monotonic()
    return sweep_all(library, processes, pairs_only), time.monotonic() - began
