"""Notices: readable from two metres, one page, one message; the code leads where the words beside it say."""

from __future__ import annotations

import dataclasses
import io
import re
import subprocess
from collections import Counter
from functools import cache
from math import atan, degrees
from pathlib import Path

import pytest
import zxingcpp
from pdf_gate import hearing, hidden, lettering, opinions, paper, tagging
from pdf_gate.document import Printed, Wanted
from PIL import Image
from site_under_test import PROJECT, make_templates, whole_library

from fingerpost.checks.texts.outside import MOST_LETTERS
from fingerpost.checks.texts.reading import grade_text
from fingerpost.checks.texts.urgency import list_meanings
from fingerpost.make import posters_html
from fingerpost.make.drawn.qr import LEAST_MODULE_MM, draw_code
from fingerpost.make.pdf import print_pdf
from fingerpost.model.case import ClinicSettings
from fingerpost.model.library import Library
from fingerpost.model.protocol import Notice
from fingerpost.plan.walls.notices import (
    CODE_MM,
    FLUENT_DEGREES,
    NOTICE_PAPERS,
    READING_M,
    X_HEIGHT,
    NoticePaper,
    NoticeSheet,
    break_evenly,
    letter_pt,
    plan_notice,
    plan_notices,
)
from fingerpost.problems import MakeError
from fingerpost.run import cli

pytestmark = pytest.mark.rest

GYM = ClinicSettings(name="Boulder Hall Thornmere", emergency_number="999", site_address="https://example.org/fingers/")
PROTOCOLS = [d.value for d in whole_library().protocols]
STEMS = [s.file_stem for s in plan_notices(whole_library())]
# Every notice once, and those with the longest words on the papers that leave least room; the larger are enlargements.
PRINTED = [s for s in STEMS if s.endswith("-a4")]
PRINTED += ["start-letter", "lumbrical-strain-letter", "collateral-sprain-letter", "flexor-strain-a3", "start-tabloid"]
MM = 72 / 25.4
EDGE_MM = 8.0  # what printers cannot reach
SMALLEST_PT = 14.0


def in_gym(gym: ClinicSettings = GYM) -> Library:
    return dataclasses.replace(whole_library(), clinic=gym)


@cache
def sheets(gym: ClinicSettings = GYM) -> dict[str, NoticeSheet]:
    return {sheet.file_stem: sheet for sheet in plan_notices(in_gym(gym))}


@cache
def printed(stem: str, gym: ClinicSettings = GYM) -> Printed:
    html = posters_html.write_notice(make_templates(), sheets(gym)[stem])
    return Printed(print_pdf(html, PROJECT, posters_html.NOTICE_STYLE))


def wanted(sheet: NoticeSheet) -> Wanted:
    texts = [*sheet.message, *(w for lines in sheet.look_for for w in lines), *sheet.do, *sheet.small]
    texts += [sheet.look_heading, sheet.do_heading, sheet.head, sheet.gym, sheet.version]
    return Wanted(
        paper=sheet.paper,
        print_size=14,
        title=sheet.title,
        language=sheet.language,
        head=sheet.head,
        foot="",
        page_words=("", ""),
        file_stem=sheet.file_stem,
        words=paper.count_words(texts),
    )


def read_codes(pdf: bytes) -> list[str]:
    """The codes on a page, as a phone would read them."""
    told = subprocess.run(["pdftoppm", "-gray", "-r", "100", "-png", "-"], input=pdf, capture_output=True, check=True)
    return [code.text for code in zxingcpp.read_barcodes(Image.open(io.BytesIO(told.stdout)))]


def test_there_is_a_notice_for_each_protocol_and_one_to_start_from_on_every_paper() -> None:
    assert len(PROTOCOLS) == 7
    names = {stem.rsplit("-", 1)[0] for stem in STEMS}
    assert names == {"start", *(p.id for p in PROTOCOLS)}
    assert len(STEMS) == len(set(STEMS)) == len(names) * len(NOTICE_PAPERS) == 32


def test_the_size_of_letters_follows_from_the_distance() -> None:
    assert letter_pt(2.0) == 40
    degrees_at = [degrees(atan((letter_pt(READING_M) - k) / 72 * 0.0254 * X_HEIGHT / READING_M)) for k in (0, 1)]
    assert degrees_at[0] >= FLUENT_DEGREES > degrees_at[1]
    assert {s.paper: s.letter_pt for s in sheets().values()} == {"A4": 40, "A3": 56.57, "Letter": 40, "Tabloid": 51.76}


def test_words_are_few_and_easy() -> None:
    written = [p.notice for p in PROTOCOLS if p.notice]
    assert len(written) == 7
    start = sheets()["start-a4"]
    said = [Notice(message=" ".join(start.message), look_for=tuple(map(" ".join, start.look_for)), do=start.do)]
    for notice in [*written, *said]:
        assert len(notice.message) <= MOST_LETTERS["message"]
        assert all(len(line) <= MOST_LETTERS["look_for"] for line in notice.look_for)
        assert all(len(line) <= MOST_LETTERS["do"] for line in notice.do)
    texts = [f"{line.rstrip('.')}." for n in written for line in (n.message, *n.look_for, *n.do)]
    assert grade_text(" ".join((*texts, *start.small, *sheets()["pulley-a4"].small))) <= 6


