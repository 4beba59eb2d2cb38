"""A browser puts the leaf on the same two pages as the command line, each part as high as it was reckoned."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest
from leaf_boxes import compare, leaf_alone, list_reckoned
from leaf_rows import HIGHER_MM, LOWER, ROWS, plan
from playwright.sync_api import Browser
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
