"""The way in as people use it: by thumb on a phone, by keyboard, by screen reader, without a script, from a folder.

- red flags: each opens one full answer and ends the questions, in two taps, without a script, on paper
- how long the first page is, and where flags, hand and results stand on it
- ten climbers, and the script held against plain Python
- the address, places to touch, keyboard, names and states for a screen reader
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Browser, Locator, Page
from way_in_oracle import PRESENTATIONS, answers_of, lay_out

from fingerpost.model.audience import MARK, flat
from fingerpost.model.library import Library
from fingerpost.model.words import split_sentences

Opener = Callable[..., Page]
CLIMBERS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "ten_climbers.yml").read_text(encoding="utf-8")
)
PHONE = {"width": 390, "height": 844}


@pytest.fixture(scope="module")
def phone(browser: Browser, built_site: Path) -> Iterator[Page]:
    """The home page on a phone that is touched, opened once from its file. Each test begins again."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True)  # type: ignore[arg-type]
    context.set_default_timeout(5000)
    page = context.new_page()
    page.goto(f"{built_site.as_uri()}/index.html")
    yield page
    context.close()


@pytest.fixture
def fresh(phone: Page, built_site: Path) -> Page:
    phone.goto(f"{built_site.as_uri()}/index.html")
    phone.reload()
    return phone


def group(page: Page, name: str) -> list[str]:
    cards = page.locator(f"[data-group={name}] [data-page]")
    return [card.get_attribute("data-page") or "" for card in cards.all()]


def choice(page: Page, value: str) -> Locator:
    return page.locator(f'.way-choice:has(input[value="{value}"]):visible')


def area(page: Page, sign: str) -> Locator:
    """The place on the drawings that stands for a sign."""
    return page.locator(f'.touch-area[data-sign="{sign}"]').first


def touch(page: Page, sign: str) -> None:
    """Touch the middle of what is drawn, on the ring finger where all four are meant."""
    view = area(page, sign).evaluate("e => e.closest('.touch-figure').className.split(' ').pop()")
    page.locator(f".touch-views label:has([value={view}])").tap()
    drawn = area(page, sign).locator(".touch-edge path")
    one = drawn.nth(1) if drawn.count() > 1 else drawn
    one.scroll_into_view_if_needed()
    box = one.bounding_box()
    assert box
    across = 0.1 if sign == "all-round-joint" else 0.5  # the ring, not what lies inside it
    page.touchscreen.tap(box["x"] + across * box["width"], box["y"] + box["height"] / 2)


def helps(page: Page) -> set[str]:
    """The signs of every way to an answer that shows."""
    boxes = page.locator(".way-help:visible").all()
    return {sign for box in boxes for sign in (box.get_attribute("data-signs") or "").split()}


def walk(page: Page, climber: dict[str, Any]) -> None:
    """Everything that one climber touches, from the top of the page to its foot."""
    if climber["warning"] == "none":
        choice(page, "!warning").tap()
    elif climber["warning"] != "skipped":
        look_at_flag(page, climber["warning"])
    for sign in climber["touch"]:
        touch(page, sign)
    for sign in climber["began"]:
        choice(page, sign).tap()
    choice(page, "growing" if climber["young"] else "!growing").tap()
    answer(page, climber["said"])


def look_at_flag(page: Page, flag: str) -> None:
    """A red flag opens its answer, nothing else is left to read or to answer, and it leads back."""
    page.locator(f".flag-strip a[href='#flag-{flag}']").tap()
    assert page.locator(f"#flag-{flag} .flag-order").is_visible()
    assert page.locator(".flag-answer:visible").count() == 1
    assert not page.locator(".way-choice:visible, .touch-area:visible, .way-page:visible").count()
    page.locator(f"#flag-{flag}").get_by_role("link", name="This is not true of me").tap()
    assert page.locator(".flag-answer:visible").count() == 0


def answer(page: Page, said: dict[str, bool]) -> None:
    """One question at a time: what the climber has something to say to, and "don't know" to the others."""
    left = dict(said)
    for _ in range(20):
        if not left:
            return
        question = page.locator(".part-asked .way-form > [data-asked]:visible")
        assert question.count() == 1, f"nobody asks about {list(left)}"
        sign = question.get_attribute("data-question") or ""
        value = "" if sign not in left else sign if left.pop(sign) else f"!{sign}"
        question.locator(f'.way-choice:has(input[value="{value}"])').tap()
    raise AssertionError(f"nobody asks about {list(left)}")


def flat_text(shown: str) -> str:
    """What is shown, on one line and without marks."""
    return " ".join(re.sub(r"\s*\[\w+\]", "", shown).split())


