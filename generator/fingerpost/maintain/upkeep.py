"""What a maintainer asks for: files in canonical form, what a change means, which revision printed a sheet."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import fingerpost
from fingerpost.changes.comparison import compare_libraries
from fingerpost.changes.mending import mend, with_younger_phrases
from fingerpost.changes.reasons import find_silent_versions, find_unexplained
from fingerpost.changes.report import Report
from fingerpost.changes.views import Sight, compare_views
from fingerpost.files.cache import Kept, hash_files
from fingerpost.maintain.git import read_files, read_history
from fingerpost.maintain.scaffold import write_case, write_protocol
from fingerpost.model.library import Library
from fingerpost.model.words import ID_SHAPE, KEPT_BY_WINDOWS
from fingerpost.plan.machines.views import list_views
from fingerpost.plan.pages.site import plan_site
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import SPECIMEN, read_library, read_plain
from fingerpost.reckon.content_hash import hash_all
from fingerpost.rewrite.canonical import WRITER, find_first, find_kind, find_unformatted, rewrite

Name = Callable[[Path], str]
HERE = "the files here"


# ---------------------------------------------------------------- files in canonical form


def list_content(folder: Path) -> list[Path]:
    """Every YAML file of a collection, in the order in which it is read."""
    kinds = ("*.yml", "refer/*.yml", "shared/*.yml", "shared/*/*.yml")
    return [path for kind in kinds for path in sorted(folder.glob(kind))]


def _read(path: Path) -> str:
    """A file as it is, its line ends too. What is not UTF-8 is another check's finding."""
    return path.read_bytes().decode("utf-8", "replace")


def _kind(path: Path, folder: Path) -> Any:
    try:
        return find_kind(path.resolve().relative_to(folder.resolve()).as_posix())
    except ValueError:
        return find_kind("case/")


def find_unformatted_files(paths: Iterable[Path], folder: Path, name: Name) -> Iterator[Problem]:
    """A file must be in canonical form. Files outside the folder of protocols are read as cases."""
    return find_unformatted((name(path), _read(path), _kind(path, folder)) for path in paths)


def find_unformatted_content(folder: Path, name: Name, kept: Kept) -> Iterator[Problem]:
    """The same for a whole collection, in which a file is looked at again only when it or our code has changed."""
    code = hash_files(Path(fingerpost.__file__).parent.rglob("*.py")) + WRITER.encode()

    def find(text: str, kind: Any, called: str) -> int:
        return int(kept.take("canonical", code, repr(kind), text, make=lambda: b"%d" % find_first(text, kind, called)))

    yield from find_unformatted(((name(path), _read(path), _kind(path, folder)) for path in list_content(folder)), find)
    kept.sweep()


def rewrite_file(path: Path, folder: Path, name: Name) -> tuple[str, str] | None:
    """(text as it is, text in canonical form) of a file; None where both are the same.

    Raises ContentError where it cannot be read, or would not mean the same.
    """
    if path.is_symlink():
        raise ContentError([Problem(Place(name(path)), "links are not followed", "Put the file itself here.")])
    text, kind = _read(path), _kind(path, folder)
    return (text, rewrite(text, kind, name(path))) if find_first(text, kind, name(path)) else None


def is_still(path: Path, text: str) -> bool:
    """Whether a file still has a text, so that nobody else has written it in the meantime."""
    return _read(path) == text


# ---------------------------------------------------------------- two sides to compare


@dataclass(frozen=True)
class Side:
    """A collection as it was or is, what it is called, the text of each file, and what could not be read."""

    label: str
    texts: Mapping[str, str]
    library: Library
    problems: tuple[Problem, ...]


def read_texts(folder: Path) -> dict[str, str]:
    """The text of each file of a collection, by its place below the folder."""
    return {path.relative_to(folder).as_posix(): _read(path) for path in list_content(folder)}


def _read_folder(folder: Path, label: str, base: str) -> Side:
    library, problems = read_library(folder, base)
    return Side(label, read_texts(folder), library, tuple(problems))


def _read_revision(folder: Path, revision: str, base: str) -> Side:
    with tempfile.TemporaryDirectory(prefix="fingerpost-") as made:
        for name, content in read_files(folder, revision).items():
            path = Path(made) / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(content)
        return _read_folder(Path(made), revision, base)


def read_side(wanted: str | None, folder: Path, name: Name) -> Side:
    """A revision, another folder, or (None) the folder as it is. Raises ContentError where there is none such."""
    if wanted is None:
        return _read_folder(folder, HERE, name(folder))
    for other in (Path(wanted), Path(wanted) / folder.name):
        if (other / "shared").is_dir():
            return _read_folder(other, wanted, name(other))
    return _read_revision(folder, wanted, name(folder))


# ---------------------------------------------------------------- what a change means


def _list_layout(old: Side, new: Side) -> tuple[str, ...]:
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


def make_report(old: Side, new: Side, look: bool = True) -> Report:
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


# ---------------------------------------------------------------- new files


def _refuse(place: str, message: str, hint: str = "") -> ContentError:
    return ContentError([Problem(Place(place), message, hint)])


def plan_new(kind: str, wanted: str, protocols: Path, project: Path, today: date, name: Name) -> tuple[Path, str]:
    """(path, text) of a new protocol or case. Raises ContentError for an id that is none, is taken or was given up."""
    if not ID_SHAPE.fits(wanted):
        raise _refuse(wanted, ID_SHAPE.must)
    if wanted in KEPT_BY_WINDOWS:
        raise _refuse(wanted, "no file can be called this on Windows", "Choose another.")
    if kind == "case":
        path, specimen = project / "cases" / f"{wanted}.yml", project / "templates" / "project" / "case.yml"
    else:
        path, specimen = protocols / f"{wanted}.yml", protocols / SPECIMEN
        retired = read_library(protocols)[0].vocabularies.retired
        if any(entry.id == wanted for entry in retired):
            raise _refuse(wanted, "this id was given up, and its address leads to another page", "Choose another.")
    for taken in (path, *([protocols / "refer" / path.name] if kind != "case" else [])):
        if taken.exists():
            raise _refuse(name(taken), "there is such a file already", "Nothing was written.")
    text = _read(specimen)
    if kind == "case":
        return path, write_case(text, name(specimen))
    return path, write_protocol(text, name(specimen), wanted, today)
