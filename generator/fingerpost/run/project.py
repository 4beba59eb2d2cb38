"""Where the project lies, with protocols/, templates/ and site_overrides/, and where nothing may be put."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from fingerpost.problems import ContentError, Place, Problem

NameOf = Callable[[Path], str]
"""What a path is called in messages."""

PROJECT = Path(__file__).resolve().parents[3]
DEMO_CASES = PROJECT / "tests" / "golden" / "cases"


def refuse_inside(out: Path, protocols: Path, name: NameOf) -> None:
    """What is made must not lie among the protocols: there it would be read as one. Raises ContentError."""
    if out.resolve().is_relative_to(protocols.resolve()):
        hint = "Give another folder with --out."
        raise ContentError([Problem(Place(name(out)), "what is made must not lie among the protocols", hint)])