def test_no_wall_says_another_time_than_the_sheets() -> None:
    """What the notice to start from calls an emergency is one, and what can wait for hours stands apart from it."""
    start = plan_notice(in_gym(), None, "A4")
    assert start is not None
    assert start.look_heading == "Emergency: 999"
    for line in map(" ".join, start.look_for):
        meant = list_meanings(whole_library(), line)
        assert meant, f"no warning sign is told by '{line}'"
        assert all("emergency" in urgencies for urgencies in meant.values()), line
    for sheet in sheets().values():
        assert any("the same day" in line and "will not bend" in line for line in sheet.small)
        told = [line for line in sheet.small if "emergency" in line]
        assert not any("bend" in line or "ocked" in line for line in told)
    assert all("within days" in p.notice.do[-1] for p in PROTOCOLS if p.notice)


def test_a_message_breaks_where_its_lines_are_alike() -> None:
    assert break_evenly("Sudden pain in a crimp?") == ("Sudden pain", "in a crimp?")
    assert break_evenly("One line") == ("One line",)
    assert break_evenly("Unbreakablewordislong") == ("Unbreakablewordislong",)


@pytest.mark.parametrize("stem", PRINTED)
def test_a_notice_is_one_page_that_a_machine_has_nothing_against(stem: str) -> None:
    pdf, sheet = printed(stem), sheets()[stem]
    assert len(pdf.pdf.pages) == 1
    box = [float(n) for n in pdf.pdf.pages[0].obj["/MediaBox"]]
    assert box == pytest.approx([0, 0, sheet.size_mm[0] * MM, sheet.size_mm[1] * MM], abs=0.01)
    checks = (
        *opinions.ALL,
        tagging.language,
        tagging.figures_described,
        tagging.headings,
        tagging.all_tagged,
        lettering.fonts_allowed,
        lettering.fonts_embedded,
        lettering.text_level,
        lettering.ink_of_words,
        hidden.title_same,
        hidden.nothing_attached,
        paper.nothing_lost,
        *hearing.ALL,
    )
    assert [str(defect) for check in checks for defect in check(pdf, wanted(sheet))] == []


@pytest.mark.parametrize("stem", PRINTED)
def test_what_counts_is_readable_from_two_metres_and_nothing_is_small(stem: str) -> None:
    """The letters of the message are counted by size: a heading of 60 points and more, all else 40 and more."""
    sheet = sheets()[stem]
    sizes: Counter[float] = Counter()
    for text in printed(stem).contents[0].texts:
        sizes[round(text.size, 1)] += text.letters
    letters = sum(len(re.sub(r"\s", "", part)) for part in (*sheet.message,))
    assert sum(n for size, n in sizes.items() if size >= 60) >= letters
    rest = (sheet.look_heading, sheet.do_heading, *(w for lines in sheet.look_for for w in lines), *sheet.do)
    letters += sum(len(re.sub(r"\s", "", part)) for part in rest)
    assert sum(n for size, n in sizes.items() if size >= letter_pt(READING_M) - 0.05) >= letters
    assert min(sizes) >= SMALLEST_PT


@pytest.mark.parametrize("stem", PRINTED)
def test_nothing_lies_over_anything_or_too_near_the_edge(stem: str) -> None:
    sheet, (words,) = sheets()[stem], printed(stem).words
    for one, other in paper._overlaps(words):
        pytest.fail(f"'{one.text}' and '{other.text}' are printed over each other")
    width, height = (side * MM for side in sheet.size_mm)
    (ink,) = printed(stem).ink
    edge = int(EDGE_MM * MM / (width / ink.shape[1])) - 1
    assert not ink[:edge].any()
    assert not ink[-edge:].any()
    assert not ink[:, :edge].any()
    assert not ink[:, -edge:].any()
    boards = [w for w in words if w.text in {part for line in sheet.do for part in line.split()}]
    address = next(w for w in words if w.text.startswith("example.org"))
    assert max(w.bottom for w in boards if w.bottom - w.top > 40) < address.top + 0.35 * (address.bottom - address.top)
    assert address.bottom < height


@pytest.mark.parametrize("stem", PRINTED)
def test_the_code_leads_where_the_words_say(stem: str) -> None:
    sheet = sheets()[stem]
    name = stem.rsplit("-", 1)[0]
    right = "https://example.org/fingers/" + ("" if name == "start" else f"i/{name}/")
    assert read_codes(printed(stem).bytes) == [right] == [sheet.address]
    assert sheet.address_words == right.removeprefix("https://").rstrip("/")
    shown = [w.text for w in printed(stem).words[0]]
    assert sheet.address_words in shown


