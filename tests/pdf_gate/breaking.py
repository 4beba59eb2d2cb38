"""Ways to spoil a good PDF, each with the name of the check that must notice."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from pdf_gate.document import Printed, kids_of, name_of

Spoil = Callable[[pikepdf.Pdf], None]


def _first(pdf: pikepdf.Pdf, *names: str) -> Dictionary:
    """The first tag with one of some names."""
    found = _all(pdf, *names)
    assert found, f"the specimen has no {names}"
    return found[0]


def _all(pdf: pikepdf.Pdf, *names: str) -> list[Dictionary]:
    def walk(tag: Dictionary) -> list[Dictionary]:
        own = [tag] if name_of(tag) in names else []
        return own + [hit for kid in kids_of(tag) if isinstance(kid, Dictionary) for hit in walk(kid)]

    return walk(pdf.Root.StructTreeRoot)


def _fonts(pdf: pikepdf.Pdf) -> list[Dictionary]:
    return [font for page in pdf.pages for font in page.obj.Resources.Font.values()]


def _write(pdf: pikepdf.Pdf, number: int, commands: str) -> None:
    """Add to the end of a page's content."""
    page = pdf.pages[number - 1]
    page.contents_add(pdf.make_stream(commands.encode()), prepend=False)


def _say(pdf: pikepdf.Pdf, x: float, y: float, size: float, colour: str = "0 0 0 rg", turned: bool = False) -> None:
    """Letters on the first page, as decoration, at a place in points from the bottom left, with a font of the page."""
    font = next(iter(pdf.pages[0].obj.Resources.Font.keys()))
    code = _a_letter(pdf.pages[0].obj.Resources.Font[font])
    height = float(pdf.pages[0].obj.MediaBox[3])
    # WeasyPrint's pages are upside down from the first command on.
    matrix = f"0 1 1 0 {x} {height - y}" if turned else f"1 0 0 -1 {x} {height - y}"
    letters = f"<{code * 6}>"
    _write(pdf, 1, f"/Artifact BMC q {colour} BT {font} {size} Tf {matrix} Tm {letters} Tj ET Q EMC")


def _a_letter(font: Dictionary) -> str:
    """The code of some letter of a font."""
    lines = font.ToUnicode.read_bytes().decode("latin-1").split("beginbfchar")[1].split()
    return lines[0].strip("<>")


def no_alt(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "Figure")["/Alt"]


def blank_alt(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "Figure")["/Alt"] = String("  ")


