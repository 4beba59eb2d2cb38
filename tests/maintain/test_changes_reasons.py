"""Less cautious changes need a reason; no key of the model is overlooked; nothing changes by itself.

- what is a reason: a new source where the value stands, a note on a new version
- an approved text does not change under its version and review
- every key of the model is compared
"""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from upkeep_world import FOREARM, Edit, Files, copy_files, entry, make_files, stage, write_files

from fingerpost.changes.compare.conditions import compare_condition
from fingerpost.changes.compare.fields import hints_of, shape_of
from fingerpost.changes.compare.shared import compare_vocabulary
from fingerpost.changes.compare.texts import compare_text
from fingerpost.changes.comparison import compare_libraries
from fingerpost.changes.reasons import find_silent_versions, find_unexplained
from fingerpost.changes.views import View, compare_views, focus
from fingerpost.maintain import upkeep
from fingerpost.model.library import Library
from fingerpost.model.shared import Vocabularies
from fingerpost.model.words import DATE_SHAPE, GRADE_SHAPE, ID_SHAPE, SPAN_SHAPE, VERSION_SHAPE


@pytest.fixture(scope="module")
def base() -> Files:
    return make_files()


@pytest.fixture
def problems_of(base: Files, tmp_path: Path) -> Callable[..., list[str]]:
    """What is found when the first edit is the old side and both together are the new one."""

    def run(edit: Edit, before: Edit = lambda files: None) -> list[str]:
        files = copy_files(base)
        before(files)
        libraries = []
        for name in ("old", "new"):
            write_files(tmp_path / name, files)
            side = upkeep.read_edition(str(tmp_path / name), tmp_path / name, lambda path: "protocols")
            assert not side.problems
            libraries.append(side.library)
            if name == "old":
                edit(files)
        comparison = compare_libraries(*libraries)
        return [str(p) for p in (*find_unexplained(comparison), *find_silent_versions(comparison))]

    return run


def sooner(files: Files, source: str = "common-practice") -> None:
    stage(files, "move")["windows"][0].update(earliest="3 days", source=source)


def loosen(files: Files) -> None:
    grips = stage(files, "easy-climbing")["grips"]
    grips["leave"].remove("full-crimp")
    grips["keep"].append("full-crimp")


def note(files: Files, version: str, what: str = "It begins sooner.", raise_it: bool = True) -> None:
    protocol = files[FOREARM]
    written = {"version": version, "date": "2026-12-01", "what": what, "reason": "Two therapists agreed."}
    protocol["changes"] = [written, *protocol.get("changes", [])]
    if raise_it:
        protocol["status"]["version"] = version


def test_a_window_that_opens_sooner_is_a_finding(problems_of: Callable[..., list[str]]) -> None:
    (found,) = problems_of(sooner)
    assert "protocols/forearm.yml:" in found
    assert "stages[1].windows[0]: less cautious, with no reason given: stage 2 'move', grade I" in found
    assert "Give the source, or raise the version and say why under `changes`." in found


def test_its_own_new_source_is_a_reason(problems_of: Callable[..., list[str]]) -> None:
    assert problems_of(lambda f: sooner(f, "invented-2017")) == []


@pytest.mark.parametrize("mark", ["own", "common-practice"])
def test_neither_a_habit_nor_a_choice_of_ours_is_a_reason(problems_of: Callable[..., list[str]], mark: str) -> None:
    def before(files: Files) -> None:
        stage(files, "move")["windows"][0]["source"] = "invented-2016"

    assert len(problems_of(lambda f: sooner(f, mark), before)) == 1


def test_the_same_source_seen_otherwise_is_none(problems_of: Callable[..., list[str]]) -> None:
    def before(files: Files) -> None:
        stage(files, "move")["windows"][0]["source"] = "invented-2017 recalled"

    assert len(problems_of(lambda f: sooner(f, "invented-2017"), before)) == 1


def test_a_source_elsewhere_is_no_reason_for_a_figure_with_a_source_of_its_own(
    problems_of: Callable[..., list[str]],
) -> None:
    def edit(files: Files) -> None:
        sooner(files)
        files[FOREARM]["facts"][0]["says"] = "Muscles ache for 3 days [invented-2017]."

    assert len(problems_of(edit)) == 1