@pytest.mark.parametrize(("width", "height", "most"), [(1366, 900, 2.5), (390, 844, 4.5)])
def test_the_first_page_is_short_and_begins_with_flags_and_hand(
    browser: Browser, built_site: Path, width: int, height: int, most: float
) -> None:
    """In screens, with nothing chosen. The names of the pages that fit come within two, and nothing lies over them."""
    page = browser.new_page(viewport={"width": width, "height": height})
    page.goto(f"{built_site.as_uri()}/index.html")
    assert page.evaluate("document.documentElement.scrollHeight") <= most * height

    def top(where: str) -> float:
        return float(page.evaluate("s => document.querySelector(s).getBoundingClientRect().top + scrollY", where))

    assert top(".part-warning .flag-group:last-child li:last-child") < height - 150
    assert top(".touch-palm svg") < height - 150, "the fingers of the hand are in the first screen"
    page.goto(f"{built_site.as_uri()}/index.html#base-palm-side+sudden-onset+!growing")
    assert "Pulley injury" in page.locator(".way-so-far").inner_text()
    assert top(".way-so-far") < 2 * height
    over = "[...document.querySelectorAll('.page *')].filter(e => /fixed|sticky/.test(getComputedStyle(e).position))"
    assert page.evaluate(f"{over}.length") == 0
    page.close()


def test_a_hot_swollen_finger_with_fever_has_its_answer_in_two_taps(fresh: Page) -> None:
    fresh.get_by_role("link", name="Swelling with fever").tap()
    order = fresh.get_by_role("heading", name="Go to an emergency department now.").locator("visible=true")
    box = order.bounding_box()
    assert box
    assert 0 <= box["y"] < 400
    assert fresh.get_by_text("Or call your local emergency number").locator("visible=true").count() == 1


def test_on_paper_every_answer_stands_open(browser: Browser, built_site: Path, library: Library) -> None:
    page = browser.new_page()
    page.goto(f"{built_site.as_uri()}/index.html")
    page.emulate_media(media="print")
    assert page.locator(".flag-order:visible").count() == len(library.vocabularies.warning_signs)
    page.close()


def test_there_are_ten_climbers() -> None:
    assert len(CLIMBERS) == 10
    assert all(climber["physio"] for climber in CLIMBERS)


@pytest.mark.parametrize("climber", CLIMBERS, ids=lambda c: c["name"].split()[0])
def test_a_climber_gets_where_a_careful_physio_would_have_sent_them(
    climber: dict[str, Any], fresh: Page, library: Library
) -> None:
    walk(fresh, climber)
    assert group(fresh, "front")[0] == climber["first"]
    assert group(fresh, "front") == climber["front"]
    known = {w.id: set(w.signs) for w in library.vocabularies.warning_signs}
    assert helps(fresh) == set().union(*(known[h] for h in climber["help"]))
    assert fresh.locator(".way-so-far").inner_text().startswith(climber["so_far"])
    assert fresh.evaluate("document.documentElement.scrollWidth") <= 390
    every = group(fresh, "front") + group(fresh, "near") + group(fresh, "rest")
    assert sorted(every) == sorted(c.id for c in library.conditions), "every page stays reachable"


def test_the_script_lays_out_as_plain_python_does(phone: Page, built_site: Path, library: Library) -> None:
    """All textbook presentations and all climbers, told to the page by its address."""
    asked = [(v["there"], v["absent"]) for v in PRESENTATIONS]
    asked += [(["base-palm-side"], []), (["gradual-onset"], []), ([], ["growing"]), (["growing"], []), ([], [])]
    asked += [(["sudden-onset", "base-palm-side", "worse-crimping", "eases-with-warm-up"], ["growing"])]
    known = set(phone.evaluate("[...document.querySelectorAll('.way-choice input')].map(i => i.value)"))
    for there, absent in asked:
        told = [a for a in answers_of(there, absent) if a in known]
        yes, no = [a for a in told if not a.startswith("!")], [a[1:] for a in told if a.startswith("!")]
        phone.goto(f"{built_site.as_uri()}/index.html#{'+'.join(told)}")
        found = {name: group(phone, name) for name in ("front", "near")}
        assert found == lay_out(library, yes, no), told


def test_each_page_comes_to_the_front_by_its_own_signs(phone: Page, built_site: Path, library: Library) -> None:
    for condition in library.conditions:
        places = [s.id for s in library.vocabularies.signs if s.spot]
        sign = next(s for s in (*condition.signs.usual, *condition.signs.sometimes) if s in places)
        phone.goto(f"{built_site.as_uri()}/index.html#{sign}")
        assert condition.id in group(phone, "front")


