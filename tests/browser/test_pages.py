"""The site as a reader meets it: from a folder, on a phone and at a desk, in the dark, by keyboard, on paper."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Browser, Page
from site_under_test import DISPLAY, whole_site

Opener = Callable[..., Page]
SITE = whole_site()
PULLEY = "injuries/pulley/"


def is_shown(page: Page, selector: str) -> bool:
    return any(item.is_visible() for item in page.locator(selector).all())


def unfold(page: Page) -> None:
    page.evaluate("document.querySelectorAll('.page details').forEach((fold) => { fold.open = true; })")


def test_pages_open_from_a_folder_ask_for_no_other_place_and_fit(browser: Browser, built_site: Path) -> None:
    """And keeps nothing: no cookie, no storage."""
    trouble: list[str] = []
    context = browser.new_context(viewport={"width": 320, "height": 700})
    page = context.new_page()
    page.on("console", lambda message: trouble.append(message.text))
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.on("requestfailed", lambda request: trouble.append(f"{request.url}: {request.failure}"))
    home = built_site.as_uri() + "/"
    page.on("request", lambda request: None if request.url.startswith(home) else trouble.append(request.url))
    page.goto(f"{home}index.html")
    page.wait_for_load_state("networkidle")
    for address in [*(page.address for page in SITE.pages), DISPLAY, "404.html"]:
        page.goto(f"{home}{address}{'' if address.endswith('.html') else 'index.html'}")
        widest = page.evaluate("document.documentElement.scrollWidth")
        assert widest <= 320, f"{address} is {widest} wide on a screen of 320"
    assert page.evaluate("localStorage.length + sessionStorage.length + document.cookie.length") == 0
    left_behind = "net::ERR_ABORTED"  # the next page was opened before the icon of the last one had come
    assert [what for what in trouble if not what.endswith(left_behind)] == []
    context.close()


def test_single_letters_are_not_commands(open_page: Opener) -> None:
    page = open_page(PULLEY)
    page.wait_for_load_state("networkidle")
    for key in "sf/npk.,":
        page.keyboard.press(key)
    page.wait_for_timeout(100)
    assert page.evaluate("document.activeElement.tagName") == "BODY"
    assert page.url.endswith("injuries/pulley/index.html")


def test_the_menu_opens_with_the_keyboard_on_a_phone(open_page: Opener) -> None:
    page = open_page("grips/", 390)
    assert not is_shown(page, ".menu")
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert is_shown(page, ".menu a")
    page.locator(".head-menu .menu a", has_text="Taping").click()
    page.wait_for_url("**/tapings/index.html")


def test_pages_can_be_read_without_scripts(browser: Browser, built_site: Path) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(f"{built_site.as_uri()}/{PULLEY}index.html")
    assert not page.locator(".search").is_visible()
    page.locator(".head-menu summary").click()
    assert page.locator(".head-menu .menu").is_visible()
    context.close()


def test_lines_are_60_to_70_letters_long(open_page: Opener) -> None:
    page = open_page(PULLEY)
    unfold(page)
    per_line = page.evaluate(
        """() => [...document.querySelectorAll(".page p, .page li")].flatMap(p => {
            const range = document.createRange();
            range.selectNodeContents(p);
            const lines = new Set([...range.getClientRects()].map(r => Math.round(r.bottom / 8))).size;
            return lines >= 5 ? [p.textContent.length / (lines - 0.5)] : [];
        })"""
    )
    assert len(per_line) >= 5
    assert 55 <= sum(per_line) / len(per_line) <= 70
    assert max(per_line) <= 75


def test_grip_marks_differ_by_shape(open_page: Opener) -> None:
    page = open_page(PULLEY)
    shapes = {
        mark: page.evaluate(
            "mark => { const s = getComputedStyle(document.querySelector('.grip.' + mark), '::before');"
            " return s.backgroundImage + s.backgroundColor + s.printColorAdjust }",
            mark,
        )
        for mark in ("keep", "limit", "leave")
    }
    assert len(set(shapes.values())) == 3
    assert all(shape.endswith("exact") for shape in shapes.values())


def look_at_pictures(page: Page) -> set[tuple[str, str, str]]:
    """The part, fill and stroke of all that is drawn."""
    return {
        tuple(look)
        for look in page.evaluate(
            """[...document.querySelectorAll('.page svg path, .page svg text')].map(
                part => [part.tagName, getComputedStyle(part).fill, getComputedStyle(part).stroke])"""
        )
    }


def test_drawings_go_with_the_page_in_the_dark(open_page: Opener) -> None:
    """Lines and letters as the text, what hides lines as the ground, and nothing of white paper."""
    page = open_page(PULLEY, scheme="dark")
    ground, text = "rgb(20, 23, 26)", "rgb(239, 239, 239)"
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == ground
    looks = look_at_pictures(page)
    assert ("text", text, "none") in looks
    assert ("path", ground, text) in looks or ("path", ground, "none") in looks
    assert not {colour for _, *colours in looks for colour in colours} & {"rgb(0, 0, 0)", "rgb(255, 255, 255)"}
    assert page.evaluate("getComputedStyle(document.querySelector('.drawing svg')).backgroundColor").endswith(", 0)")


def test_drawings_take_the_colours_that_a_reader_has_chosen(open_page: Opener) -> None:
    """Letters too: a number in a filled disc would else be lost in it."""
    page = open_page("exercises/", scheme="dark")
    page.emulate_media(forced_colors="active")
    ground, text = (
        page.evaluate(
            """colour => { const p = document.body.appendChild(document.createElement('p'));
            p.style.color = colour; const found = getComputedStyle(p).color; p.remove(); return found; }""",
            colour,
        )
        for colour in ("Canvas", "CanvasText")
    )
    looks = look_at_pictures(page)
    page.emulate_media(forced_colors="none")
    assert ("text", text, "none") in looks
    assert ("text", ground, "none") in looks, "the number of a frame stands on a disc of the text's colour"
    assert ("path", text, "none") in looks
    assert {fill for part, fill, _ in looks if part == "text"} == {ground, text}


def test_a_wide_table_scrolls_in_its_frame_and_keeps_its_first_column(open_page: Opener) -> None:
    page = open_page("grips/", 390)
    frame = page.locator(".table-frame.wide").first
    assert frame.evaluate("f => f.scrollWidth > f.clientWidth")
    before = frame.locator("tbody th").first.bounding_box()
    frame.evaluate("f => f.scrollLeft = 300")
    after = frame.locator("tbody th").first.bounding_box()
    assert before
    assert after
    assert abs(before["x"] - after["x"]) < 1


def test_a_wordy_table_is_stacked_on_a_phone_and_stays_a_table(open_page: Opener) -> None:
    page = open_page(PULLEY, 390)
    unfold(page)
    table = page.get_by_role("table", name="What can feel like").first
    assert table.evaluate("t => getComputedStyle(t).display") == "block"
    assert table.get_by_role("columnheader").count() == 4
    assert table.get_by_role("rowheader").count() >= 3
    # Said in so many words as well: laid out as blocks, it would be no table any more for some browsers.
    said = table.evaluate("t => [t, ...t.querySelectorAll('*')].map(part => part.getAttribute('role')).filter(Boolean)")
    assert set(said) == {"table", "rowgroup", "row", "columnheader", "rowheader", "cell"}


def test_an_emergency_is_in_sight_at_once_and_on_paper_nothing_is_folded_away(open_page: Opener) -> None:
    page = open_page(PULLEY, 390)
    box = page.locator(".box.warning")
    folds = box.locator(".fold")
    assert folds.count() > 4
    urgent = box.get_by_text("go to an emergency department now:")
    sign = box.get_by_text("The finger is crooked, turned or crosses another").first
    later = box.get_by_text("ask for an ultrasound scan")
    assert urgent.is_visible()
    assert sign.is_visible()
    places = [place.bounding_box() for place in (urgent, sign)]
    assert places[0]
    assert places[1]
    assert places[0]["y"] < places[1]["y"], "what to do stands above the signs"
    assert not later.is_visible()
    assert all(folds.nth(n).locator("summary").is_visible() for n in range(folds.count()))
    page.emulate_media(media="print")
    assert later.is_visible()


def test_a_table_that_says_a_chart_again_opens_without_a_script_and_stands_on_paper(
    browser: Browser, built_site: Path
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{built_site.as_uri()}/grips/index.html")
    table = page.locator(".fold-table table")
    assert not table.is_visible()
    page.locator(".fold-table summary").click()
    assert table.is_visible()
    page.locator(".fold-table summary").click()
    assert not table.is_visible()
    page.emulate_media(media="print")
    assert table.is_visible()
    context.close()


def test_on_paper_only_the_page_is_left(open_page: Opener) -> None:
    page = open_page(PULLEY, scheme="dark")
    page.emulate_media(media="print")
    assert not is_shown(page, "nav, header, .search, .on-page, .side, .foot-top")
    assert is_shown(page, "h1")
    assert is_shown(page, ".badge")
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"
    shown = page.evaluate(
        "getComputedStyle(document.querySelector('a[data-address^=\"injuries/\"]'), '::after').content"
    )
    assert "injuries/" in shown or "attr(data-address)" in shown