def test_grips_have_no_source_of_their_own_so_one_new_to_the_protocol_is_a_reason(
    problems_of: Callable[..., list[str]],
) -> None:
    def edit(files: Files) -> None:
        loosen(files)
        files[FOREARM]["facts"][0]["says"] = "Muscles ache for 3 days [invented-2017]."

    assert len(problems_of(loosen)) == 1
    assert problems_of(edit) == []


def test_a_note_on_a_new_version_is_a_reason(problems_of: Callable[..., list[str]]) -> None:
    def edit(files: Files) -> None:
        sooner(files)
        note(files, "0.2.0")

    assert problems_of(edit) == []


def test_a_note_without_a_new_version_is_none(problems_of: Callable[..., list[str]]) -> None:
    def edit(files: Files) -> None:
        sooner(files)
        note(files, "0.1.0")

    assert len(problems_of(edit)) == 1


def test_an_old_note_explains_nothing_new(problems_of: Callable[..., list[str]]) -> None:
    def edit(files: Files) -> None:
        sooner(files)
        files[FOREARM]["status"]["version"] = "0.2.0"

    assert len(problems_of(edit, lambda f: note(f, "0.2.0", raise_it=False))) == 1


def test_a_shared_entry_needs_a_note_that_names_it(problems_of: Callable[..., list[str]]) -> None:
    def wait(files: Files) -> None:
        entry(files, "warning_signs", "tight-after-crush")["urgency"] = "routine"

    def silent(files: Files) -> None:
        wait(files)
        note(files, "0.2.0")

    def named(files: Files) -> None:
        wait(files)
        note(files, "0.2.0", "The warning sign tight-after-crush can wait.")

    (found,) = problems_of(wait)
    assert "raise the version of a condition that uses it and name it under its `changes`: forearm" in found
    assert len(problems_of(silent)) == 1
    assert problems_of(named) == []


def test_a_page_that_vanishes_is_a_finding_unless_its_readers_are_led_on(
    problems_of: Callable[..., list[str]],
) -> None:
    def gone(files: Files) -> None:
        del files["refer/volar-plate.yml"]

    def led_on(files: Files) -> None:
        gone(files)
        retired = {"id": "volar-plate", "now": "forearm", "since": "2026-12-01", "reason": "Merged."}
        files["shared/retired.yml"].append(retired)

    (found,) = problems_of(gone)
    assert "protocols/refer/volar-plate.yml: less cautious, with no reason given: gone, and nothing leads" in found
    assert problems_of(led_on) == []


def approve(files: Files) -> None:
    agreed = {"version": "1.0.0", "state": "approved", "reviewed": "2026-11-20", "reviewer_role": "hand therapist"}
    files[FOREARM]["status"] |= agreed


def test_an_approved_text_cannot_change_under_its_version_and_review(problems_of: Callable[..., list[str]]) -> None:
    def edit(files: Files) -> None:
        stage(files, "move")["windows"][0]["latest"] = "3 weeks"

    def properly(files: Files) -> None:
        edit(files)
        files[FOREARM]["status"] |= {"version": "1.1.0", "state": "draft"}

    version, state = sorted(problems_of(edit, approve))
    assert "status.version: what it says changed, and the version is still 1.0.0" in version + state
    assert "status.state: what it says changed, and nobody has reviewed that" in version + state
    assert problems_of(properly, approve) == []


def test_wording_of_an_approved_text_may_change(problems_of: Callable[..., list[str]]) -> None:
    def edit(files: Files) -> None:
        summary = files[FOREARM]["summary"]
        files[FOREARM]["summary"] = summary.replace("sore and stiff", "stiff and sore")

    assert problems_of(edit, approve) == []


# ---------------------------------------------------------------- no key is overlooked

OTHER = {
    ID_SHAPE: "another-id",
    DATE_SHAPE: "2031-02-03",
    SPAN_SHAPE: "77 days",
    GRADE_SHAPE: "any",
    VERSION_SHAPE: "9.9.9",
}


def otherwise(value: Any, hint: Any) -> Any:
    """Another value of the same kind."""
    options = typing.get_args(hint) if typing.get_origin(hint) is typing.Literal else ()
    if options:
        return next(o for o in options if o != value)
    if isinstance(value, bool):
        return not value
    if isinstance(value, (int, float)):
        return value + 1
    shape = shape_of(hint)
    return shape.read(OTHER.get(shape, f"Quite another {value}")) if shape else value


