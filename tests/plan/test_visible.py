"""What counts as a word on a sheet: what can be seen there. Words that are explained stand on the sheet."""

from __future__ import annotations

import dataclasses
import re
import typing
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args

import pytest
from bs4 import BeautifulSoup
from pdf_gate.samples import TODAY, cases, environment, library
from reading.terms import WORDS_HERE, list_explained
from site_under_test import whole_site

from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Began, EnclosureName
from fingerpost.model.library import Library
from fingerpost.model.shared import Term
from fingerpost.plan.base.blocks import Box, Drawing, Section
from fingerpost.plan.base.paper import Handout, Sheet, Site
from fingerpost.plan.base.pictures import HandPicture, Spot
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Handle, Use, Visible, plain, text
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.sheet_parts import word_list


def list_handouts() -> Iterator[Handout]:
    """The demo handouts with all that can be enclosed, those that stop somebody instead, and the general sheets."""
    for case in cases().values():
        yield plan_handout(library(), replace(case, enclose=get_args(EnclosureName)), TODAY)
    pulley = cases()["pulley-left-ring"]
    yield plan_handout(library(), replace(pulley, age_band="under-18", grade="IV"), TODAY)
    yield plan_handout(library(), replace(pulley, enclose=("about",)), TODAY)
    yield from (handout for handout in whole_site().handouts if handout.paper == "A4")


def read_visible(handout: Handout) -> tuple[str, str, list[str]]:
    """A printed handout: all that can be seen but for the explanations, that without the sources, and what is
    explained. No titles of pictures, and nothing that only a machine reads."""
    page = BeautifulSoup(write_html(environment(), handout), "html.parser")
    for unseen in page.select("head, svg title, svg desc, [hidden]"):
        unseen.decompose()
    lists = page.select(".part-words")
    lists += [part for part in page.select(".part-points") if part.h2 and part.h2.get_text() == WORDS_HERE]
    explained = [item.strong.get_text().removesuffix(":") for words in lists for item in words.find_all("li")]  # type: ignore[union-attr]
    for words in lists:
        words.decompose()
    edges = " ".join((handout.head, handout.foot, *handout.page_words))
    everything = f"{page.get_text(' ')} {edges}"
    for cited in page.select(".part-sources, .foot, .note"):
        cited.decompose()
    return _flat(everything), _flat(f"{page.get_text(' ')} {edges}"), explained


def _flat(seen: str) -> str:
    return re.sub(r"-\s+", "-", " ".join(seen.split())).lower()


def stands_in(term: Term, seen: str) -> bool:
    return any(re.search(rf"(?<![^\W_]){re.escape(n.lower())}(?![^\W_])", seen) for n in (term.term, *term.also_called))


def test_each_word_that_a_sheet_explains_can_be_seen_on_it() -> None:
    """Somebody who looks an explained word up on the sheet must find it there, outside of the list itself."""
    terms = {term.term: term for term in library().vocabularies.terms}
    checked = 0
    for handout in list_handouts():
        seen, _, explained = read_visible(handout)
        assert [name for name in explained if not stands_in(terms[name], seen)] == [], handout.file_stem
        checked += len(explained)
    assert checked > 100


def test_each_word_of_the_trade_that_can_be_seen_is_explained() -> None:
    """But for the titles of sources, which are not for the reader to understand, and what a clinician typed."""
    for handout in list_handouts():
        _, seen, explained = read_visible(handout)
        missing = [t.term for t in library().vocabularies.terms if stands_in(t, seen) and t.term not in explained]
        assert missing == [], handout.file_stem


def test_ids_names_and_titles_of_pictures_are_no_words() -> None:
    spot = Spot(landmark="a2", finger="ring", label="sore here")
    picture = HandPicture(title="Where the H-strip lies", hand="left", view="palm", spots=(spot,))
    drawing = Drawing(name="frame-h-strip-1", picture=picture, caption=text("Your left hand"))
    box = Box(level="note", title="Look", lines=(text("One line"),), groups=(("More", (text("Another"),)),))
    section = Section(id="pulley-ring", heading="Tape", blocks=(drawing, box))
    found = [plain(words) for words in list_words(section)]
    assert found == ["Tape", "sore here", "Your left hand", "Look", "One line", "More", "Another"]
    assert "Where the H-strip lies" in [plain(words) for words in list_words(section, heard=True)]
    assert word_list(Writer(library()), (section,)) is None