def no_mark_info(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/MarkInfo"]


def suspect_tags(pdf: pikepdf.Pdf) -> None:
    pdf.Root.MarkInfo.Suspects = True


def no_tree(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/StructTreeRoot"]


def no_language(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Lang"]


def other_language(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Lang = String("fr-FR")


def no_metadata(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/Metadata"]


def not_ua(pdf: pikepdf.Pdf) -> None:
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        del metadata["pdfuaid:part"]


def no_title(pdf: pikepdf.Pdf) -> None:
    del pdf.docinfo["/Title"]


def two_titles(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo["/Title"] = String("Something else")


def title_hidden(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences.DisplayDocTitle = False


def author_named(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo["/Author"] = String("Zebedee Canary")


def name_in_alt(pdf: pikepdf.Pdf) -> None:
    tag = _first(pdf, "Figure")
    tag["/Alt"] = String(f"{tag['/Alt']} This is the hand of Zebedee Canary.")


def name_in_heading_list(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Outlines.First.Title = String("Zebedee Canary: your finger")


def file_attached(pdf: pikepdf.Pdf) -> None:
    pdf.attachments["case.yml"] = b"name: Zebedee Canary"


def runs_on_opening(pdf: pikepdf.Pdf) -> None:
    pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS=String("app.alert(1)"))


def heading_skipped(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "H2").S = Name.H4


def no_first_heading(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "H1").S = Name.P


def heading_unlisted(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Outlines.First.First = pdf.Root.Outlines.First.First.Next


def cell_without_heading(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "TD")["/A"]


def table_without_headings(pdf: pikepdf.Pdf) -> None:
    for tag in _all(pdf, "TH"):
        tag.S = Name.TD


def cell_missing(pdf: pikepdf.Pdf) -> None:
    row = _first(pdf, "TR")
    row.K = Array(list(row.K)[:-1])


def item_outside_list(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "L").S = Name.Div


def tag_unknown(pdf: pikepdf.Pdf) -> None:
    _first(pdf, "P").S = Name.Paragraph


def no_tabs(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[0].obj["/Tabs"]


def bare_link(pdf: pikepdf.Pdf) -> None:
    note = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[100, 100, 200, 120], Border=[0, 0, 0])
    pdf.pages[0].obj.Annots = Array([pdf.make_indirect(note)])


def a_form(pdf: pikepdf.Pdf) -> None:
    pdf.Root.AcroForm = Dictionary(Fields=Array([]))


def untagged_ink(pdf: pikepdf.Pdf) -> None:
    _write(pdf, 1, "0 0 0 rg 300 400 20 20 re f")


def no_unicode(pdf: pikepdf.Pdf) -> None:
    del _fonts(pdf)[0]["/ToUnicode"]


def no_font_file(pdf: pikepdf.Pdf) -> None:
    descriptor = _fonts(pdf)[0].DescendantFonts[0].FontDescriptor
    for key in ("/FontFile", "/FontFile2", "/FontFile3"):
        if key in descriptor:
            del descriptor[key]


def other_font(pdf: pikepdf.Pdf) -> None:
    font = _fonts(pdf)[0]
    for part in (font, font.DescendantFonts[0], font.DescendantFonts[0].FontDescriptor):
        part["/FontName" if "/FontName" in part else "/BaseFont"] = Name("/ABCDEF+DejaVu-Sans")


def _rewrite(pdf: pikepdf.Pdf, number: int, change: Callable[[list[Any]], list[Any]]) -> None:
    page = pdf.pages[number - 1]
    page.contents_coalesce()
    changed = change(list(pikepdf.parse_content_stream(page)))
    page.obj.Contents = pdf.make_stream(pikepdf.unparse_content_stream(changed))


def _mark_running_lines(pdf: pikepdf.Pdf, name: Name, told: Dictionary) -> None:
    """Mark the running lines of the first page in another way."""

    def change(commands: list[Any]) -> list[Any]:
        return [((name, told) if "/Subtype" in str(c.operands) else c.operands, c.operator) for c in commands]

    _rewrite(pdf, 1, change)


def orphans(pdf: pikepdf.Pdf) -> None:
    _mark_running_lines(pdf, Name.Span, Dictionary(MCID=4711))


def foot_not_running(pdf: pikepdf.Pdf) -> None:
    _mark_running_lines(pdf, Name.Artifact, Dictionary(Type=Name.Layout))


def head_not_heard(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.StructTreeRoot.K[0].K[0]


def foot_not_heard(pdf: pikepdf.Pdf) -> None:
    """The foot, and behind it the number of the page."""
    del pdf.Root.StructTreeRoot.K[0].K[-2:]


def notes_not_heard(pdf: pikepdf.Pdf) -> None:
    """The heading over the lines of a back that would be blank: it stands at the top of the tree."""
    document = pdf.Root.StructTreeRoot.K[0]
    del document.K[next(n for n, tag in enumerate(document.K) if name_of(tag) == "H2")]


def no_scope(pdf: pikepdf.Pdf) -> None:
    del _first(pdf, "TH").A["/Scope"]


def other_scope(pdf: pikepdf.Pdf) -> None:
    told = _first(pdf, "TH").A
    told.Scope = Name.Column if told.Scope == Name.Row else Name.Row


def empty_paragraph(pdf: pikepdf.Pdf) -> None:
    parent = _first(pdf, "P").P
    parent.K.append(pdf.make_indirect(Dictionary(Type=Name.StructElem, S=Name.P, P=parent, K=Array([]))))


def no_blanks_at_line_ends(pdf: pikepdf.Pdf) -> None:
    """What is shown behind other words of the same line is the blank at its end."""

    def change(commands: list[Any]) -> list[Any]:
        shown = ["", *(str(c.operator) for c in commands)]
        return [c for before, c in zip(shown, commands, strict=False) if (before, str(c.operator)) != ("TJ", "TJ")]

    _rewrite(pdf, 1, change)


def blanks_in_words(pdf: pikepdf.Pdf) -> None:
    for font in _fonts(pdf):
        font.ToUnicode = pdf.make_stream(font.ToUnicode.read_bytes().replace(b"<0065>", b"<0020>"))


def tags_out_of_order(pdf: pikepdf.Pdf) -> None:
    items = _first(pdf, "L")
    items.K = Array(reversed(list(items.K)))


def alts_alike(pdf: pikepdf.Pdf) -> None:
    figure = _first(pdf, "Figure")
    for number in range(3):
        again = pdf.make_indirect(pikepdf.Dictionary(dict(figure)))
        again.Alt = String(f"The same hand, seen again from the palm side, step {number}")
        figure.P.K.append(again)


def figure_box_elsewhere(pdf: pikepdf.Pdf) -> None:
    box = _all(pdf, "Figure")[-1].A
    box.BBox = Array([float(n) / 0.75 for n in box.BBox])


def small_print(pdf: pikepdf.Pdf) -> None:
    _say(pdf, 200, 300, 8)


def pale_print(pdf: pikepdf.Pdf) -> None:
    _say(pdf, 200, 300, 12, colour="0.7 0.7 0.7 rg")


def turned_print(pdf: pikepdf.Pdf) -> None:
    _say(pdf, 200, 300, 12, turned=True)


def other_paper(pdf: pikepdf.Pdf) -> None:
    page = pdf.pages[0].obj
    page.MediaBox = Array([0, 0, 595, 842])


def page_turned(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].obj.Rotate = 90


def ink_at_the_edge(pdf: pikepdf.Pdf) -> None:
    _write(pdf, 1, "/Artifact BMC 0 0 0 rg 2 400 6 60 re f EMC")


def sticks_out(pdf: pikepdf.Pdf) -> None:
    _say(pdf, float(pdf.pages[0].obj.MediaBox[2]) - 70, 400, 12)


def _leave_out(pdf: pikepdf.Pdf, number: int, operators: str) -> None:
    _rewrite(pdf, number, lambda commands: [c for c in commands if str(c.operator) not in operators.split()])


def no_words(pdf: pikepdf.Pdf) -> None:
    _leave_out(pdf, 1, "TJ Tj")


def printed_over(pdf: pikepdf.Pdf) -> None:
    """Over the longest word of the first page, a little aside."""
    word = max(Printed(_save(pdf)).words[0], key=lambda word: word.right - word.left)
    _say(pdf, word.left + 3, float(pdf.pages[0].obj.MediaBox[3]) - word.bottom + 4, 12)


def empty_page(pdf: pikepdf.Pdf) -> None:
    """A page with nothing on it."""
    _leave_out(pdf, 2, "TJ Tj re S f f* B Do")


def locked(pdf: pikepdf.Pdf) -> None:
    """Marks the file for `spoil`, which locks it while saving."""
    pdf.Root["/Lock"] = True


MUTATIONS: dict[str, tuple[Spoil, str]] = {
    "no-alt": (no_alt, "figures_described"),
    "blank-alt": (blank_alt, "figures_described"),
    "no-mark-info": (no_mark_info, "marked"),
    "suspect-tags": (suspect_tags, "marked"),
    "no-tree": (no_tree, "marked"),
    "no-language": (no_language, "language"),
    "other-language": (other_language, "language"),
    "no-metadata": (no_metadata, "identified"),
    "not-ua": (not_ua, "identified"),
    "no-title": (no_title, "title_same"),
    "two-titles": (two_titles, "title_same"),
    "title-hidden": (title_hidden, "title_shown"),
    "author-named": (author_named, "metadata_only_ours"),
    "author-canary": (author_named, "nobody_named"),
    "name-in-alt": (name_in_alt, "nobody_named"),
    "name-in-heading-list": (name_in_heading_list, "nobody_named"),
    "file-attached": (file_attached, "nothing_attached"),
    "runs-on-opening": (runs_on_opening, "nothing_attached"),
    "heading-skipped": (heading_skipped, "headings"),
    "no-first-heading": (no_first_heading, "headings"),
    "heading-unlisted": (heading_unlisted, "headings_listed"),
    "cell-without-heading": (cell_without_heading, "tables"),
    "table-without-headings": (table_without_headings, "tables"),
    "cell-missing": (cell_missing, "tables"),
    "item-outside-list": (item_outside_list, "nesting"),
    "tag-unknown": (tag_unknown, "nesting"),
    "no-tabs": (no_tabs, "tab_order"),
    "bare-link": (bare_link, "links"),
    "a-form": (a_form, "links"),
    "untagged-ink": (untagged_ink, "all_tagged"),
    "untagged-ink-ua": (untagged_ink, "pdf_ua"),
    "orphans": (orphans, "nothing_unheard"),
    "foot-not-running": (foot_not_running, "nothing_unheard"),
    "notes-not-heard": (notes_not_heard, "all_tagged"),
    "foot-not-heard": (foot_not_heard, "running_lines_heard"),
    "no-scope": (no_scope, "headings_scoped"),
    "other-scope": (other_scope, "headings_scoped"),
    "empty-paragraph": (empty_paragraph, "nothing_empty"),
    "empty-paragraph-heard": (empty_paragraph, "outloud_agrees"),
    "no-alt-pdfua": (no_alt, "pdfua_agrees"),
    "no-blanks-at-line-ends": (no_blanks_at_line_ends, "words_told_apart"),
    "blanks-in-words": (blanks_in_words, "words_told_apart"),
    "tags-out-of-order": (tags_out_of_order, "painted_in_order"),
    "alts-alike": (alts_alike, "alts_differ"),
    "figure-box-elsewhere": (figure_box_elsewhere, "figures_boxed"),
    "no-unicode": (no_unicode, "fonts_mapped"),
    "no-font-file": (no_font_file, "fonts_embedded"),
    "other-font": (other_font, "fonts_allowed"),
    "small-print": (small_print, "text_size"),
    "pale-print": (pale_print, "ink_of_words"),
    "turned-print": (turned_print, "text_level"),
    "other-paper": (other_paper, "page_box"),
    "page-turned": (page_turned, "page_box"),
    "ink-at-the-edge": (ink_at_the_edge, "printable"),
    "sticks-out": (sticks_out, "in_text_block"),
    "no-foot": (no_words, "running_lines"),
    "words-lost": (no_words, "nothing_lost"),
    "printed-over": (printed_over, "words_apart"),
    "empty-page": (empty_page, "pages_filled"),
    "locked": (locked, "open_to_readers"),
}


# On sheets alone: a leaf tells by itself what runs at the head of each sheet.
HEADED: dict[str, tuple[Spoil, str]] = {"head-not-heard": (head_not_heard, "running_lines_heard")}


def _save(pdf: pikepdf.Pdf) -> bytes:
    out = io.BytesIO()
    if "/Lock" in pdf.Root:
        pdf.save(out, encryption=pikepdf.Encryption(owner="o", user=""))
    else:
        pdf.save(out)
    return out.getvalue()


def spoil(content: bytes, name: str) -> bytes:
    """A good PDF with one thing made wrong."""
    pdf = pikepdf.open(io.BytesIO(content))
    (MUTATIONS | HEADED)[name][0](pdf)
    return _save(pdf)
