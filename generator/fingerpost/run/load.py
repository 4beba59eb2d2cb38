"""Read and check together: a whole collection as of a day, or one case, or every reason why not."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from fingerpost.checks.rules import find_problems
from fingerpost.model.case import Case, ClinicSettings
from fingerpost.model.lettering import find_foreign, say_foreign
from fingerpost.model.library import Document, Library
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import read_case, read_document, read_library
from fingerpost.read.texts import read_texts
from fingerpost.reckon.content_hash import hash_all
from fingerpost.reckon.overdue import is_overdue
from fingerpost.run.inputs import find_clinic
from fingerpost.run.project import NameOf


def _find_foreign_signs(clinic: Document[ClinicSettings]) -> Iterator[Problem]:
    for key, text in vars(clinic.value).items():
        if sign := find_foreign(text or ""):
            yield clinic.problem((key,), *say_foreign(sign))


def load_library(folder: Path, today: date, name: NameOf) -> Library:
    """The collection as of a day, if nothing is wrong with it. Raises ContentError with every finding.

    `name` says how a path is called in messages.
    """
    if not folder.is_dir():
        raise ContentError([Problem(Place(name(folder)), "there is no such folder", "Protocols live in protocols/.")])
    library, problems = read_library(folder, name(folder))
    problems += find_problems(library)
    beside = find_clinic(folder)
    if os.path.lexists(beside):
        clinic, found = read_document(beside, ClinicSettings, name(beside))
        problems += [*found, *(_find_foreign_signs(clinic) if clinic else ())]
        library = replace(library, clinic=clinic.value) if clinic else library
    if problems:
        raise ContentError(problems)
    late = frozenset(c.id for c in library.conditions if is_overdue(c.status, today))
    return replace(library, content_hashes=hash_all(read_texts(folder)), overdue=late)


def load_case(path: Path, library: Library, today: date, name: NameOf) -> Document[Case]:
    """One case, if nothing is wrong with it. Raises ContentError with every finding."""
    from fingerpost.plan.case.check import find_case_problems

    document, problems = read_case(path, name(path))
    if document:
        problems += find_case_problems(document, library, today)
    if document is None or problems:
        raise ContentError(problems)
    return document
