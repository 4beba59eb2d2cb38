"""What the PDF engine leaves undone for those who listen to a sheet: its tags, and the order in which it is painted.

Works on the engine's own objects before the file is written, so that nothing is read again, and leans on how it writes:
one string an operator, each piece of text or drawing between `BDC` and `EMC` with a font of its own, lengths in pixels
from the top of the page. The PDF gate holds what comes of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from html import unescape
from itertools import count
from typing import Any

_INLINE = {"/Span", "/Link", "/NonStruct"}
_HEADING = re.compile("/H[1-6]")
_MAY_GO = {"/Span", "/P"}
_SIGNS = {"•", "☐"}
_SETTING = set(b"cm gs rg RG g G k K cs CS sc SC scn SCN w J j M d i".split())
_PATH = set(b"m l c v y h re W W*".split())
_GLYPHS = re.compile(r"<([0-9a-f]+)>")
_PIXEL_PT = 0.75
_FEW = 30
"""So many letters before and after the end of a line are enough to find the place in the text."""


@dataclass(eq=False)
class _Piece:
    """A marked piece of a page: where it begins and ends in the content, and the tag of the block it is in."""

    mcid: int
    begin: int
    end: int = 0
    block: Any = None


@dataclass
class _Page:
    first: bool
    last: bool
    height: float  # points
    content: list[Any]
    pieces: dict[int, _Piece] = field(default_factory=dict)  # by number, in the order in which they are painted
    tagged: list[_Piece] = field(default_factory=list)  # in the order of the tags


def make_finisher(html: str) -> Callable[[Any, Any], None]:
    """What the engine has to call with its document and its PDF, drawn from `html`, before it writes the file.

    Then running heads and feet are no content, but the head of the first page and the foot of the last are heard, and
    what stands over the lines of a page to write on is a heading; the sign before an item is its label; heading cells
    say which way they head; words are apart at the end of a line; boxes of figures lie where the figures are; and each
    page is painted in the order of the tags.
    """

    def finish(document: Any, pdf: Any) -> None:
        letters = {f"/{font.hash}".encode(): font.to_unicode for font in document.fonts.values()}
        pages = {reference: _read_page(pdf, reference) for reference in pdf.page_references}
        tree = _follow(pdf, pdf.catalog["StructTreeRoot"])
        root = _follow(pdf, tree["K"][0])
        _label_items(pdf, root, pages, letters)
        _mend_tags(pdf, root, pages)
        owners = _follow(pdf, tree["ParentTree"])["Nums"][1::2]
        for of_page, (reference, page) in zip(owners, pages.items(), strict=False):
            if not page.tagged:
                _head_notes(pdf, reference, page, of_page, root, letters)
            _set_running_lines_apart(pdf, page, of_page, root)
        _part_words(letters, pages.values(), html)
        for page in pages.values():
            _paint_in_order(page)

    return finish


def _follow(pdf: Any, reference: bytes) -> Any:
    return pdf.objects[int(reference.split()[0])]


def _operator(item: Any) -> bytes:
    return item[item.rfind(b" ") + 1 :] if isinstance(item, bytes) else b""


def _read_page(pdf: Any, reference: bytes) -> _Page:
    page = _follow(pdf, reference)
    first, last = (reference == pdf.page_references[at] for at in (0, -1))
    found = _Page(first, last, page["MediaBox"][3], _follow(pdf, page["Contents"]).stream)
    marks: list[_Piece | None] = []
    for at, item in enumerate(found.content):
        if item == b"BDC" and "MCID" in (told := found.content[at - 1]):
            marks.append(_Piece(told["MCID"], at - 2))
        elif item in (b"BDC", b"BMC"):
            marks.append(None)
        elif item == b"EMC" and (piece := marks.pop()):
            piece.end = at + 1
            found.pieces[piece.mcid] = piece
    return found


def _label_items(pdf: Any, tag: Any, pages: Mapping[bytes, _Page], letters: Mapping[bytes, Mapping[int, str]]) -> None:
    """Where a style puts a sign before an item, the engine makes it words of the item: it is the item's label."""
    below = [_follow(pdf, kid) for kid in tag["K"] if not isinstance(kid, int)]
    if tag["S"] == "/LI" and [kid["S"] for kid in below] == ["/LBody"] and below[0]["K"]:
        first = below[0]["K"][0]
        if not isinstance(first, int) and _say_all(pdf, _follow(pdf, first), pages, letters).strip() in _SIGNS:
            del below[0]["K"][0]
            tag["K"].insert(0, first)
            _follow(pdf, first).update({"S": "/Lbl", "P": below[0]["P"]})
    for kid in below:
        if "S" in kid:
            _label_items(pdf, kid, pages, letters)