def test_two_texts_side_by_side_make_no_word_together() -> None:
    apart = Sheet(
        number=1,
        name="tape",
        title="Do this with a buddy",
        under_title=(text("Taping"),),
        lead=(),
        beside=(),
        sections=(),
    )
    assert "buddy taping" not in str(word_list(Writer(library()), (apart,)))
    assert "buddy taping" in str(word_list(Writer(library()), (replace(apart, title="Buddy taping"),)))


def list_kinds(hint: Any) -> Iterator[type]:
    """Every class of the plan that a type can hold, at any depth."""
    todo, seen = [hint], set()
    while todo:
        one = todo.pop()
        todo += typing.get_args(one)
        if isinstance(one, type) and dataclasses.is_dataclass(one) and one not in seen:
            seen.add(one)
            yield one
            todo += typing.get_type_hints(one, include_extras=True).values()


def find_undeclared(hint: Any) -> bool:
    if typing.get_origin(hint) is typing.Annotated:
        return not any(isinstance(use, Use) for use in typing.get_args(hint)[1:])
    return hint is str or (typing.get_origin(hint) is not Literal and any(map(find_undeclared, typing.get_args(hint))))


# What the script of the way in looks up stands in no field of its own, and the text of a run is what a reader reads.
NOT_DECLARED = {("Run", "text"), ("Finder", "data")}


def test_every_text_of_the_plan_says_what_it_is_for() -> None:
    """A text of which nobody says whether it is seen is left out of what is checked and explained, or is wrongly in."""
    kinds = list(list_kinds(Site))
    assert {"Handout", "Sheet", "Drawing", "TapingPicture", "TouchArea"} <= {kind.__name__ for kind in kinds}
    undeclared = {
        (kind.__name__, name)
        for kind in kinds
        for name, hint in typing.get_type_hints(kind, include_extras=True).items()
        if find_undeclared(hint)
    }
    assert undeclared == NOT_DECLARED


@dataclass(frozen=True)
class _Careless:
    name: Handle
    says: tuple[str, ...]
    seen: Visible = ""


def test_a_text_whose_use_nobody_says_is_refused() -> None:
    assert find_undeclared(typing.get_type_hints(_Careless, include_extras=True)["says"])
    assert not list(list_words(_Careless(name="id", says=())))
    with pytest.raises(TypeError, match="what a text is for"):
        list(list_words(_Careless(name="id", says=("lost",))))


def test_words_of_a_handout_are_explained_from_a_to_z(library: Library) -> None:
    for handout in whole_site().handouts:
        _, _, explained = read_visible(handout)
        assert explained == sorted(explained, key=str.lower)


# What stands on a leaf that comes without the sheet about the injury, and is explained where: at the first visit, whose
# handout brings that sheet, or by the picture and the words beside it.
NAMED_BEFORE = {
    "grade",
    "open hand",
    "crimp",
    "pocket",
    "edge",
    "splint",
    "hand therapist",
    "X-ray",
    "MRI",
    "pulley ring",
}


def test_a_later_leaf_brings_no_word_that_the_first_did_not_explain(library: Library) -> None:
    """Who comes again gets one sheet without a list of words: it names what is hurt as the first visit named it."""
    counted = 0
    for name in ("pulley-left-ring", "collateral-right-middle"):
        demo = cases()[name]
        case = replace(demo, checked=None, visits=())
        newest = (demo.visits or demo.began)[-1].date
        protocol = library.find_protocol(case.protocol)
        assert protocol
        stages = [stage for stage in protocol.stages if case.grade not in stage.skipped_by]
        first = replace(case, stage=stages[0].id, began=(), tapings=())
        first_plan = plan_handout(library, first, TODAY)
        assert [s.id for s in first_plan.sheets[-1].sections].count("words") == 1, "the first visit explains them"
        known = {*list_explained(first_plan)} | NAMED_BEFORE
        for stage in stages[1:]:
            began = (Began(stage=stages[0].id, date=case.anchor.date), Began(stage=stage.id, date=newest))
            later = plan_handout(library, replace(case, stage=stage.id, began=began, tapings=(), enclose=()), TODAY)
            _, seen, explained = read_visible(later)
            assert explained == []
            assert [t.term for t in library.vocabularies.terms if stands_in(t, seen) and t.term not in known] == []
            counted += 1
    assert counted >= 8
