"""Many cases for the desk: every injury, grade, stage, place, finger and hand comes up, and much that is odd."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta
from itertools import islice
from typing import Any

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.plan.case.check import stages_of

ODD = (
    "Zoë O’Hara-Łukasz <b>&amp;</b> \"quoted\" 'single'",
    "</style><script>alert(1)</script>",
    "{{ 7 * 7 }} {% raw %} [lutter-2018] ß → ½ ☐",
    "one\n\ntwo\tthree \\ # : - > | & * ! %",
    "n\u0303 \u00a0 \u2011 wide",
)
GRIPS = ("half-crimp", "open-hand", "full-crimp")


def make_cases(library: Library, count: int, today: date) -> list[dict[str, Any]]:
    """The first `count` cases: the same ones on every run. All have nothing against them."""
    return list(islice(_make(library, today, random.Random(8)), count))


def _make(library: Library, today: date, chance: random.Random) -> Iterator[dict[str, Any]]:
    number = 0
    while True:
        for document in library.protocols:
            yield _make_one(document.value, number, today, chance)
        number += 1


def _pick(options: tuple[Any, ...], number: int) -> Any:
    return options[number % len(options)]


def _make_one(protocol: Protocol, number: int, today: date, chance: random.Random) -> dict[str, Any]:
    chosen = _pick(protocol.grades, number)
    grade = chosen.id
    stages = stages_of(protocol, grade)
    at = (number // len(protocol.grades)) % len(stages)
    anchor = today - timedelta(days=_pick((9, 65, 300), number // 2))
    case: dict[str, Any] = {
        "reference": _pick((*ODD[:3], "E. T.", "0386"), number),
        "age_band": "under-18" if protocol.people == "under-18" or number % 9 == 4 else "adult",
        "protocol": protocol.id,
        "grade": grade,
        "hand": _pick(("left", "right"), number // 3),
        "finger": _pick(protocol.fingers, number),
        "place": _pick(chosen.places or protocol.places, number // 2),
        "anchor": {"event": _pick(("injury", "surgery", "first-assessment"), number), "date": anchor.isoformat()},
        "stage": stages[at].id,
        "began": _began(stages[: at + 1], anchor, today, chance),
        "paper": _pick(("A4", "Letter"), number // 5),
        "print_size": _pick((12,) * 7 + (14,) + (12,) * 7 + (18,) + (12,) * 7 + (24,), number),
        "tape_allergy": number % 7 == 3,
        "size": _pick(("S", "M", "L"), number),
    }
    if (enclosed := _pick((None, [], ["diary"], ["tape", "exercises", "about"], ["grips"]), number // 2)) is not None:
        case["enclose"] = enclosed
    if protocol.needs_side:
        outermost = protocol.id == "lumbrical-strain" and case["finger"] == "little"  # it has one web
        case["side"] = "radial" if outermost else _pick(("radial", "ulnar"), number // 2)
    if case["age_band"] == "under-18":
        case["pace_reason"] = _pick(ODD, number)
        if number % 2:
            case["doctor_cleared"] = (anchor + (today - anchor) / 2).isoformat()
    more = _more(number, today, anchor, chance)
    if "checked" in more:
        more["checked"]["stage"] = case["stage"]
    case |= more
    return _with_visits(case, stages, at, today, number) if number % 3 == 0 else case


def _with_visits(case: dict[str, Any], stages: tuple[Any, ...], at: int, today: date, number: int) -> dict[str, Any]:
    """The same with a log in the place of its begins and its check; now and then somebody has come back a stage."""
    stage_of = {b["date"]: b["stage"] for b in case["began"]}
    if number % 9 == 3 and stage_of:
        back = today - timedelta(days=8)
        stage_of = {day: stage for day, stage in stage_of.items() if date.fromisoformat(day) < back}
        stage_of[back.isoformat()] = stages[min(at + 1, len(stages) - 1)].id
    stage_of[today.isoformat()] = case["stage"]
    visits: list[dict[str, Any]] = [{"date": day, "stage": stage} for day, stage in stage_of.items()]
    if checked := case.pop("checked", None):
        visits[-1]["checked"] = {"name": checked["name"], "role": checked["role"]}
    if number % 2:
        for n, visit in enumerate(visits):
            visit |= {
                "bend_degrees": 60 + 5 * n,
                "lack_degrees": max(0, 25 - 4 * n),
                "round_mm": 62.5 - n,
                "pain": max(0, 5 - n),
            }
        visits[-1]["tests"] = [{"test": "bowstring-check", "showed": _pick(("calm", "positive", "unclear"), number)}]
        case["finger_sizes"] = [size for size in case["finger_sizes"] if size["finger"] != case["finger"]]
    reason = case.get("pace_reason", "Seen elsewhere in between.")
    return {**case, "pace_reason": reason, "began": [], "visits": visits}


def _began(stages: tuple[Any, ...], anchor: date, today: date, chance: random.Random) -> list[dict[str, str]]:
    """No stage, or all of them, with the days on which they began, spread from the anchor to today or sooner."""
    if chance.random() < 0.4:
        return []
    step = timedelta(days=(today - anchor).days // (len(stages) * _pick((1, 2), chance.randrange(2))))
    return [{"stage": s.id, "date": (anchor + at * step).isoformat()} for at, s in enumerate(stages)]


def _more(number: int, today: date, anchor: date, chance: random.Random) -> dict[str, Any]:
    """What may stay empty: names, notes, dates, sizes, tests, a letterhead."""
    more: dict[str, Any] = {}
    if number % 2:
        more["name"] = _pick((*ODD[:3], "Ada"), number // 2)
        more["note"] = _pick(ODD, number // 2)
        more["finger_sizes"] = [{"finger": f, "mm": round(chance.uniform(42, 75), 1)} for f in ("ring", "middle")]
    if number % 3 == 1:
        far = today + timedelta(days=chance.randrange(0, 300))
        more["important_dates"] = [{"what": _pick(ODD[:3], number), "date": far.isoformat()}]
        more["review_date"] = (today + timedelta(days=chance.randrange(0, 60))).isoformat()
    if number % 4 == 2:
        units = _pick(("kg", "lb"), number // 4)
        more |= {"units": units, f"plate_{units}": _pick((0.5, 1, 1.25, 2.5), number)}
        more[f"body_mass_{units}"] = round(chance.uniform(50, 95), 1)
        hands = [(grip, hand) for grip in GRIPS for hand in ("left", "right")]
        more["baselines"] = [_baseline(hand, grip, units, today, chance) for grip, hand in hands]
    if number % 3 != 2:
        more["checked"] = {"name": _pick(ODD[:3], number), "role": "hand therapist", "date": today.isoformat()}
    if number % 5 == 2:
        more["clinic"] = {"name": _pick(ODD[:2], number), "lines": ["3 Old Lane"], "emergency_number": "9"}
    return more


def _baseline(hand: str, grip: str, units: str, today: date, chance: random.Random) -> dict[str, Any]:
    tries = [round(chance.uniform(12, 55), 1) for _ in range(chance.randrange(1, 4))]
    return {"date": today.isoformat(), "hand": hand, "grip": grip, "edge_mm": 20, "method": "pull", units: tries}