def _say_all(pdf: Any, tag: Any, pages: Mapping[bytes, _Page], letters: Mapping[bytes, Mapping[int, str]]) -> str:
    """What a tag and all below it say."""
    said = ""
    for kid in tag.get("K", ()):
        if isinstance(kid, int):
            page = pages[tag["Pg"]]
            said += _read_text(page.content[page.pieces[kid].begin : page.pieces[kid].end], letters)
        else:
            said += _say_all(pdf, _follow(pdf, kid), pages, letters)
    return said


def _head_notes(
    pdf: Any, reference: bytes, page: _Page, owners: Any, root: Any, letters: Mapping[bytes, Mapping[int, str]]
) -> None:
    """On a page with nothing but lines to write on, make what stands over them a heading, and list it with the others.

    It is painted before the running lines. Such a page is the back of the last one that came before.
    """
    piece = next(iter(page.pieces.values()))
    tag = list(_climb(pdf, _follow(pdf, owners[piece.mcid]), root))[-1]
    tag["S"], piece.block = "/H2", tag
    number = pdf.page_references.index(reference)
    before = set(pdf.page_references[:number])
    root["K"].insert(sum(_follow(pdf, kid)["Pg"] in before for kid in root["K"]), tag.reference)
    page.tagged.append(piece)

    def place(kid: bytes) -> int:
        return int(pdf.page_references.index(_follow(pdf, kid)["Dest"][0]))

    above = _follow(pdf, pdf.catalog["Outlines"])["First"]
    while "Next" in (listed := _follow(pdf, above)) and place(listed["Next"]) < number:
        above = listed["Next"]
    says = _read_text(page.content[piece.begin : piece.end], letters).strip()
    _list_heading(pdf, _follow(pdf, above), says, [reference, "/XYZ", 0, page.height, 0])


def _list_heading(pdf: Any, above: Any, says: str, place: list[Any]) -> None:
    """Add a heading to the list of headings, as the last below another."""
    # The engine's own kinds of objects, without a second import of its libraries.
    entry = type(above)({"Title": type(above["Title"])(says), "Dest": type(above["Dest"])(place)})
    entry.update({"Count": 0, "Parent": above.reference})
    pdf.add_object(entry)
    if "Last" in above:
        entry["Prev"] = above["Last"]
        _follow(pdf, above["Last"])["Next"] = entry.reference
    above["Last"] = entry.reference
    above.setdefault("First", entry.reference)
    above["Count"] += 1
    _follow(pdf, pdf.catalog["Outlines"])["Count"] += 1


def _mend_tags(pdf: Any, tag: Any, pages: dict[bytes, _Page], block: Any = None, heads: str = "/Row") -> None:
    """Go through a tag and all below it, and note which pieces they hold."""
    if block is not None and tag["S"] == block["S"] and _HEADING.fullmatch(tag["S"]):
        tag["S"] = "/Span"  # the engine tags a heading with a picture in it twice, one in the other
    kind = tag["S"]
    block = block if kind in _INLINE else tag
    heads = "/Column" if kind == "/THead" else heads
    if kind == "/TH":
        tag["A"]["Scope"] = heads
    elif kind == "/Figure":
        left, top, right, bottom = (_PIXEL_PT * side for side in tag["A"]["BBox"])
        height = pages[tag["Pg"]].height
        tag["A"]["BBox"][:] = left, height - bottom, right, height - top
    for kid in tag["K"]:
        if isinstance(kid, int):
            page = pages[tag["Pg"]]
            page.pieces[kid].block = block
            page.tagged.append(page.pieces[kid])
        elif "S" in (below := _follow(pdf, kid)):
            _mend_tags(pdf, below, pages, block, heads)
    _leave_out_empty(pdf, tag)


def _leave_out_empty(pdf: Any, tag: Any) -> None:
    """Take out what holds nothing to be heard: room to write in is drawn, and says no word."""
    for kid in list(tag["K"]):
        below = None if isinstance(kid, int) else _follow(pdf, kid)
        if below and below.get("S") in _MAY_GO and not below["K"] and "Alt" not in below:
            tag["K"].remove(kid)
            below.clear()


def _set_running_lines_apart(pdf: Any, page: _Page, owners: Any, root: Any) -> None:
    """Mark as a running line what the tree doesn't hold. `owners` holds the tag of each piece by the piece's number.

    The head of the first page and the foot of the last are brought into the tree instead, first and last of all: what
    they say may stand nowhere else.
    """
    heads = 0
    for piece in page.pieces.values():
        if piece.block is not None:
            continue
        place = next((item for item in page.content[piece.begin : piece.end] if _operator(item) == b"Tm"), None)
        at_top = place is not None and float(place.split()[5]) * _PIXEL_PT < page.height / 2
        tags = list(_climb(pdf, _follow(pdf, owners[piece.mcid]), root))
        if tags and (page.first if at_top else page.last):
            tags[-1]["S"] = "/P"
            piece.block = tags[-1]
            root["K"].insert(heads if at_top else len(root["K"]), tags[-1].reference)
            page.tagged.insert(heads if at_top else len(page.tagged), piece)
            heads += at_top
        else:
            page.content[piece.begin] = b"/Artifact"
            running = page.content[piece.begin + 1]
            running.clear()
            running.update({"Type": "/Pagination", "Subtype": "/Header" if at_top else "/Footer"})
            owners[piece.mcid] = b"null"
            for tag in tags:
                tag.clear()


