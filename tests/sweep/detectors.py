"""All detectors by name, in the order of their files."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from sweep import (
    detectors_care,
    detectors_claims,
    detectors_coach,
    detectors_dates,
    detectors_desk,
    detectors_frame,
    detectors_grips,
    detectors_leaf,
    detectors_person,
    detectors_pictures,
    detectors_stop,
    detectors_structure,
    detectors_tape,
    detectors_twice,
    detectors_words,
)
from sweep.sheets import Told

Detector = Callable[[Told], Iterator[str]]
MODULES = (
    detectors_stop,
    detectors_tape,
    detectors_grips,
    detectors_leaf,
    detectors_twice,
    detectors_person,
    detectors_pictures,
    detectors_dates,
    detectors_words,
    detectors_structure,
    detectors_care,
    detectors_claims,
    detectors_frame,
    detectors_coach,
    detectors_desk,
)


def _collect() -> dict[str, Detector]:
    found: dict[str, Detector] = {}
    for module in MODULES:
        for name, value in vars(module).items():
            if name.startswith("find_") and value.__module__ == module.__name__:
                found[name.removeprefix("find_").replace("_", "-")] = value
    return found


DETECTORS: Mapping[str, Detector] = _collect()
"""Each function `find_...` of these files, by its name."""


def detect(told: Told) -> Iterator[tuple[str, str]]:
    """Every finding of every detector: (its name, the offending text)."""
    for name, find in DETECTORS.items():
        for text in find(told):
            yield name, text