def mutate(value: Any, hint: Any, path: str) -> Iterator[tuple[str, Any]]:
    """(place, the same value with one thing otherwise) for each thing in a value."""
    if dataclasses.is_dataclass(value):
        kind: Any = type(value)
        for name, inner in hints_of(kind).items():
            if (name, path) not in (("id", ""),):
                for at, other in mutate(getattr(value, name), inner, f"{path}.{name}"):
                    yield at, dataclasses.replace(value, **{name: other})
    elif isinstance(value, tuple):
        item = (typing.get_args(hint) or (None,))[0]
        for number, part in enumerate(value):
            for at, other in mutate(part, item, f"{path}[{number}]"):
                yield at, (*value[:number], other, *value[number + 1 :])
    elif value is not None:
        optional = isinstance(hint, types.UnionType) or typing.get_origin(hint) is typing.Union
        inner = next(a for a in typing.get_args(hint) if a is not type(None)) if optional else hint
        yield path, otherwise(value, inner)


def test_no_key_of_a_protocol_or_short_entry_is_overlooked(library: Library) -> None:
    kinds = (library.find_protocol("pulley"), library.find_condition("volar-plate"))
    looked_at, silent = 0, []
    for condition in kinds:
        assert condition is not None
        for at, other in mutate(condition, None, ""):
            looked_at += 1
            if not list(compare_condition(condition, other, lambda exercise: True)):
                silent.append(at)
    assert looked_at > 600
    assert silent == []


def test_no_key_of_a_vocabulary_is_overlooked(library: Library) -> None:
    looked_at, silent = 0, []
    for name in (f.name for f in dataclasses.fields(Vocabularies)):
        entries = getattr(library.vocabularies, name)
        for found in entries[:2]:
            for at, other in mutate(found, None, ""):
                looked_at += 1
                if not list(compare_vocabulary(name, (found,), (other,))):
                    silent.append(f"{name}{at}")
    assert looked_at > 150
    assert silent == []


def test_nothing_changes_by_itself(library: Library) -> None:
    comparison = compare_libraries(library, library)
    assert comparison.subjects == ()
    assert comparison.lean is None


# ---------------------------------------------------------------- small parts


@pytest.mark.parametrize(
    ("old", "new", "lean"),
    [
        ("Rest the hand for a day.", "Rest the hand for one day.", "to-judge"),
        ("You can colour it.", "You can color it.", "wording"),
        ("Do not pull.", "Do pull.", "to-judge"),
        ("Open hand first, full crimp last.", "Full crimp first, open hand last.", "to-judge"),
        ("It heals [invented-2017].", "It heals [common-practice].", "to-judge"),
        ("It heals [common-practice].", "It heals [own].", "to-judge"),
        ("Press the A2 pulley.", "Press the A4 pulley.", "to-judge"),
    ],
)
def test_a_word_that_may_turn_a_sentence_is_for_a_reviewer(old: str, new: str, lean: str) -> None:
    assert {d.lean for d in compare_text(old, new)} == {lean}


def test_line_breaks_are_no_change() -> None:
    assert list(compare_text("One.\nTwo.", "One. Two.\n")) == []


def test_equal_changes_on_several_pages_are_told_once() -> None:
    old = [View("/a/", (("x", "one"), ("y", "two"))), View("/b/", (("", "two"),)), View("/gone/", ())]
    new = [View("/a/", (("x", "one"), ("y", "three"))), View("/b/", (("", "three"),)), View("/new/", ())]
    sight = compare_views(old, new)
    assert [(h.gone, h.come, h.places) for h in sight.hunks] == [(("two",), ("three",), ("/a/#y", "/b/"))]
    assert (sight.gone, sight.come, sight.changed) == (("/gone/",), ("/new/",), ("/a/", "/b/"))


def test_long_lines_are_cut_to_where_they_differ() -> None:
    left, right = "word " * 30, " more" * 30
    old, new = focus(f"{left}ten days{right}", f"{left}two weeks{right}")
    assert old.startswith("… ")
    assert old.endswith(" …")
    assert "ten days" in old
    assert "two weeks" in new
    assert len(old) < 120
