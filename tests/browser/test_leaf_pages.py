"""A browser puts the leaf on the same two pages as the command line, each part as high as reckoned, all in sight."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest
from leaf_boxes import compare, leaf_alone, list_reckoned
from leaf_rows import HIGHER_MM, LOWER, ROWS, plan
from playwright.sync_api import Browser, Page
from site_under_test import PROJECT

from fingerpost.desk.bundle import write_print_css
from fingerpost.make.handout_html import write_html
from fingerpost.make.pdf import read_templates
from fingerpost.make.templates import make_environment

HEIGHTS = """() => [...document.querySelectorAll('.side .part')].map(part =>
    (part.getBoundingClientRect().height + parseFloat(getComputedStyle(part).marginBottom)) * 25.4 / 96)"""


@pytest.mark.parametrize("name", ROWS)
def test_a_browser_puts_the_leaf_on_two_pages(browser: Browser, tmp_path: Path, name: str) -> None:
    handout = leaf_alone(plan(name))
    html = write_html(make_environment(read_templates(PROJECT / "templates")), handout)
    styles = write_print_css(PROJECT)
    page = browser.new_page()
    page.set_content(html.replace("<head>", f"<head><style>{styles}</style>", 1))
    page.emulate_media(media="print")
    page.evaluate("document.fonts.ready")
    page.add_style_tag(content=f"body {{ width: {185 if handout.paper == 'Letter' else 179}mm; margin: 0; }}")
    heights = compare(list_reckoned(handout), page.evaluate(HEIGHTS))
    (tmp_path / "leaf.pdf").write_bytes(page.pdf(prefer_css_page_size=True))
    page.close()
    told = subprocess.run(["pdfinfo", str(tmp_path / "leaf.pdf")], capture_output=True, text=True, check=True).stdout
    found = re.search(r"Pages:\s+(\d+)", told)
    assert found
    assert found[1] == "2"
    assert not [h for h in heights if h.set_mm > h.reckoned_mm + HIGHER_MM]
    assert sum(h.set_mm for h in heights) > (1 - LOWER) * sum(h.reckoned_mm for h in heights)


PLACES = """() => [...document.querySelectorAll('.side')].flatMap(side => {
    const paper = side.getBoundingClientRect(), mm = 179 / paper.width;
    return [...side.querySelectorAll('h1, h2, h3, p, li, figure, figcaption, th, td')].map(part => {
        const at = part.getBoundingClientRect();
        return [part.textContent.trim().slice(0, 40), (at.left - paper.left) * mm, (at.top - paper.top) * mm];
    });
})"""
ASIDE_MM, BELOW_MM = 3.0, 15.0
"""So far may a part stand from where it stands at full size: letters are rounded, and one line more pushes the rest."""


def show(browser: Browser, name: str, styles: str) -> Page:
    handout = leaf_alone(plan(name))
    html = write_html(make_environment(read_templates(PROJECT / "templates")), handout)
    page = browser.new_page(viewport={"width": 1200, "height": 900})
    page.set_content(html.replace("<head>", f"<head><style>{styles}</style>", 1))
    page.evaluate("document.fonts.ready")
    return page


def find_moved(page: Page) -> list[tuple[float, str]]:
    """What stands elsewhere once the screen is zoomed, with the zoom."""
    full = page.evaluate(PLACES)
    found = []
    for percent in range(30, 126, 5):
        page.evaluate(f"document.documentElement.style.setProperty('--zoom', {percent / 100})")
        for (words, left, top), (_, left_now, top_now) in zip(full, page.evaluate(PLACES), strict=True):
            if abs(left - left_now) > ASIDE_MM or abs(top - top_now) > BELOW_MM:
                found.append((percent / 100, words))
    return found


@pytest.mark.parametrize("name", ROWS)
def test_nothing_of_a_leaf_slips_away_when_the_screen_is_zoomed(browser: Browser, name: str) -> None:
    """A field that breaks to the next line is cut off there: once no grip under 'No' was to be seen."""
    page = show(browser, name, write_print_css(PROJECT))
    assert find_moved(page) == []
    page.close()


def test_a_field_that_slips_away_is_found(browser: Browser) -> None:
    """The last field as a float, in all the room that there is but a fiftieth of a millimetre."""
    page = show(browser, "pulley on the wall", write_print_css(PROJECT))
    page.evaluate("""() => document.querySelectorAll(".grips .field:last-child").forEach(field => {
        const room = field.parentElement.getBoundingClientRect().right - field.getBoundingClientRect().left - 1;
        field.style.cssText += `; float: left; margin-left: 0; width: ${room - 0.08}px`;
    })""")
    assert find_moved(page)
    page.close()
