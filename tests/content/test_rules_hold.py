"""Every rule holds in every shipped file, and each rule is a sentence that somebody can read."""

from __future__ import annotations

import dataclasses
import re
import typing
from pathlib import Path

from for_each import for_each

from fingerpost.checks import rules
from fingerpost.checks.base.walk import list_documents, plan_walk, walk_prose
from fingerpost.checks.entries import references
from fingerpost.model import audience, protocol, shared
from fingerpost.model.library import Library
from fingerpost.model.words import ID_SHAPE

FOLDER = Path(__file__).parents[2] / "protocols"
PROTOCOLS = sorted(p.name for p in FOLDER.glob("*.yml") if not p.name.startswith("_"))
REFERRALS = sorted(f"refer/{p.name}" for p in (FOLDER / "refer").glob("*.yml"))
SHARED = sorted(p.relative_to(FOLDER).as_posix() for p in (FOLDER / "shared").rglob("*.yml"))
SENTENCES = dict(rules.list_rules())


def test_each_word_of_a_warning_sign_is_one_that_texts_use(library: Library) -> None:
    """A slip in such a word would let a text say another urgency, and nobody would see it."""
    texts = [leaf.text for d in list_documents(library) for leaf in walk_prose(d) if leaf.field != "words"]
    flat = " ".join(" ".join(text.split()) for text in texts).lower()
    words = [word for warning in library.vocabularies.warning_signs for word in warning.words]
    assert len(words) > 30
    assert [word for word in words if word.lower() not in flat] == []


def test_the_guard_looks_at_everything(library: Library) -> None:
    assert len(PROTOCOLS) == len(library.protocols) == 7
    assert len(REFERRALS) == len(library.referrals) == 13
    assert len(library.shared_files) >= 13
    assert set(SHARED) <= {document.file.removeprefix("protocols/") for document in list_documents(library)}
    assert library.specimen is not None
    assert len(SENTENCES) == len(rules.RULES) + 1 > 80
    assert not any(library.unread.values())


def test_every_rule_holds_in_every_file(library: Library) -> None:
    assert [f"{problem.rule}: {problem}" for problem in rules.find_problems(library)] == []


@for_each("rule", list(SENTENCES))
def test_a_rule_is_one_sentence_with_must(rule: str) -> None:
    sentence = SENTENCES[rule]
    assert re.fullmatch(r"[A-Z][^\n]+[^.\n]\.", sentence), sentence
    assert "must" in sentence.split()
    assert len(re.findall(r"[.!?](?:\s|$)", sentence)) == 1


def test_rule_names_are_ids_and_differ() -> None:
    names = [rules.name_rule(rule) for rule in rules.RULES]
    assert len(names) == len(set(names))
    assert all(ID_SHAPE.fits(name) for name in names)
    assert len(rules.NEVER_TOLERATED) >= 12


def test_every_finder_is_registered() -> None:
    """A rule that stands in a file of rules and nowhere in the list would never be asked."""
    listed = {rule.__name__ for rule in rules.RULES} | {"find_exceptions_to_nothing", "find_problems"}
    helpers = {"find_first_odd_grade", "find_doses"}
    folder = Path(rules.__file__).parent
    written = {n for p in folder.rglob("*.py") for n in re.findall(r"^def (find_\w+)", p.read_text(), re.MULTILINE)}
    assert written == listed | helpers


def test_every_id_of_the_model_points_somewhere() -> None:
    """A new key with an id must be added to the pointers, or nobody would notice when it leads nowhere."""
    free = {(shared.Tolerated, "rule"), (shared.Retired, "now"), (audience.For, "stage")}
    pointing: set[tuple[type, str]] = {(protocol.LookAlike, "id")}
    # a stage belongs to its protocol: the rules of conditions look there
    classes = [
        c
        for module in (protocol, shared)
        for c in vars(module).values()
        if isinstance(c, type) and dataclasses.is_dataclass(c)
    ]
    for kind in classes:
        assert isinstance(kind, type)
        pointing |= {(kind, name) for name, _, shape, _ in plan_walk(kind).texts if shape is ID_SHAPE and name != "id"}
    assert pointing - free == set(references.POINTERS)
    vocabularies = {*typing.get_type_hints(shared.Vocabularies), "conditions"}
    assert set(references.POINTERS.values()) <= vocabularies
