"""What `check` finds beside what is wrong with the meaning of a collection."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from fingerpost.files.cache import Kept
from fingerpost.model.library import Library
from fingerpost.problems import Problem
from fingerpost.reckon.overdue import find_overdue
from fingerpost.rewrite.files import find_unformatted_content
from fingerpost.run.load import NameOf


def find_collection_problems(
    library: Library, folder: Path, out: Path, today: date | None, name: NameOf
) -> list[Problem]:
    """Files that are not in canonical form, and with a day the reviews that are overdue on it."""
    found = list(find_unformatted_content(folder, name, Kept(out / ".kept" / "checked")))
    return [*found, *(find_overdue(library, today) if today else ())]
