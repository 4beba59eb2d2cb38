"""One door for everything that is asked about a case, with text in and text out.

A browser goes through it, and so does the loopback desk. It opens nothing and keeps nothing about a person.
"""

from __future__ import annotations

import base64
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from jinja2 import Environment

from fingerpost.make.drawn.pictures import forget_drawings
from fingerpost.make.handout_html import draw_ahead, write_html
from fingerpost.make.leaf.page import TooFull
from fingerpost.make.templates import make_environment
from fingerpost.model.audience import write_back
from fingerpost.model.case import Anchor, Case, ClinicSettings
from fingerpost.model.library import Document, Library, Path
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.model.times import write_date
from fingerpost.plan.base.audience import Reader, tell
from fingerpost.plan.base.parts import list_tapings
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.check import find_case_findings, find_case_problems, stages_of
from fingerpost.plan.case.file import to_plain
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.leaf.handout import name_file, plan_handout
from fingerpost.plan.person.calendar import write_calendar
from fingerpost.plan.person.doubts import find_case_doubts
from fingerpost.plan.person.way_back import find_review
from fingerpost.problems import Problem, count_problems, write_path
from fingerpost.read import validate
from fingerpost.read.validate import Finding
from fingerpost.reckon.loads import tries_kg
from fingerpost.reckon.visits import log_visit, renew
from fingerpost.reckon.windows import count_windows, list_ahead, list_spans
from fingerpost.rewrite.arrange import write_plain

Answer = dict[str, Any]


def write_kit(library: Library, templates: Mapping[str, str]) -> str:
    """What a browser needs beside the code: the collection, as read and checked, and the templates."""
    kit = {
        "protocols": [write_back(d.value) for d in library.protocols],
        "referrals": [write_back(d.value) for d in library.referrals],
        "vocabularies": write_back(library.vocabularies),
        "clinic": write_back(library.clinic),
        "content_hashes": dict(library.content_hashes),
        "templates": {name: text for name, text in templates.items() if name.startswith(("print/", "parts/"))},
    }
    return json.dumps(kit, ensure_ascii=False, separators=(",", ":"))


def _build(kind: Any, data: Any) -> Any:
    """Data that was checked when the kit was made, so a finding is a fault of the program."""
    value, findings = validate.check(kind, data)
    if findings:
        raise ValueError(f"the kit does not fit the model: {findings[0]}")
    return value


@dataclass
class Door:
    """What is known between two questions: the collection and the templates."""

    library: Library
    environment: Environment

    def answer(self, question: str) -> str:
        """Answer one question, JSON in and out. A fault of the program names its kind and never repeats a value."""
        try:
            found = self.answer_data(json.loads(question))
        except Exception as error:
            found = {"fault": type(error).__name__}
        return json.dumps(found, ensure_ascii=False)

    def answer_data(self, asked: Mapping[str, Any]) -> Answer:
        """The same with plain data, and with the fault itself."""
        return _ANSWERS[asked["ask"]](self, asked)


def open_door(kit: str) -> Door:
    """A door over a kit that `write_kit` made."""
    data = json.loads(kit)

    def documents(kind: Any, name: str) -> tuple[Document[Any], ...]:
        return tuple(Document(f"{d['id']}.yml", _build(kind, d), {}, {}) for d in data[name])

    library = Library(
        documents(Protocol, "protocols"),
        documents(Referral, "referrals"),
        _build(Vocabularies, data["vocabularies"]),
        {},
        clinic=_build(ClinicSettings, data["clinic"]),
        content_hashes=data["content_hashes"],
    )
    return Door(library, make_environment(data["templates"]))


# ------------------------------------------------------------------ what can be asked


def _say_findings(found: list[Finding]) -> list[Answer]:
    return [{"at": write_path(path), "says": message, "hint": hint} for path, message, hint in found]