def module_mm(svg: str) -> float:
    width = re.search(r'width="([\d.]+)mm"', svg)
    side = re.search(r'viewBox="0 0 (\d+) ', svg)
    assert width
    assert side
    return float(width[1]) / int(side[1])


def test_a_module_of_the_code_is_half_a_millimetre_and_its_quiet_zone_is_four() -> None:
    svg = draw_code("https://example.org/fingers/i/pulley/", title="x", width_mm=CODE_MM)
    assert module_mm(svg) >= 0.75
    dark = re.findall(r"M(\d+) (\d+)h(\d+)v1", svg)
    side = int(re.search(r'viewBox="0 0 (\d+) ', svg)[1])  # type: ignore[index]
    assert min(int(x) for x, _, _ in dark) == min(int(y) for _, y, _ in dark) == 4
    assert max(int(x) + int(n) for x, _, n in dark) == max(int(y) + 1 for _, y, _ in dark) == side - 4
    longest = "https://example.org/" + "a" * 100
    assert module_mm(draw_code(longest, title="x", width_mm=CODE_MM)) >= LEAST_MODULE_MM
    with pytest.raises(ValueError, match="too long"):
        draw_code("https://example.org/" + "a" * 300, title="x", width_mm=CODE_MM)


@pytest.mark.parametrize("address", ["https://example.org/?who=me", "https://example.org/#me", "me", "file:///x/", ""])
def test_a_code_holds_only_the_address_of_a_page(address: str) -> None:
    with pytest.raises(ValueError, match="not the address"):
        draw_code(address, title="x", width_mm=CODE_MM)


def test_an_address_that_makes_no_code_is_a_message() -> None:
    gym = ClinicSettings(site_address="https://example.org/" + "a/" * 200)
    with pytest.raises(MakeError, match="too long"):
        posters_html.write_notice(make_templates(), sheets(gym)["pulley-a4"])


def test_without_an_address_there_is_a_line_to_write_it_on_and_no_code() -> None:
    nobody = ClinicSettings()
    for stem in ("pulley-a4", "start-letter"):
        pdf = printed(stem, nobody)
        assert len(pdf.pdf.pages) == 1
        assert read_codes(pdf.bytes) == []
        said = " ".join(w.text for w in pdf.words[0])
        assert "Read more at" in said
        assert "example" not in said
        assert "999" not in said
        do = {part for line in sheets(nobody)[stem].do for part in line.split()}
        boards = [w for w in pdf.words[0] if w.text in do and w.bottom - w.top > 40]
        below = [w for w in pdf.words[0] if w.text in ("Read", "version")]
        assert max(w.bottom for w in boards) <= min(w.top for w in below), "a board is printed over"


@pytest.mark.parametrize("tail", ["a" * 30 + "/", "climbing-" * 9 + "/"])
def test_a_long_address_still_fits(tail: str) -> None:
    gym = dataclasses.replace(GYM, site_address=f"https://example.org/{tail}")
    pdf = printed("collateral-sprain-letter", gym)
    assert len(pdf.pdf.pages) == 1
    assert list(paper._overlaps(pdf.words[0])) == []
    assert read_codes(pdf.bytes) == [f"https://example.org/{tail}i/collateral-sprain/"]


@pytest.mark.parametrize("key", ["message", "look_for", "do"])
@pytest.mark.parametrize("paper_name", ["A4", "Letter"])
def test_the_longest_lines_that_the_rules_allow_still_fit(key: str, paper_name: NoticePaper) -> None:
    """Words of the greatest length in every line: still one page, and nothing over anything else."""
    words = {
        "message": "Worse when it warms again?",
        "look_for": "Weak when gripping walls",
        "do": "Show it to somebody",
    }
    assert {k: len(v) for k, v in words.items()} == MOST_LETTERS
    given = words[key] if key == "message" else (words[key],) * 3
    protocol = PROTOCOLS[0]
    assert protocol.notice
    changed = dataclasses.replace(protocol, notice=dataclasses.replace(protocol.notice, **{key: given}))
    sheet = plan_notice(in_gym(), changed, paper_name)
    assert sheet
    pdf = Printed(print_pdf(posters_html.write_notice(make_templates(), sheet), PROJECT, posters_html.NOTICE_STYLE))
    assert len(pdf.pdf.pages) == 1
    assert [f"{a.text}/{b.text}" for a, b in paper._overlaps(pdf.words[0])] == []


def test_the_command_prints_all_or_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["--out", str(tmp_path), "notice", "start"]) == 0
    made = sorted(p.name for p in (tmp_path / "notices").iterdir())
    assert made == ["start-a3.pdf", "start-a4.pdf", "start-letter.pdf", "start-tabloid.pdf"]
    assert cli.main(["--out", str(tmp_path), "notice", "puley"]) == 1
    assert "Did you mean 'pulley'?" in capsys.readouterr().out
