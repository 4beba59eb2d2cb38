"""All checks, and how to run them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from pdf_gate import flow, hearing, hidden, lettering, opinions, paper, tagging
from pdf_gate.document import Defect, Printed, Wanted

Check = Callable[[Printed, Wanted], Iterator[Defect]]

_ALL: tuple[Check, ...] = (
    *opinions.ALL,
    tagging.marked,
    tagging.identified,
    tagging.title_shown,
    tagging.language,
    tagging.figures_described,
    tagging.headings,
    tagging.tables,
    tagging.nesting,
    tagging.tab_order,
    tagging.links,
    tagging.open_to_readers,
    tagging.all_tagged,
    *hearing.ALL,
    lettering.fonts_allowed,
    lettering.fonts_embedded,
    lettering.fonts_mapped,
    lettering.text_size,
    lettering.text_level,
    lettering.ink_of_words,
    hidden.title_same,
    hidden.metadata_only_ours,
    hidden.nothing_attached,
    hidden.nobody_named,
    hidden.headings_listed,
    paper.page_box,
    paper.printable,
    paper.in_text_block,
    paper.running_lines,
    paper.words_apart,
    paper.nothing_lost,
    flow.pages_filled,
    flow.no_single_lines,
    flow.no_single_lines_in_boxes,
    flow.headings_kept,
    flow.rows_whole,
)
CHECKS: dict[str, Check] = {check.__name__: check for check in _ALL}


def find_defects(content: bytes, wanted: Wanted) -> list[Defect]:
    """Everything that any check has against a printed PDF."""
    printed = Printed(content)
    return [defect for check in CHECKS.values() for defect in check(printed, wanted)]