def read_asked_case(door: Door, asked: Mapping[str, Any]) -> tuple[Case | None, list[Finding], list[str]]:
    """The case of a question: (case or None, findings, keys that are still missing).

    What is missing in a form is not wrong yet. As long as something is, the rest is looked at as far as it can be.
    """
    today = date.fromisoformat(asked["today"])
    case, shaped = validate.read_value(Case, asked["case"])
    if case:
        found = list(find_case_findings(case, door.library, today))
        if untried := _list_untried(case):
            return None, [f for f in found if f[0] not in untried], [write_path(path) for path in untried]
        return case, found, []
    missing = [write_path(path) for path, message, _ in shaped if message == validate.say_missing(str(path[-1]))]
    wrong = [f for f in shaped if write_path(f[0]) not in missing]
    if wrong:
        return None, wrong, missing
    return None, _find_early(door, asked["case"], missing, today), missing


def _fill_in(door: Door, data: Mapping[str, Any], at: int = -1) -> Case | None:
    """The case with a harmless value for each that is missing; `at`: which stage, where none is chosen."""
    protocol = door.library.find_protocol(str(data.get("protocol")))
    if protocol is None:
        return None
    grade = str(data.get("grade", protocol.grades[0].id))
    stages = stages_of(protocol, grade)
    filled: dict[str, Any] = {
        "reference": "-",
        "age_band": "under-18" if protocol.people == "under-18" else "adult",
        "grade": grade,
        "hand": "left",
        "finger": protocol.fingers[0],
        "place": protocol.places[0],
        "anchor": {"event": "injury", "date": "2000-01-01"},
        "stage": stages[at].id if at < len(stages) else "",
        "began": [],
        "side": "radial" if protocol.needs_side else None,
    }
    return validate.read_value(Case, {**filled, **data})[0]


def _find_early(door: Door, data: Mapping[str, Any], missing: list[str], today: date) -> list[Finding]:
    """What can be said before everything is filled in: a harmless value stands in for each missing one."""
    case = None if any(key.startswith("anchor") for key in missing) else _fill_in(door, data)
    if case is None:
        return []
    untried = _list_untried(case)
    found = find_case_findings(case, door.library, today)
    return [f for f in found if f[0][0] in data and f[0] not in untried]


def _list_untried(case: Case) -> list[Path]:
    """The tests in which no try is written yet: in a form that is missing, and not wrong."""
    return [("baselines", n, case.units) for n, test in enumerate(case.baselines) if not tries_kg(test)]


def _answer_sheets(door: Door, asked: Mapping[str, Any]) -> Answer:
    """The sheets of a case, or why there are none yet; and when each stage usually begins."""
    case, findings, missing = read_asked_case(door, asked)
    answer: Answer = {
        "findings": _say_findings(findings),
        "missing": missing,
        "stages": _list_days(door, asked["case"]),
        "tapings": _list_tapings(door, asked["case"]),
    }
    if case and not findings:
        today = date.fromisoformat(asked["today"])
        planned = plan_handout(door.library, case, today)
        situation = read_situation(case, door.library, today)
        if way := situation.way:  # with the real delay in them and the next visit, as the leaf says them
            ahead = {stage: days.usual for _, stage, days in list_ahead(way, find_review(situation))}
            days = [(w.stage, ahead.get(w.stage, w.days.usual)) for w in way.windows]
            answer["stages"] = [{"id": stage, "usual": write_date(day)} for stage, day in days]
        answer["doubts"] = _say_findings(list(find_case_doubts(case, door.library, today)))
        answer["enclosed"] = list(dict.fromkeys(sheet.name for sheet in planned.sheets))
        try:
            html = write_html(door.environment, planned)
        except TooFull as full:
            return answer | {"findings": _say_findings([((full.at,), full.says, full.hint)])}
        answer |= {"html": html, "stem": planned.file_stem, "head": planned.head}
        answer |= {"foot": planned.foot, "title": planned.title, "notes": planned.notes}
    return answer


def _list_days(door: Door, data: Mapping[str, Any]) -> list[Answer]:
    """When each stage usually begins by the published times, counted from the anchor alone."""
    protocol = door.library.find_protocol(str(data.get("protocol")))
    anchor, found = validate.check(Anchor, data.get("anchor"))
    day = None if found else anchor.date.known
    if protocol is None or day is None:
        return []
    spans = list_spans(protocol.stages, str(data.get("grade")))
    try:
        counted = count_windows(day, spans)
    except ValueError:  # beyond the calendar
        return []
    return [{"id": s.stage, "usual": write_date(d.usual)} for s, d in zip(spans, counted, strict=True)]