def test_a_yes_to_an_urgent_sign_always_ends_at_help(phone: Page, built_site: Path, library: Library) -> None:
    """Whatever else was said: the line under the hand and the first of what is found lead to a full answer."""
    known = set(phone.evaluate("[...document.querySelectorAll('.way-choice input')].map(i => i.value)"))
    urgent = {
        s for w in library.vocabularies.warning_signs if w.urgency in ("emergency", "same-day") for s in w.signs
    } & known
    assert "wound-or-bite" in urgent
    for sign in sorted(urgent):
        for others in ("", "+!growing+base-palm-side+sudden-onset+worse-crimping", "+growing"):
            phone.goto(f"{built_site.as_uri()}/index.html#{sign}{others}")
            assert sign in helps(phone)
            first = phone.locator(".way-so-far a")
            assert first.count() == 1
            address = first.get_attribute("href") or ""
            assert address.startswith("#flag-")
            assert (
                phone.locator(f"{address} .flag-order").inner_text().startswith(("Go to an emergency", "See a doctor"))
            )


def test_reasons_are_told_for_and_against(phone: Page, built_site: Path) -> None:
    phone.goto(f"{built_site.as_uri()}/index.html#!growing+base-palm-side+worse-crimping+!eases-with-warm-up")
    phone.locator("details[data-group=rest] > summary").tap()
    card = phone.locator("[data-page=sheath-irritation]")
    told = {
        r.locator("p").inner_text(): r.locator("ul").inner_text() for r in card.locator(".way-reason:visible").all()
    }
    assert told["Fits sometimes:"].startswith("Sore on the palm side of the first segment")
    assert told["Usual here, but not with you:"] == "It eases as you warm up"
    apart = phone.locator(".way-apart")
    phone.goto(f"{built_site.as_uri()}/index.html#!growing+base-palm-side+worse-crimping")
    assert "This speaks for: Irritated tendon sheath" in apart.inner_text()
    phone.get_by_role("link", name="Pulley injury of the finger, or Irritated tendon sheath?").click()
    assert phone.url.endswith("/apart/pulley-sheath-irritation/index.html")


def test_answers_stand_in_the_address_and_nowhere_else(fresh: Page, library: Library) -> None:
    walk(fresh, CLIMBERS[0])
    fragment = fresh.url.partition("#")[2]
    signs = {s.id for s in library.vocabularies.signs} | {"warning"}
    assert fragment
    assert {part.removeprefix("!") for part in fragment.split("+")} <= signs
    assert fresh.evaluate("localStorage.length + sessionStorage.length + document.cookie.length") == 0
    look_at_flag(fresh, "odd-angle")
    # A link within the page does not lose the answers: its own place stands in the address for a moment only.
    fresh.wait_for_function("fragment => location.hash === `#${fragment}`", arg=fragment)
    fresh.reload()
    assert group(fresh, "front") == ["pulley"]
    fresh.get_by_role("button", name="Begin again").tap()
    assert "#" not in fresh.url
    assert group(fresh, "front") == []


def test_an_address_of_rubbish_is_left_alone(phone: Page, built_site: Path) -> None:
    for rubbish in ("#<img src=x onerror=alert(1)>", "#constructor+__proto__", "#%E0%A4%A", "#nothing-of-ours"):
        phone.goto("about:blank")
        phone.goto(f"{built_site.as_uri()}/index.html{rubbish}")
        assert group(phone, "front") == []
        assert phone.locator(".way-question").first.is_visible()


def test_places_are_large_enough_for_a_sore_finger(fresh: Page) -> None:
    """WCAG 2.5.8: at least 24 by 24 pixels; choices are as high as a thumb."""
    for view in fresh.locator(".touch-views label").all():
        view.tap()
        assert fresh.locator(".touch-figure:visible").count() == 1
        for reach in fresh.locator(".touch-reach:visible").all():
            box = reach.bounding_box()
            assert box
            assert box["width"] >= 24, reach.evaluate("e => e.parentNode.dataset.sign")
            assert box["height"] >= 24, reach.evaluate("e => e.parentNode.dataset.sign")
    for flag in fresh.locator(".flag-strip a:visible").all():
        box = flag.bounding_box()
        assert box
        assert box["height"] >= 40
    for label in fresh.locator(".way-choice:visible").all():
        box = label.bounding_box()
        assert box
        assert box["height"] >= 44


def test_marking_and_unmarking_a_place(fresh: Page) -> None:
    for _ in range(2):
        touch(fresh, "deep-in-palm")
        assert area(fresh, "deep-in-palm").get_attribute("aria-pressed") == "true"
        assert fresh.locator(".way-marked").inner_text() == "Sore deep in the palm, between the long bones"
        fresh.get_by_text("The same places as a list").tap()
        box = fresh.locator("input[value=deep-in-palm]")
        assert box.is_checked()
        fresh.get_by_text("The same places as a list").tap()
        touch(fresh, "deep-in-palm")
        assert area(fresh, "deep-in-palm").get_attribute("aria-pressed") == "false"
    assert not fresh.locator(".way-marked").is_visible()


