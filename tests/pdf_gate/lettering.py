"""Checks of the fonts, the sizes and the ink of letters."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pikepdf

from pdf_gate.document import Defect, Printed, Wanted

Found = Iterator[Defect]

ALLOWED_FONTS = {"Atkinson-Hyperlegible-Next", "Atkinson-Hyperlegible-Next-Bold", "Fingerpost-Signs"}
SMALLEST_PT = 10.0
# Words on paper: 4.5:1 is the least for small type (standards page, L14 and K5), also once the page is printed in grey.
LEAST_CONTRAST = 4.5


def _list_fonts(printed: Printed) -> Iterator[tuple[int, pikepdf.Dictionary]]:
    """Every font of every page and of the pictures on it, once."""
    seen: set[tuple[int, int]] = set()

    def look(holder: Any, number: int) -> Iterator[tuple[int, pikepdf.Dictionary]]:
        resources = holder.get("/Resources", {})
        for font in resources.get("/Font", {}).values():
            if font.objgen not in seen:
                seen.add(font.objgen)
                yield number, font
        for kind in ("/XObject", "/Pattern"):
            for inner in resources.get(kind, {}).values():
                if inner.objgen not in seen and hasattr(inner, "get"):
                    seen.add(inner.objgen)
                    yield from look(inner, number)

    for number, page in enumerate(printed.pdf.pages, 1):
        yield from look(page.obj, number)


def _base_name(font: pikepdf.Dictionary) -> str:
    name = str(font.get("/BaseFont", "")).lstrip("/")
    return name[7:] if name[6:7] == "+" else name


def fonts_allowed(printed: Printed, wanted: Wanted) -> Found:
    """Every font is one that the project ships: none was taken from the computer that prints."""
    fonts = {(_base_name(font), number) for number, font in _list_fonts(printed)}
    if not fonts:
        yield Defect("fonts_allowed", 0, "there are no fonts")
    for name, number in sorted(fonts):
        if name not in ALLOWED_FONTS:
            yield Defect("fonts_allowed", number, f"the font {name} is not ours")


def fonts_embedded(printed: Printed, wanted: Wanted) -> Found:
    """U14: the shapes of every font are in the file."""
    for number, font in _list_fonts(printed):
        for part in (font, *font.get("/DescendantFonts", [])):
            descriptor = part.get("/FontDescriptor")
            if descriptor is None and "/DescendantFonts" in part:
                continue
            if descriptor is None or not any(f"/FontFile{n}" in descriptor for n in ("", "2", "3")):
                yield Defect("fonts_embedded", number, f"the font {_base_name(font)} is not in the file")


def fonts_mapped(printed: Printed, wanted: Wanted) -> Found:
    """U15: every font says which letter each of its shapes is."""
    for number, font in _list_fonts(printed):
        if "/ToUnicode" not in font or b"beginbf" not in font["/ToUnicode"].read_bytes():
            yield Defect("fonts_mapped", number, f"the font {_base_name(font)} has no ToUnicode")


def text_size(printed: Printed, wanted: Wanted) -> Found:
    """No letter is smaller than 10 points, in drawings too; most of the text has the size that was asked for."""
    sizes: dict[float, int] = {}
    for number, content in enumerate(printed.contents, 1):
        for text in content.texts:
            sizes[round(text.size, 1)] = sizes.get(round(text.size, 1), 0) + text.letters
        small = min((t.size for t in content.texts), default=SMALLEST_PT)
        if small < SMALLEST_PT - 0.01:
            yield Defect("text_size", number, f"there is text of {small:.1f} points")
    body = sum(count for size, count in sizes.items() if size >= wanted.print_size - 0.1)
    if 2 * body < sum(sizes.values()):
        yield Defect("text_size", 0, f"less than half of the text is {wanted.print_size} points or larger")


def text_level(printed: Printed, wanted: Wanted) -> Found:
    """Every line of text is level: nothing is turned."""
    for number, content in enumerate(printed.contents, 1):
        turned = sum(not text.upright for text in content.texts)
        if turned:
            yield Defect("text_level", number, f"{turned} pieces of text are turned")


def _luminance(colour: tuple[float, ...]) -> float:
    red, green, blue = colour if len(colour) == 3 else (colour[0],) * 3
    parts = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in (red, green, blue))
    return sum(share * part for share, part in zip((0.2126, 0.7152, 0.0722), parts, strict=True))


def contrast_with_white(colour: tuple[float, ...]) -> float:
    """The contrast ratio of a colour with white paper, by the web's rule."""
    return 1.05 / (_luminance(colour) + 0.05)


def ink_of_words(printed: Printed, wanted: Wanted) -> Found:
    """Every word is dark enough on white, or white on the dark ink."""
    for number, content in enumerate(printed.contents, 1):
        for colour in {text.colour for text in content.texts}:
            if colour in ((1.0,), (1.0, 1.0, 1.0)):
                continue
            if contrast_with_white(colour) < LEAST_CONTRAST:
                yield Defect("ink_of_words", number, f"text in the colour {colour} is too pale")
