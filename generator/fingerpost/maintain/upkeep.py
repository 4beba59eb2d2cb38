"""What a maintainer asks for: what a change means, and which revision printed a sheet."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fingerpost.changes.comparison import compare_libraries
from fingerpost.changes.mending import mend, with_younger_phrases
from fingerpost.changes.reasons import find_silent_versions, find_unexplained
from fingerpost.changes.report import Report
from fingerpost.changes.views import Sight, compare_views
from fingerpost.files.telling import Name
from fingerpost.maintain.git import read_files, read_history
from fingerpost.model.library import Library
from fingerpost.plan.machines.views import list_views
from fingerpost.plan.pages.site import plan_site
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import read_library, read_plain
from fingerpost.read.texts import read_texts
from fingerpost.reckon.content_hash import hash_all

HERE = "the files here"


# ---------------------------------------------------------------- two editions to compare


@dataclass(frozen=True)
class Edition:
    """A collection as it was or is, what it is called, the text of each file, and what could not be read."""

    label: str
    texts: Mapping[str, str]
    library: Library
    problems: tuple[Problem, ...]


def _read_folder(folder: Path, label: str, base: str) -> Edition:
    library, problems = read_library(folder, base)
    return Edition(label, read_texts(folder), library, tuple(problems))


def _read_revision(folder: Path, revision: str, base: str) -> Edition:
    with tempfile.TemporaryDirectory(prefix="fingerpost-") as made:
        for name, content in read_files(folder, revision).items():
            path = Path(made) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return _read_folder(Path(made), revision, base)


def read_edition(wanted: str | None, folder: Path, name: Name) -> Edition:
    """A revision, another folder, or (None) the folder as it is. Raises ContentError where there is none such."""
    if wanted is None:
        return _read_folder(folder, HERE, name(folder))
    for other in (Path(wanted), Path(wanted) / folder.name):
        if (other / "shared").is_dir():
            return _read_folder(other, wanted, name(other))
    return _read_revision(folder, wanted, name(folder))


# ---------------------------------------------------------------- what a change means


def _list_layout(old: Edition, new: Edition) -> tuple[str, ...]:
    """Files whose text changed and whose data did not."""
    both = (name for name in new.texts if name in old.texts and old.texts[name] != new.texts[name])
    return tuple(name for name in both if _same_data(old.texts[name], new.texts[name]))


def _same_data(old: str, new: str) -> bool:
    try:
        return bool(read_plain(old, "") == read_plain(new, ""))
    except ContentError:
        return False


def _compare_sights(old: Library, new: Library) -> tuple[Sight | None, list[str]]:
    """(what readers see otherwise, or None and why that cannot be told)."""
    try:
        before = plan_site(with_younger_phrases(old, new))
    except (LookupError, ValueError, TypeError, AttributeError) as error:
        return None, [f"Pages and sheets are not compared: today's program cannot lay out the old side ({error!r})."]
    return compare_views(*list_views(before, plan_site(new))), []


def make_report(old: Edition, new: Edition, look: bool = True) -> Report:
    """All that a change means; `look`: also for which pages and sheets. Raises ContentError for an unreadable `new`."""
    if new.problems:
        raise ContentError(new.problems)
    mended, remarks = mend(old.library, new.library)
    comparison = compare_libraries(mended, new.library)
    sight, why = _compare_sights(comparison.old, new.library) if look else (None, [])
    return Report(
        old=old.label,
        new=new.label,
        comparison=comparison,
        sight=sight,
        layout=_list_layout(old, new),
        remarks=(*remarks, *why),
        problems=(*find_unexplained(comparison), *find_silent_versions(comparison)),
    )


# ---------------------------------------------------------------- which revision printed a sheet


def _decode(files: Mapping[str, bytes]) -> dict[str, str]:
    return {name: content.decode("utf-8", "replace") for name, content in files.items() if name.endswith(".yml")}


def find_printers(folder: Path, wanted: str) -> dict[str, list[str]]:
    """Where a text with a content hash stands, the newest first: protocol -> what each revision is called."""
    found: dict[str, list[str]] = {}
    here = (HERE, read_texts(folder))
    for label, texts in (here, *((str(r), _decode(files)) for r, files in read_history(folder))):
        for protocol, printed in hash_all(texts).items():
            if printed == wanted:
                found.setdefault(protocol, []).append(label)
    return found


def say_printers(wanted: str, found: Mapping[str, list[str]]) -> str:
    """Which revisions print a content hash, in a few lines. Raises ContentError where none does."""
    if not found:
        hint = "Eight signs from 0 to 9 and a to f, as in the foot of the sheet. Is this the repository it came from?"
        raise ContentError([Problem(Place(wanted), "no revision of these protocols prints this", hint)])
    lines = []
    for protocol, labels in found.items():
        lines.append(f"{wanted} is printed on the sheets of {protocol} by {len(labels)} of the revisions here")
        lines.append(f"  the newest: {labels[0]}")
        lines += [f"  the oldest: {labels[-1]}"] if len(labels) > 1 else []
    return "\n".join(lines)
