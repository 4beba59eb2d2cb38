"""Marks on pages and sheets: each one leads to a line that says where the figure is from."""

from __future__ import annotations

import re

from generator.model.library import Library
from generator.plan.prose import LETTERS, Writer
from generator.plan.site import plan_site
from generator.plan.visible import list_words

_LINE = re.compile(r"\[(\w+)\] ")


def test_every_mark_of_every_page_and_sheet_has_its_line(library: Library) -> None:
    site = plan_site(library)
    seen: set[str] = set()
    for part in (*site.pages, *site.handouts):
        words = list(list_words(part))
        used = {run.target for line in words for run in line if run.kind == "mark"}
        told = {f"source-{m.group(1)}" for w in words if w and (m := _LINE.fullmatch(w[0].text))}
        assert used <= told, getattr(part, "address", "") or part
        seen |= used
    assert {"source-p", "source-o", "source-1"} <= seen


def test_a_choice_of_ours_is_not_told_as_a_habit(library: Library) -> None:
    writer = Writer(library)
    assert writer.mark("own").text != writer.mark("common-practice").text
    told = writer.source_list()
    assert told is not None
    rows = ["".join(run.text for run in row) for row in told.items]
    assert [row[:4] for row in rows] == [f"[{letter}] " for letter, _ in LETTERS.values()]
    assert "many clinicians" in rows[0]
    assert "Our own choice" in rows[1]
    assert "clinicians" not in rows[1]
