"""Pictures on a screen go with the page: no colour of paper is left, lines and letters stand out on every ground."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import product
from pathlib import Path

import pytest
from for_each import for_each
from pdf_gate.samples import library
from site_under_test import PROJECT

from fingerpost.draw.contact import Version, list_versions, sample_pictures
from fingerpost.draw.pens.svg import ON_PAPER, ColourName
from fingerpost.draw.picture import draw
from fingerpost.make.drawn.on_screen import DARK, FORCED, ON_SCREEN, list_colours, put_on_screen
from fingerpost.plan.base.pictures import Picture

STYLE = (PROJECT / "site_overrides" / "assets" / "frame.css").read_text("utf-8")
LITERAL = re.compile(r'(?:fill|stroke|style|stop-color)="[^"]*(?:#[0-9a-fA-F]{3,8}\b|rgba?\(|hsla?\(|black|white)')
# Words stand on these, beside the ground of the page; a hollow and a band of grey hold none.
UNDER_LETTERS: tuple[ColourName, ...] = ("paper", "tint", "pale", "stuff", "bone")
SHADES: tuple[ColourName, ...] = (*UNDER_LETTERS, "hollow", "tendon", "band")
SYSTEM = {"Canvas", "CanvasText", "LinkText", "GrayText"}


def lightness(colour: str) -> float:
    """Relative luminance (WCAG 2.2)."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4))
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((lightness(one), lightness(other)))
    return (light + 0.05) / (dark + 0.05)


def find_too_faint(colours: Mapping[ColourName, str]) -> Iterator[str]:
    """Letters under 4.5:1, strokes and what they mark under 3:1 (WCAG 2.2, 1.4.3 and 1.4.11)."""
    letters = [("line", ground) for ground in UNDER_LETTERS] + [("paper", "line"), ("paper", "ink")]
    strokes = [*product(("line",), SHADES), *product(("ink",), ("paper", "tint", "pale", "bone")), ("grey", "paper")]
    for wanted, pairs in ((4.5, letters), (3.0, strokes)):
        for one, other in pairs:
            found = contrast(colours[one], colours[other])  # type: ignore[index]
            if found < wanted:
                yield f"{one} on {other}: {found:.2f}, wanted {wanted}"


VERSIONS = {version.name: version for version in list_versions(list_colours(STYLE, DARK))}


@pytest.mark.parametrize("version", VERSIONS.values(), ids=VERSIONS)
def test_letters_and_lines_stand_out(version: Version) -> None:
    """On paper in ink and in grey, and on a screen in the light, which is as paper, and in the dark."""
    assert list(find_too_faint(version.colours)) == []


def test_light_is_as_on_paper() -> None:
    light = list_colours(STYLE)
    told = {name: colour if len(colour) == 7 else f"{colour}{colour[1:]}" for name, colour in light.items()}
    assert {name: colour.lower() for name, colour in told.items()} == {n: c.lower() for n, c in ON_PAPER.items()}


def test_a_faint_colour_is_found() -> None:
    dark = list_colours(STYLE, DARK)
    assert list(find_too_faint({**dark, "tint": "#74bdec"})) == [
        "line on tint: 1.78, wanted 4.5",
        "line on tint: 1.78, wanted 3.0",
        "ink on tint: 1.00, wanted 3.0",
    ]
    assert contrast("#000", "#ffffff") == 21


def test_dark_and_forced_colours_name_every_colour_anew() -> None:
    """One that is left out would be that of white paper. The reader's own colours are named, never told."""
    ours = set(re.findall(r"--([a-z-]+):", STYLE.partition("}")[0])) - {"hatch"}
    for condition, left in ((DARK, set()), (FORCED, {"ink"})):  # a browser tells links and headings apart by itself
        block = STYLE[STYLE.index(f"({condition})") :].partition("}")[0]
        assert set(re.findall(r"--([a-z-]+):", block)) == ours - left
    assert set(list_colours(STYLE, FORCED).values()) <= SYSTEM


def test_a_style_without_a_colour_is_refused() -> None:
    with pytest.raises(ValueError, match="no --picture-band"):
        list_colours(STYLE.replace("--picture-band", "--picture-hand"))


SAMPLES = {f"{k} {name}": picture for k, (name, picture) in enumerate(sample_pictures(library()))}


@for_each("picture", SAMPLES)
def test_no_colour_of_paper_is_left_in_a_picture(picture: Picture) -> None:
    svg = put_on_screen(draw(picture, prefix="t"))
    assert not LITERAL.search(svg)
    assert set(re.findall(r' (?:fill|stroke)="([^"]*)"', svg)) <= {"none", *ON_SCREEN.values()}


def test_a_colour_of_paper_is_found() -> None:
    for told in ('fill="#fff"', 'stroke="#0072B2"', 'style="fill:rgb(0, 0, 0)"', 'fill="black"'):
        assert LITERAL.search(f"<path {told}/>")
    assert not LITERAL.search('<path fill="var(--paper, Canvas)" stroke="currentColor"/>')


@pytest.mark.rest
def test_no_page_holds_a_picture_in_the_colours_of_paper(built_site: Path) -> None:
    """The display is paper on a wall; every other page goes with the screen."""
    pages = [p for p in sorted(built_site.rglob("*.html")) if "display" not in p.parts]
    pictures = {p: re.findall(r"<svg.*?</svg>", p.read_text("utf-8"), re.DOTALL) for p in pages}
    assert sum(map(len, pictures.values())) > 200
    assert [str(p.relative_to(built_site)) for p, svgs in pictures.items() if any(map(LITERAL.search, svgs))] == []