def test_by_keyboard_alone(open_page: Opener) -> None:
    """Tab to a place, mark it with the space bar; arrows choose an answer; the focus shows."""
    page = open_page("")
    reached: list[str] = []
    for _ in range(200):
        page.keyboard.press("Tab")
        sign = page.evaluate("document.activeElement.dataset?.sign || document.activeElement.value || ''")
        reached.append(sign)
        if sign == "!warning":
            page.keyboard.press("Space")
        if sign == "base-palm-side" and page.evaluate("document.activeElement.tagName") == "a":
            edge = page.evaluate(
                "getComputedStyle(document.activeElement.querySelector('.touch-edge path')).strokeDasharray"
            )
            assert edge == "none", "the place that has the focus shows it"
            page.keyboard.press("Space")
            break
    assert {"!warning", "base-palm-side"} <= set(reached)
    assert group(page, "front")[0] == "pulley"
    page.locator(".part-asked [data-asked]:visible input").first.focus()
    page.keyboard.press("Space")
    assert page.evaluate("location.hash").count("+") == 2
    page.locator(".flag-strip a").nth(1).focus()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "flag-fever-spreading-redness"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.locator(".touch-map").is_visible(), "it leads back"
    assert page.evaluate("location.hash").count("+") == 2, "and keeps the answers"


def test_a_screen_reader_hears_names_and_states(open_page: Opener) -> None:
    page = open_page("")
    button = page.locator(".touch-palm").get_by_role("button", name="Sore deep in the palm, between the long bones")
    assert button.count() == 1
    assert button.get_attribute("aria-pressed") == "false"
    drawing = page.get_by_role("group", name="The palm of a hand, with places to touch.")
    assert drawing.count() == 1
    assert page.get_by_role("group", name="Are you under 18?").get_by_role("radio", name="Yes").count() == 1
    assert page.get_by_role("checkbox", name="With a pop or a snap").count() == 1
    assert page.get_by_role("status").count() >= 1
    unnamed = page.evaluate("[...document.querySelectorAll('.touch-area')].filter(a => !a.ariaLabel).length")
    assert unnamed == 0


def test_without_a_script_it_is_a_plain_list_of_the_same(browser: Browser, built_site: Path, library: Library) -> None:
    context = browser.new_context(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(f"{built_site.as_uri()}/index.html")
    assert not page.locator(".way-form:visible").count()
    for sign in library.vocabularies.signs:
        if sign.spot:
            part = page.locator(f"#place-{sign.id}")
            assert part.is_visible()
            fits = [c for c in library.conditions if sign.id in (*c.signs.usual, *c.signs.sometimes)]
            assert part.locator("ul a").count() == len(fits)
    page.locator(".touch-views label:has([value=touch-back])").click()
    page.locator('.touch-area[data-sign="knuckle-back"]').first.click()
    assert page.url.endswith("#place-knuckle-back")
    for warning in library.vocabularies.warning_signs:
        if warning.urgency != "routine":
            page.locator(".flag-strip").get_by_text(warning.choice or "", exact=True).click()
            shown = flat_text(page.locator(".page").inner_text())
            assert all(s in shown for s in split_sentences(MARK.sub("", flat(warning.do)))), warning.id
            assert not page.locator(".way-plain:visible").count(), "the questions end here"
            page.get_by_text("This is not true of me").locator("visible=true").click()
    page.locator("#place-knuckle-back").get_by_role("link", name="Tendon slipping off the knuckle").click()
    assert page.url.endswith("/injuries/sagittal-band/index.html")
    context.close()


def test_the_script_is_small_and_only_on_its_page(built_site: Path, project: Path) -> None:
    script = (project / "site_overrides" / "assets" / "javascripts" / "way_in.js").read_text("utf-8")
    assert len(script.splitlines()) < 200
    for word in ("fetch(", "XMLHttpRequest", "Storage", "cookie", "eval(", "innerHTML", "import "):
        assert word not in script
    holding = [p for p in built_site.rglob("*.html") if "way_in.js" in p.read_text("utf-8")]
    assert [p.relative_to(built_site).as_posix() for p in holding] == ["index.html"]


def test_nothing_reads_like_a_number_that_ranks(phone: Page, built_site: Path) -> None:
    phone.goto(f"{built_site.as_uri()}/index.html#!growing+base-palm-side+worse-crimping+sudden-onset")
    for text in phone.locator(".way-page, .way-apart, .way-so-far, .way-group h3").all_inner_texts():
        assert not [letter for letter in text.replace("A2, A3, A4", "").replace("18 or older", "") if letter.isdigit()]
        assert "%" not in text
