"""A table of edits, each a commit in a real git history, with all that the change means.

- what each edit means, and which way it leans
- what only looks otherwise
- which pages and sheets a change reaches
- renamed protocols, and new sources in front of others
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from upkeep_world import (
    FOREARM,
    Edit,
    Files,
    add_branches,
    copy_files,
    entry,
    make_files,
    stage,
    start_history,
    write_files,
)

from fingerpost.changes.report import Report
from fingerpost.maintain import upkeep

pytestmark = pytest.mark.rest

LESS, MORE, JUDGE, FOLLOWS, WORDING = "less-cautious", "more-cautious", "to-judge", "follows", "wording"
Expected = list[tuple[str, str]]


def window(files: Files, where: str, grade: int, **times: str) -> None:
    stage(files, where)["windows"][grade].update(times)


def swap(files: Files, key: str, old: str, new: str) -> None:
    assert old in files[FOREARM][key]
    files[FOREARM][key] = files[FOREARM][key].replace(old, new)


def move_grip(files: Files, where: str, grip: str, to: str, when: str = "") -> None:
    grips = stage(files, where)["grips"]
    for mark in ("keep", "leave"):
        grips[mark] = [g for g in grips[mark] if g != grip]
    for limit in grips["limit"]:
        limit["grips"] = [g for g in limit["grips"] if g != grip]
    grips["limit"] = [limit for limit in grips["limit"] if limit["grips"]]
    if to == "limit":
        grips["limit"].append({"grips": [grip], "when": when, "brief": when})
    else:
        grips[to].append(grip)


def do(*steps: Any) -> Edit:
    """Several changes in one edit."""

    def edit(files: Files) -> None:
        for step in steps:
            step(files)

    return edit


def change_layout(files: Files) -> None:
    """A comment, and keys in another order."""
    turned = dict(reversed(files[FOREARM].items()))
    files[FOREARM] = "# As it was, but for its looks.\n" + json.dumps(turned, indent=1, ensure_ascii=False) + "\n"


def rename_gate(files: Files) -> None:
    entry(files, "gates", "full-fist")["id"] = "whole-fist"
    gates = stage(files, "move")["gate"]
    gates[gates.index("full-fist")] = "whole-fist"
    retired = {"id": "full-fist", "now": "whole-fist", "since": "2026-12-01", "reason": "A better name."}
    files["shared/retired.yml"].append(retired)


def rename_protocol(files: Files) -> None:
    files["forearm-ache.yml"] = {**files.pop(FOREARM), "id": "forearm-ache"}
    retired = {"id": "forearm", "now": "forearm-ache", "since": "2026-12-01", "reason": "A better name."}
    files["shared/retired.yml"].append(retired)


MOVE, EASY = "stage 2 'move'", "stage 3 'easy-climbing'"
TABLE: dict[str, tuple[Edit, Expected]] = {
    "layout only": (change_layout, []),
    "signs in another order": (
        lambda f: f[FOREARM]["signs"]["usual"].reverse(),
        [(WORDING, "signs: the same signs in another order")],
    ),
    "14 days are 2 weeks": (
        lambda f: window(f, "move", 1, usual="2 weeks"),
        [(WORDING, f"{MOVE}, grade II: usually begins after 2 weeks, the same as 14 days")],
    ),
    "10 days become 14 days": (
        lambda f: window(f, "move", 0, usual="14 days"),
        [
            (MORE, f"{MOVE}, grade I: usually begins after 14 days, was 10 days (4 days later)"),
            (FOLLOWS, "stage 1 'settle', grade I: usually lasts 14 days, was 10 days (longer)"),
            (FOLLOWS, f"{MOVE}, grade I: usually lasts 7 days, was 11 days (shorter)"),
        ],
    ),
    "what is said to one grade": (
        lambda f: stage(f, "move")["daily_life"][1].update(says="Wear a splint day and night."),
        [
            (
                JUDGE,
                f"{MOVE}, daily life, for grade II: “Wear a splint at night.” is now “Wear a splint day and night.”",
            )
        ],
    ),
    "said to another grade too": (
        lambda f: stage(f, "move")["daily_life"].append({"for": {"grade": ["I"]}, "says": "Wear nothing."}),
        [(JUDGE, f"{MOVE}, daily life: new for grade I: “Wear nothing.”")],
    ),
    "said to no grade any more": (
        lambda f: stage(f, "move")["daily_life"].pop(),
        [(JUDGE, f"{MOVE}, daily life: gone for grade II: “Wear a splint at night.”")],
    ),
    "the earliest day comes sooner": (
        lambda f: window(f, "move", 1, earliest="7 days"),
        [(LESS, f"{MOVE}, grade II: begins at the earliest after 7 days, was 10 days (3 days earlier)")],
    ),
    "a maximal test gets its first day": (
        lambda f: window(f, "move", 1, maximal_test="12 weeks"),
        [(MORE, f"{MOVE}, grade II: a day is given for the maximal test, 12 weeks")],
    ),
    "three months are not 90 days": (
        lambda f: window(f, "full-climbing", 0, latest="90 days"),
        [
            (
                LESS,
                "stage 4 'full-climbing', grade I: begins at the latest after 90 days, was 3 months "
                "(about 1 day earlier)",
            )
        ],
    ),
    "a grip from leave to limit": (
        lambda f: move_grip(f, "easy-climbing", "full-crimp", "limit", "Only on flat holds."),
        [(LESS, f"{EASY}, grips: full-crimp is 'limit' now, was 'leave' (when: Only on flat holds.)")],
    ),
    "a grip from keep to leave": (
        lambda f: move_grip(f, "easy-climbing", "sloper", "leave"),
        [(MORE, f"{EASY}, grips: sloper is 'leave' now, was 'keep'")],
    ),
    "a condition without its 'only'": (
        lambda f: stage(f, "easy-climbing")["grips"]["limit"][0].update(when="On deep holds."),
        [
            (
                JUDGE,
                f"{EASY}, grips, condition of three-finger-drag, half-crimp, pinch, undercling, hand-crack: "
                "it no longer says “Only on deep holds with most of your weight on your feet.”",
            ),
            (
                JUDGE,
                f"{EASY}, grips, condition of three-finger-drag, half-crimp, pinch, undercling, hand-crack: "
                "it now also says “On deep holds.”",
            ),
        ],
    ),
    "a short condition without its feet": (
        lambda f: stage(f, "easy-climbing")["grips"]["limit"][0].update(brief="Only on deep holds."),
        [
            (
                JUDGE,
                f"{EASY}, grips, brief condition of three-finger-drag, half-crimp, pinch, undercling, hand-crack: "
                "it no longer says “Most of your weight on your feet.”",
            )
        ],
    ),
    "a verdict that lets people climb": (
        lambda f: stage(f, "move").update(verdict="Today: easy climbing", on_wall=True),
        [
            (LESS, f"{MOVE}, on wall: the stage is on the wall now"),
            (JUDGE, f"{MOVE}, verdict: it no longer says “Today: not on the wall.”"),
            (JUDGE, f"{MOVE}, verdict: it no longer says “Movement without load only”"),
            (JUDGE, f"{MOVE}, verdict: it now also says “Today: easy climbing”"),
        ],
    ),
    "more pain is accepted": (
        lambda f: stage(f, "move")["pain"].update(most=3),
        [(LESS, f"{MOVE}, pain: pain up to 3 out of 10 is accepted, was 2")],
    ),
    "a load where there was none": (
        lambda f: stage(f, "move").update(load={"least": 10, "most": 20, "source": "common-practice"}),
        [(LESS, f"{MOVE}, load: the finger is loaded now: 10 to 20 % of the baseline")],
    ),
    "the upper end of a load falls": (
        lambda f: stage(f, "easy-climbing")["load"].update(most=50),
        [(MORE, f"{EASY}, load: 20 to 50 % of the baseline, was 20 to 60 %")],
    ),
    "more sets of a pull": (
        lambda f: stage(f, "easy-climbing")["exercises"][-1].update(sets=5),
        [(LESS, f"{EASY}, exercise four-finger-pull: 5 sets, was 3")],
    ),
    "more sets of an exercise without load": (
        lambda f: stage(f, "move")["exercises"][0].update(sets=2),
        [(JUDGE, f"{MOVE}, exercise tendon-glides: 2 sets, was 1")],
    ),
    "a gate goes and another comes": (
        lambda f: stage(f, "move").update(gate=["daily-life-painless", "full-straight"]),
        [(LESS, f"{MOVE}, gate: full-fist is gone"), (MORE, f"{MOVE}, gate: full-straight is new")],
    ),
    "tape for fewer": (
        lambda f: stage(f, "easy-climbing")["taping"][0].update(
            {"for": {"grade": ["II"], "place": ["flexor-muscles"]}}
        ),
        [
            (
                LESS,
                f"{EASY}, taping: h-strip is for grade II, place flexor-muscles, was for grade II",
            )
        ],
    ),
    "a warning sign goes": (
        lambda f: f[FOREARM]["warning_signs"].remove("tight-after-crush"),
        [(LESS, "warning signs: tight-after-crush is gone")],
    ),
    "a look-alike goes": (
        lambda f: f[FOREARM].update(look_alikes=[]),
        [(LESS, "look alikes: flexor-strain is gone")],
    ),
    "a sign no longer speaks against it": (
        do(
            lambda f: f[FOREARM]["signs"]["does_not_fit"].remove("heard-pop"),
            lambda f: f[FOREARM]["signs"]["sometimes"].append("heard-pop"),
        ),
        [(LESS, "signs: heard-pop: sometimes, was does not fit")],
    ),
    "a source is read further": (
        lambda f: f["shared/sources.yml"][0].update(seen="full"),
        [(JUDGE, "seen: read further now: full, was abstract")],
    ),
    "a figure changes": (
        lambda f: f[FOREARM]["facts"][0].update(
            says=f[FOREARM]["facts"][0]["says"].replace("1 to 3 days", "2 to 4 days")
        ),
        [
            (
                JUDGE,
                "facts, how-long, says: "
                "“Muscle ache after hard work is often worst after 1 to 3 days [common-practice].” is now "
                "“Muscle ache after hard work is often worst after 2 to 4 days [common-practice].”",
            )
        ],
    ),
    "a grade goes to the surgeon": (
        lambda f: f[FOREARM]["grades"][1].update(treated_by="surgeon"),
        [(MORE, "grades, II, treated by: surgeon now, was doctor-and-therapist")],
    ),
    "a slip of the pen": (
        lambda f: (
            swap(f, "summary", "In days", "in days")
            if "In days" in f[FOREARM]["summary"]
            else swap(f, "summary", "sore and stiff", "sore, and stiff")
        ),
        [
            (
                WORDING,
                "summary: “After a hard day they can be sore and stiff.” is now "
                "“After a hard day they can be sore, and stiff.”",
            )
        ],
    ),
    "a sentence turns round": (
        lambda f: swap(f, "summary", "Nothing has torn.", "Something has torn."),
        [(JUDGE, "summary: “Nothing has torn.” is now “Something has torn.”")],
    ),
    "the same words in another order": (
        lambda f: swap(f, "grip_rule", "big holds come first", "first come big holds"),
        [
            (
                JUDGE,
                "grip rule: “All fingers pull together, and big holds come first.” is now "
                "“All fingers pull together, and first come big holds.”",
            )
        ],
    ),
    "a caution goes": (
        lambda f: f[FOREARM].update(cautions=["Drink enough."]),
        [
            (LESS, "cautions: gone: “Painkillers hide the signal you need, so never use them to climb.”"),
            (MORE, "cautions: new: “Drink enough.”"),
        ],
    ),
    "somebody is seen later": (
        lambda f: f[FOREARM]["see_somebody"][0].update(urgency="same-day"),
        [
            (
                LESS,
                "see somebody, “The forearm is tight, very swollen and hurts more and more.”, urgency: "
                "same-day now, was emergency",
            )
        ],
    ),
    "a shared warning waits": (
        lambda f: entry(f, "warning_signs", "tight-after-crush").update(urgency="routine"),
        [(LESS, f"urgency: routine now, was {entry(make_files(), 'warning_signs', 'tight-after-crush')['urgency']}")],
    ),
    "it is for the young as well": (
        lambda f: f[FOREARM].update(people="both"),
        [(LESS, "people: it is about both now, was adult")],
    ),
    "all loading stops": (
        lambda f: f[FOREARM].update(stop=True),
        [(MORE, "stop: all loading stops until a doctor clears it")],
    ),
    "only the version rises": (
        lambda f: f[FOREARM]["status"].update(version="0.1.1"),
        [(FOLLOWS, "status: version 0.1.1, was 0.1.0")],
    ),
    "a gate gets another id": (rename_gate, []),
    "a protocol gets another id": (rename_protocol, [(WORDING, "its id is forearm-ache now, was forearm")]),
}


@pytest.fixture(scope="module")
def base() -> Files:
    return make_files()


@pytest.fixture(scope="module")
def history(tmp_path_factory: pytest.TempPathFactory, base: Files) -> Path:
    """A repository whose main branch holds the collection; each edit is a branch of its own."""
    folder = tmp_path_factory.mktemp("history")
    start_history(folder, base)
    branches = {}
    for number, (edit, _) in enumerate(TABLE.values()):
        branches[f"edit-{number}"] = files = copy_files(base)
        edit(files)
    add_branches(folder, branches)
    return folder


@pytest.fixture(scope="module")
def before(history: Path) -> upkeep.Side:
    return upkeep.read_edition("main", history / "protocols", lambda path: path.name)


def report_on(name: str, history: Path, before: upkeep.Side, look: bool = True) -> Report:
    number = list(TABLE).index(name)
    after = upkeep.read_edition(f"edit-{number}", history / "protocols", lambda path: path.name)
    return upkeep.make_report(before, after, look)


def test_the_table_is_long_enough() -> None:
    assert len(TABLE) > 30


@pytest.mark.parametrize("name", TABLE)
def test_an_edit_means_exactly_this(name: str, history: Path, before: upkeep.Side) -> None:
    report = report_on(name, history, before, look=False)
    assert [(d.lean, str(d)) for d in report.comparison.differences] == TABLE[name][1]
    assert not report.remarks
    lean = report.comparison.lean
    assert lean == next((sort for sort in (LESS, MORE, JUDGE, WORDING) if sort in dict(TABLE[name][1])), None)
    assert bool(report.problems) == (lean == LESS)


def test_what_only_looks_otherwise_is_told_apart(history: Path, before: upkeep.Side) -> None:
    report = report_on("layout only", history, before)
    assert report.layout == (FOREARM,)
    assert report.sight is not None
    assert not report.sight.changed


def test_a_change_of_days_names_every_page_and_sheet_that_shows_it(history: Path, before: upkeep.Side) -> None:
    sight = report_on("10 days become 14 days", history, before).sight
    assert sight is not None
    assert (sight.gone, sight.come) == ((), ())
    table = next(h for h in sight.hunks if h.gone and h.gone[0].startswith("Grade I | 7 days | 10 days"))
    assert table.gone == ("Grade I | 7 days | 10 days | 14 days [common practice]",)
    assert table.come == ("Grade I | 7 days | 14 days | 14 days [common practice]",)
    assert table.places == ("/injuries/forearm/#stage-2",)
    sheets = {place for hunk in sight.hunks for place in hunk.places if place.startswith("sheets")}
    assert sheets == {"sheets forearm-a4, leaf 1", "sheets forearm-letter, leaf 1"}
    assert all("14 days" in line for hunk in sight.hunks for line in hunk.come)


def test_a_renamed_protocol_keeps_its_readers(history: Path, before: upkeep.Side) -> None:
    report = report_on("a protocol gets another id", history, before)
    assert report.sight is not None
    assert (report.sight.gone, report.sight.come) == ((), ())
    assert report.comparison.renames == {("conditions", "forearm"): "forearm-ache"}


def test_a_new_source_in_front_moves_numbers_and_changes_nothing(tmp_path: Path, base: Files) -> None:
    files = copy_files(base)
    marked = files[FOREARM]["facts"][0]["says"].replace("common-practice", "artiaco-2023")
    files[FOREARM]["facts"].append({"id": "another", "about": "time", "says": marked})
    write_files(tmp_path / "one", files)
    files[FOREARM]["summary"] += "\nA review looked at it [invented-2017]."
    write_files(tmp_path / "two", files)
    sides = [upkeep.read_edition(str(tmp_path / name), tmp_path / name, str) for name in ("one", "two")]
    report = upkeep.make_report(*sides)
    assert report.sight is not None
    lines = [line for hunk in report.sight.hunks for line in (*hunk.gone, *hunk.come)]
    assert lines
    assert not [line for line in lines if "Muscle ache" in line]
