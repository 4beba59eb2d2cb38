"""Finding what printed a sentence: whoever mends a word must be led to its file and line, and to nothing else."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from fingerpost.maintain.said_by import list_namings, list_sources
from fingerpost.maintain.where import GAP, find_sayings, lay_over, list_pieces, list_words
from fingerpost.model.library import Library
from fingerpost.run import cli

PROJECT = Path(__file__).parents[2]
WORDING = "protocols/shared/wording"
Look = Callable[..., tuple[int, list[str]]]


@pytest.fixture
def look(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Look:
    """Ask as on the command line. Returns (exit status, lines)."""
    monkeypatch.chdir(PROJECT)

    def ask(*words: str) -> tuple[int, list[str]]:
        code = cli.main(["--out", str(tmp_path), "where", *words])
        return code, capsys.readouterr().out.splitlines()

    return ask


def line_of(file: str, entry: str) -> int:
    """The line of the key `says` of a phrase."""
    return (PROJECT / file).read_text("utf-8").splitlines().index(f"- id: {entry}") + 2


def test_a_sentence_with_numbers_is_found_at_its_line(look: Look) -> None:
    code, lines = look("Today: stage 4 of 6, Move without load.")
    assert code == 0
    places = [line for line in lines if not line.startswith(" ")]
    name = f"{WORDING}/coach.yml"
    assert f"{name}:{line_of(name, 'coach-today')}: coach-today" in places
    assert "    Today: stage {number} of {count}, {name}." in lines
    users = [line for line in lines if line.startswith("    said by generator/fingerpost/plan/person/coach.py:")]
    assert len(users) == 1
    file, number = users[0].removeprefix("    said by ").split(":")
    assert '"coach-today"' in (PROJECT / file).read_text("utf-8").splitlines()[int(number) - 1]


def test_a_sentence_of_two_phrases_finds_both(look: Look) -> None:
    _, lines = look("At most 2 out of 10 [o]. The next morning it must be as good as before.")
    assert [line.split(": ")[1] for line in lines if line.startswith(WORDING)] == ["pain-next-morning", "pain-most"]


def test_how_it_is_typed_does_not_count(look: Look) -> None:
    says = "Locked, or it will not bend: a doctor, the same day."
    wanted = look(says)
    assert f"{WORDING}/wall.yml:" in wanted[1][0]
    assert look(*says.upper().split()) == wanted
    assert look("“Locked\u00a0or  it will not bend” a\u00a0doc\u00adtor – the same\u202fday") == wanted


def test_a_text_of_a_protocol_is_found_with_its_path(look: Look) -> None:
    code, lines = look("so easy that they would be your warm-up [p]")
    assert code == 0
    found = re.fullmatch(r"(protocols/pulley\.yml):(\d+): stages\[3\]\.climbing\[0\]", lines[2])
    assert found
    rest = " ".join((PROJECT / found[1]).read_text("utf-8").splitlines()[int(found[2]) - 1 :][:6])
    assert "they would be your warm-up" in " ".join(rest.split())


def test_an_entry_of_a_vocabulary_is_called_by_its_id(look: Look) -> None:
    _, lines = look("opening doors and carrying a light bag on the forearm give no pain")
    assert re.fullmatch(r"protocols/shared/gates\.yml:\d+: \[daily-life-painless\]\.says", lines[0])


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("flying saucers eat chalk", "no phrase and no text could have said these words"),
        ("...", "there is no word to look for"),
        ("12", "no phrase and no text could have said these words"),
    ],
)
def test_nothing_found_is_said_with_a_way_out(words: str, says: str, look: Look) -> None:
    code, lines = look(words)
    assert code == 1
    assert says in lines[0]
    assert lines[1].startswith("    Give ")


def test_what_holds_a_problem_is_searched_too(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A word is often looked for because a check has just found something wrong near it."""
    folder = tmp_path / "protocols" / "shared"
    folder.mkdir(parents=True)
    (folder / "wording.yml").write_text("- id: one\n  says: Hold the big hold.\n- id: two\n  said: Go.\n", "utf-8")
    code = cli.main(["--protocols", str(folder.parent), "where", "big hold"])
    assert (code, capsys.readouterr().out.splitlines()[1]) == (0, "    Hold the big hold.")


def test_gaps_stand_for_words() -> None:
    pieces = list_pieces("Hold {count} times a week [lutter-2018 recalled], no more.")
    assert pieces == ["hold", GAP, "times", "a", "week", GAP, "no", "more"]
    assert lay_over(pieces, list_words("Hold 3 times a week [1], no more")) == (0, 2, 3, 4, 6, 7)
    assert lay_over(pieces, list_words("You hold two or three times a month")) == (1, 5, 6)
    assert lay_over(pieces, list_words("Let go")) == ()


def test_every_phrase_is_found_by_its_own_words(library: Library) -> None:
    """With a number in each gap. Only what has no word of its own cannot be found, as a span from 2 to 4."""
    phrases = library.vocabularies.wording
    tried = 0
    for phrase in phrases[::12]:
        printed = re.sub(r"\{\w+\}", "7", phrase.says[0].says)
        if words := [word for word in list_words(printed) if len(word) > 2]:
            tried += 1
            found = [saying.entry for saying in find_sayings(library, list_words(printed))]
            assert phrase.id in found, (phrase.id, words)
    assert tried > 70


def test_a_phrase_names_who_says_it() -> None:
    namings = list_namings(list_sources(PROJECT))
    for phrase, file in (
        ("coach-today", "plan/person/coach.py"),  # named as a whole
        ("urgency-same-day", "plan/base/parts.py"),  # put together
        ("notice-help-number", "plan/walls/notices.py"),  # put together at its end
        ("desk-find-help", "templates/desk/form.html"),  # without 'desk-', on the desk
        ("desk-step-person", "templates/desk/form.html"),  # put together, on the desk
    ):
        assert any(f"{file}:" in user for user in namings.find(phrase)), phrase
