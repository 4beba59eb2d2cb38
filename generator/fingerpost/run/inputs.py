"""What a command works with, as one digest: the collection, the program, the libraries, and what else counts."""

from __future__ import annotations

import hashlib
import os
from functools import cache
from pathlib import Path

import fingerpost
from fingerpost.files.standing import hash_places, name_installed


@cache
def hash_program() -> bytes | None:
    """Our own code and the libraries. Once for each process: what has changed since is not what runs."""
    ours = hash_places(Path(fingerpost.__file__).parent)
    return ours and ours + hashlib.sha256(name_installed()).digest()


def find_clinic(protocols: Path) -> Path:
    """Where the settings of a clinic lie: beside the protocols."""
    return protocols.resolve().parent / "clinic.yml"


def hash_inputs(protocols: Path, *others: Path, options: tuple[str, ...]) -> bytes | None:
    """One digest of a collection with the clinic's settings, of other places, of options and of the program.

    None where it cannot be told.
    """
    program = hash_program()
    places = hash_places(Path(os.path.realpath(protocols)), find_clinic(protocols), *others)
    if program is None or places is None:
        return None
    told = "".join(f"{len(option)}:{option}" for option in options)
    return hashlib.sha256(program + places + told.encode("utf-8", "surrogateescape")).digest()