def _climb(pdf: Any, tag: Any, root: Any) -> Iterator[Any]:
    """A tag and the ones above it, but for the root."""
    while tag and tag is not root:
        yield tag
        tag = _follow(pdf, tag["P"])


def _part_words(letters: Mapping[bytes, Mapping[int, str]], pages: Iterable[_Page], html: str) -> None:
    """Put a blank behind what ends a line between two words; on paper the end of the line is enough to part them.

    Words that a line breaks without a blank, as after a hyphen, are whole in the HTML and stay whole.
    """
    source = _say(unescape(re.sub(r"<[^>]*>", "", re.sub(r"<br\b[^>]*>", " ", html))))
    blanks = {name: glyph for name, says in letters.items() for glyph, text in says.items() if _say(text) == " "}
    for page in pages:
        before, said = None, ""
        for piece in page.tagged:
            text = _read_text(page.content[piece.begin : piece.end], letters)
            if not text:
                continue
            if before is None or piece.block is not before.block:
                said = ""
            elif not (said + text[:_FEW] in source or said[-1] == " " or text[0] == " "):
                _end_with_blank(page.content, before, blanks)
                said += " "
            before, said = piece, (said + text)[-_FEW:]


def _say(text: str) -> str:
    return re.sub(r"[ \t\n\xa0]+", " ", text)


def _read_text(content: list[Any], letters: Mapping[bytes, Mapping[int, str]]) -> str:
    """What a piece says: nothing, if it is a drawing."""
    text = ""
    says: Mapping[int, str] = {}
    for item in content:
        if _operator(item) == b"Tf":
            says = letters[item.split()[0]]
        elif _operator(item) == b"TJ":
            codes = "".join(_GLYPHS.findall(item.decode()))
            text += "".join(says[int(codes[at : at + 4], 16)] for at in range(0, len(codes), 4))
    return _say(text)


def _end_with_blank(content: list[Any], piece: _Piece, blanks: Mapping[bytes, int]) -> None:
    """Show a blank at the end of a piece, in its own font or else in any that has one."""
    at = max(n for n in range(piece.begin, piece.end) if _operator(content[n]) == b"TJ")
    font, size, _ = next(content[n] for n in range(at, piece.begin, -1) if _operator(content[n]) == b"Tf").split()
    if font not in blanks:
        font = next(iter(blanks))
        content[at] += b" %s %s Tf" % (font, size)
    content[at] += b" [<%04x>] TJ" % blanks[font]


def _paint_in_order(page: _Page) -> None:
    """Where pieces are painted in another order than their tags stand in, paint them anew, after all decoration.

    Each takes along what was set where it was: place, colour and what it is clipped to.
    """
    painted = [piece for piece in page.pieces.values() if piece.block is not None]
    if painted == page.tagged:
        return
    begins = {piece.begin: piece for piece in painted}
    left: list[Any] = []
    moved: dict[_Piece, list[Any]] = {}
    set_here = _Settings()
    inside: _Piece | None = None
    depth = 0
    for at, item in enumerate(page.content):
        if at in begins:
            inside, depth = begins[at], len(set_here.levels)
            moved[inside] = [b"q", *set_here.all(), *page.content[at : inside.end], b"Q"]
        set_here.follow(item)
        if inside is None or (_operator(item) in _SETTING and len(set_here.levels) == depth):
            left.append(item)  # also what a piece sets for those after it
        if inside and at + 1 == inside.end:
            inside = None
    page.content[:] = [b"q", *left, b"Q", *(item for piece in page.tagged for item in moved[piece])]


class _Settings:
    """What is set at a point of a page's content: of each kind the last, but every move and every clip."""

    def __init__(self) -> None:
        self.levels: list[dict[Any, Any]] = [{}]
        self.path: list[Any] = []
        self.unlike = count()

    def all(self) -> list[Any]:
        return [item for level in self.levels for item in level.values()]

    def follow(self, item: Any) -> None:
        match _operator(item):
            case b"q":
                self.levels.append({})
            case b"Q":
                self.levels.pop()
            case b"cm":
                self.levels[-1][next(self.unlike)] = item
            case b"n" if any(_operator(step) in (b"W", b"W*") for step in self.path):
                self.levels[-1][next(self.unlike)] = b"\n".join((*self.path, item))
            case operator if operator in _SETTING:
                self.levels[-1][operator, item[:2] if operator == b"gs" else b""] = item
            case operator if operator in _PATH:
                self.path.append(item)
                return
        self.path = []