def _list_tapings(door: Door, data: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The tapings of today's stage that fit the place and the grade: (id, name)."""
    protocol = door.library.find_protocol(str(data.get("protocol")))
    stage = next((s for s in protocol.stages if s.id == data.get("stage")), None) if protocol else None
    if stage is None:
        return []
    reader = Reader(place=str(data.get("place")), grade=str(data.get("grade")))
    fitting = tell(stage, reader) or stage
    return [(t.id, t.name) for t in list_tapings(Writer(door.library), fitting)]


def _answer_save(door: Door, asked: Mapping[str, Any]) -> Answer:
    """The case as a file, with this visit in its log. `printed`: its sheets were printed, too."""
    case, findings, missing = read_asked_case(door, asked)
    protocol = door.library.find_protocol(case.protocol) if case else None
    if case is None or protocol is None:
        return {"findings": _say_findings(findings), "missing": missing}
    printed = door.library.content_hashes.get(protocol.id) if asked.get("printed") else None
    logged = to_plain(log_visit(case, date.fromisoformat(asked["today"]), printed))
    note = " ".join(Writer(door.library).say("desk-file-note").split())
    text = f"# {note}\n{write_plain(logged, Case)}"
    return {"text": text, "stem": name_file(case, protocol.status.version), "visits": logged["visits"]}


def _answer_calendar(door: Door, asked: Mapping[str, Any]) -> Answer:
    """The days ahead as a calendar file; no text where there are none."""
    case, findings, missing = read_asked_case(door, asked)
    protocol = door.library.find_protocol(case.protocol) if case else None
    if case is None or protocol is None or findings:
        return {"findings": _say_findings(findings), "missing": missing}
    text = write_calendar(door.library, case, date.fromisoformat(asked["today"]))
    return {"text": text, "stem": name_file(case, protocol.status.version)}


def _answer_open(door: Door, asked: Mapping[str, Any]) -> Answer:
    """A case file as data for the form, with the same lines about what is wrong as on the command line."""
    from fingerpost.read import yaml_events  # only whoever opens a file needs the YAML reader

    name = str(asked["name"])
    try:
        plain = yaml_events.parse(yaml_events.decode(base64.b64decode(asked["bytes"])), fast=False)
    except yaml_events.Unreadable as error:
        return _refuse(yaml_events.refuse(name, error))
    case, found = validate.read_value(Case, plain.data)
    problems = list(yaml_events.problems_of(plain, name, found))
    if case is None or problems:
        return _refuse(problems)
    document = Document(name, case, plain.lines, plain.keys)
    problems = list(find_case_problems(document, door.library, date.fromisoformat(asked["today"])))
    return {**_refuse(problems), "case": to_plain(renew(case))}


def _refuse(problems: list[Problem]) -> Answer:
    ordered = sorted(set(problems))
    return {"problems": [str(p) for p in ordered], "count": count_problems(ordered) if ordered else ""}


def _answer_ahead(door: Door, asked: Mapping[str, Any]) -> Answer:
    """Draw one picture that the sheets of this injury will need, while the form is still being filled in.

    `more`: ask again, for the same stage (`drawn`) or for the next one.
    """
    today, data = date.fromisoformat(asked["today"]), {k: v for k, v in asked["case"].items() if k != "anchor"}
    case = _fill_in(door, data, int(asked["stage"]))
    if case is None or any(True for _ in find_case_findings(case, door.library, today)):
        return {"drawn": False, "more": False}
    drawn = draw_ahead(plan_handout(door.library, case, today))
    return {"drawn": drawn, "more": drawn or "stage" not in data}


def _answer_clear(door: Door, asked: Mapping[str, Any]) -> Answer:
    """Forget what is kept to be quick."""
    forget_drawings()
    return {}


_ANSWERS: dict[str, Callable[[Door, Mapping[str, Any]], Answer]] = {
    "sheets": _answer_sheets,
    "save": _answer_save,
    "calendar": _answer_calendar,
    "open": _answer_open,
    "ahead": _answer_ahead,
    "clear": _answer_clear,
}
