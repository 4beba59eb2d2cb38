"""Contact sheets: every drawing there is, on one page, for review. Returns text, reads and writes no files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from fingerpost.draw.contact_inside import inside_pictures
from fingerpost.draw.contact_leaf import leaf_pictures
from fingerpost.draw.pens.svg import ON_PAPER, ColourName, enlarge, escape, recolour
from fingerpost.draw.picture import draw, usual_width
from fingerpost.model.grammar import choices_of, hints_of
from fingerpost.model.library import Library
from fingerpost.model.protocol import Dose
from fingerpost.model.shared import Landmark, TapingKind, TapingLevel, TouchSpot, View
from fingerpost.model.words import FINGERS, Finger, Hand, Side
from fingerpost.plan.base.illustrate import trial_drawing
from fingerpost.plan.base.pictures import (
    DiaryPicture,
    Flag,
    GripPicture,
    HandPicture,
    LoadPicture,
    LoadRow,
    PathPicture,
    Picture,
    Signpost,
    Spot,
    Standing,
    TapeMark,
    TouchArea,
    TouchPicture,
    TrialKind,
    TrialPicture,
)  # fmt: skip
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.step_pictures import (
    Worn,
    check_drawing,
    exercise_drawing,
    exercise_gallery,
    mistakes_drawing,
    movement_key,
    tape_steps,
)
from fingerpost.reckon.neighbours import choose_buddy

Shown = tuple[str, Picture]
LARGE = 1.6
"""How many times as large as in print a drawing is looked at."""
_BACK: tuple[Landmark, ...] = ("central-slip", "nail", "knuckle", "growth-plate")
_NAMES: tuple[tuple[Finger, str], ...] = tuple((finger, finger) for finger in FINGERS)
_TAPES: tuple[tuple[TapingKind, TapingLevel], ...] = (
    ("ring", "a2"), ("ring", "a4"), ("h-strip", "pip"), ("soft", "a2"), ("splint", "a2"), ("splint", "pip"),
    ("splint", "dip"),
)  # fmt: skip
_PAIRS: tuple[tuple[Finger, Finger], ...] = (("middle", "index"), ("little", "ring"), ("ring", "little"))
_LEFT: tuple[tuple[str, Finger, Side], ...] = (
    ("ring-a4", "index", "radial"), ("h-strip", "little", "radial"), ("buddy-injured-side", "ring", "ulnar"),
    ("buddy-together", "middle", "ulnar"), ("buddy-injured-side", "middle", "radial"),
    ("buddy-sore-web", "index", "ulnar"),
    ("loops-injured-side", "little", "radial"), ("pulley-ring", "index", "radial"),
)  # fmt: skip
_TRIALS_OTHERWISE: tuple[tuple[TrialKind, Finger, Side | None], ...] = (
    ("point-pressure", "index", None), ("table-top", "middle", None), ("side-stress", "little", "radial"),
    ("side-stress", "ring", "ulnar"),
)  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Version:
    """One way to look at all drawings: in which colours, and how many times as large as they are printed."""

    name: str
    colours: Mapping[ColourName, str]
    times: float = LARGE


def _to_grey(colour: str) -> str:
    """As a grey printer shows it (ITU-R BT.601)."""
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return f"#{3 * f'{round(0.299 * red + 0.587 * green + 0.114 * blue):02x}'}"


def list_versions(dark: Mapping[ColourName, str]) -> tuple[Version, ...]:
    """In ink, in grey, and in the colours of a dark screen, each large; and in ink as large as it is printed."""
    return (
        Version(name="ink", colours=ON_PAPER),
        Version(name="grey", colours={name: _to_grey(colour) for name, colour in ON_PAPER.items()}),
        Version(name="dark", colours=dark),
        Version(name="print-size", colours=ON_PAPER, times=1.0),
    )


def contact_sheet(library: Library, version: Version) -> str:
    """One HTML page with all drawings."""
    figures = []
    for number, (name, picture) in enumerate(sample_pictures(library)):
        svg = enlarge(recolour(draw(picture, prefix=f"c{number}"), version.colours), version.times)
        wide = version.times * usual_width(picture)
        figures.append(f'<figure style="width:{wide:g}mm">{svg}<figcaption>{escape(name)}</figcaption></figure>')
    ground, line = version.colours["paper"], version.colours["line"]
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Drawings</title>'
        f"<style>@page{{size:A3 landscape;margin:10mm;background:{ground}}}"
        f"body{{margin:0;font:9pt sans-serif;background:{ground};color:{line}}}svg{{display:block}}"
        "main{orphans:1;widows:1}figure{display:inline-block;vertical-align:top;margin:0 5mm 5mm 0}</style></head>"
        f"<body><h1>Drawings: {version.name}</h1><main>{''.join(figures)}</main></body></html>"
    )


def sample_pictures(library: Library) -> Iterator[Shown]:
    """A name and a picture for every kind of drawing, and every exercise of a collection."""
    yield from _hands()
    yield from _tapes()
    yield from _grips()
    yield from inside_pictures()
    yield from _tapings(library)
    yield from _trials(library)
    yield from _ways()
    yield from _charts()
    yield from _other_ways_round(library)
    yield from _touches()
    yield from leaf_pictures(library)
    yield from _exercises(library)


def _hands() -> Iterator[Shown]:
    for hand in choices_of(Hand):
        for view in choices_of(View):
            yield f"{hand} hand, {view}", HandPicture(
                title=f"The {view} of a {hand} hand with the names of its fingers",
                hand=hand, view=view, finger_names=_NAMES, hand_name=f"{hand} hand, {view}",
            )  # fmt: skip
    for landmark in choices_of(Landmark):
        sides: tuple[Side | None, ...] = ("radial", "ulnar") if landmark.endswith("-side") else (None,)
        for side in sides:
            spot = Spot(landmark=landmark, finger="ring", side=side, label=landmark)
            face: View = "back" if landmark in _BACK else "palm"
            yield (
                f"landmark {landmark}",
                HandPicture(
                    title=f"Where {landmark} lies on the ring finger of a right hand",
                    hand="right",
                    view=face,
                    spots=(spot,),
                ),
            )


def _tapes() -> Iterator[Shown]:
    for finger in FINGERS:
        for kind, level in _TAPES:
            mark = TapeMark(kind=kind, level=level, finger=finger)
            yield (
                f"{kind} {level} {finger}",
                HandPicture(title=f"{kind} on the {finger} finger", hand="right", view="palm", tapes=(mark,)),
            )
    for finger, partner in pairwise(FINGERS):
        mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=finger, partner=partner)
        yield (
            f"buddy {finger} {partner}",
            HandPicture(
                title=f"The {finger} finger taped to the {partner} finger", hand="left", view="palm", tapes=(mark,)
            ),
        )


def _grips() -> Iterator[Shown]:
    def grip(name: str, mcp: int = 10, pip: int = 15, dip: int = 40) -> GripPicture:
        return GripPicture(title=f"{name}, as drawn for review", name=name, mcp=mcp, pip=pip, dip=dip, depth_mm=18)

    three, two, one = FINGERS[:3], FINGERS[1:3], FINGERS[1:2]
    pocket = replace(grip("Pocket"), hold="pocket", neighbours="tucked")
    shown = (
        replace(grip("Full crimp", 20, 87, -25), thumb="over", mark="leave", word="leave"),
        replace(grip("Half crimp", 20, 70, 0), mark="limit", word="limit"),
        replace(grip("Open hand", 15, 39, 45), mark="keep", word="keep"),
        replace(grip("Three-finger drag", 10, 15, 45), fingers=three),
        replace(pocket, name="Pocket, tucked", fingers=two),
        replace(pocket, name="Pocket, open", fingers=two, neighbours="free"),
        replace(pocket, name="Pocket, front two", fingers=FINGERS[:2]),
        replace(pocket, name="One finger", fingers=one),
        replace(grip("Sloper", 10, 25, 50), hold="sloper"),
        replace(grip("Pinch", 45, 45, 30), hold="pinch"),
        replace(grip("Undercling"), hold="undercling"),
        replace(grip("Finger crack"), hold="finger-crack", fingers=three),
        replace(grip("Hand crack"), hold="hand-crack"),
        replace(grip("Big hold"), hold="jug"),
    )
    for picture in shown:
        yield picture.name, picture


def _tapings(library: Library) -> Iterator[Shown]:
    """Every step of every taping on a right ring finger, its check and its mistakes."""
    writer = Writer(library)
    for taping in library.vocabularies.tapings:
        buddy = choose_buddy("ring", taping.neighbour, "radial")
        worn = Worn(
            taping=taping, hand="right", finger="ring", partner=buddy.partner if buddy else None, side="radial",
            strips=((120, 15, "A"), (110, 15, "B"))[: 2 if buddy else 1] if taping.is_cut else (),
        )  # fmt: skip
        for number, drawing in enumerate(tape_steps(writer, worn).drawings, 1):
            yield f"{taping.id}, step {number}", drawing.picture
        yield f"{taping.id}, check", check_drawing(writer, worn).picture
        yield f"{taping.id}, mistakes", mistakes_drawing(writer, worn).picture


def _trials(library: Library) -> Iterator[Shown]:
    """Each as its page shows it; then what a page does not show: another hand, finger or side."""
    writer = Writer(library)
    found = (trial_drawing(writer, test) for test in library.vocabularies.tests)
    pictures = [d.picture for d in found if d and isinstance(d.picture, TrialPicture)]
    for picture in pictures:
        yield picture.kind, picture
    for kind, finger, side in _TRIALS_OTHERWISE:
        for picture in (p for p in pictures if p.kind == kind):
            yield f"{kind}, left", replace(picture, hand="left", finger=finger, side=side)


def _ways() -> Iterator[Shown]:
    names = (
        "Settle and protect",
        "Move without resistance",
        "Low load, open hand",
        "Easy climbing on big holds",
        "Full climbing",
    )
    standings: tuple[Standing, ...] = ("past", "today", "ahead", "ahead", "ahead")
    for dates in (True, False):
        posts = tuple(
            Signpost(
                number=k + 1,
                name=name,
                arms=(f"earliest {3 + k} June 2026", f"latest {20 + k} June 2026") if dates else ("week 2",),
                gate="No pain at rest, full fist" if k < 4 else "",
                standing=standings[k] if dates else "none",
            )
            for k, name in enumerate(names)
        )
        flags = (Flag(after=3, what="a trip", date="4 July 2026"),) if dates else ()
        yield (
            "the way back",
            PathPicture(
                title="The way back in five stages",
                posts=posts,
                flags=flags,
                here="you are here" if dates else "",
                lying=not dates,
            ),
        )


def _charts() -> Iterator[Shown]:
    days = tuple(f"Mon {day}" for day in range(3, 17))
    yield "diary", DiaryPicture(
        title="A chart for pain from 0 to 10 on fourteen days", days=days,
        signs=("during", "next morning"), limit=2,
        limit_word="above this line: do less", pain_word="pain, 0 to 10", stiff_word="stiff, 0 to 2",
        known=((0, 0, 3), (0, 1, 1)),
    )  # fmt: skip
    edge = GripPicture(title="A grip", mcp=20, pip=70, dip=0, depth_mm=18, small=True)
    drag = replace(edge, mcp=10, pip=15, dip=45, fingers=FINGERS[:3])
    rows = (
        LoadRow(name="Full crimp", grip=replace(edge, pip=87, dip=-25), loads=((1.1, 1.0, 1.2), (1.1, 0.9, 1.25))),
        LoadRow(name="Three-finger drag, said at length", grip=drag, loads=((0.5, 0.2, 0.8), (0.45, 0.15, 0.75))),
        LoadRow(name="Sloper", grip=replace(edge, hold="sloper"), loads=((0.35, 0.35, 0.35), (0.3, 0.3, 0.3))),
    )
    levels = ((0.0, "no load"), (0.5, "half as much"), (1.0, "as much as a half crimp"))
    title = "Full crimp loads both pulleys most"
    yield "loads", LoadPicture(title=title, pulleys=("A2", "A4"), rows=rows, levels=levels)


def _other_ways_round(library: Library) -> Iterator[Shown]:
    """What was shown above only for one hand, finger, side or level."""
    spots = tuple(Spot(landmark="pip", finger=finger) for finger in FINGERS)
    yield "every finger", HandPicture(title="A spot on each finger", hand="left", view="back", spots=spots)
    for finger, partner in _PAIRS:
        mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=finger, partner=partner)
        title = f"The {finger} finger taped to the {partner} finger"
        yield f"buddy {finger} {partner}", HandPicture(title=title, hand="right", view="back", tapes=(mark,))
    yield from _left_tapings(library)
    yield "right pocket", GripPicture(
        title="A right hand in a pocket", name="Pocket", mcp=10, pip=15, dip=40, depth_mm=18, hold="pocket",
        fingers=FINGERS[1:3], neighbours="tucked", hand="right",
    )  # fmt: skip
    yield "right edge", GripPicture(title="A right hand on an edge", mcp=20, pip=70, dip=0, depth_mm=18, hand="right")


def _left_tapings(library: Library) -> Iterator[Shown]:
    """Some of them on other fingers of a left hand, the steps as a leaf shows them."""
    writer = Writer(library)
    for taping in library.vocabularies.tapings:
        if taping.id == "extension-splint":
            worn = Worn(taping=replace(taping, level="dip"), hand="left", finger="index")
            yield "splint of the end joint, left", tape_steps(writer, worn).drawings[-1].picture
        for name, finger, side in _LEFT:
            if taping.id == name:
                buddy = choose_buddy(finger, taping.neighbour, side)
                worn = Worn(
                    taping=taping, hand="left", finger=finger, partner=buddy.partner if buddy else None, side=side
                )
                for number, drawing in enumerate(tape_steps(writer, worn).drawings, 1):
                    yield f"{name}, {finger}, left, step {number}", drawing.picture
                yield f"{name}, {finger}, left, mistakes", mistakes_drawing(writer, worn).picture


def _exercises(library: Library) -> Iterator[Shown]:
    """All frames of every exercise, and the one that stands for it in a row, on the other hand."""
    writer = Writer(library)
    for exercise in library.vocabularies.exercises:
        gallery, small = exercise_gallery(writer, exercise, "right"), exercise_drawing(writer, exercise, "left", "ring")
        for number, drawing in enumerate(gallery.drawings if gallery else (), 1):
            yield f"{exercise.id}, frame {number}", drawing.picture
        if small:
            yield f"small {exercise.id}", small.picture
    yield from _exercises_otherwise(writer)
    key = movement_key(writer, library.vocabularies.exercises)
    for drawing in key.drawings if key else ():
        yield f"sign, {drawing.name}", drawing.picture


def _exercises_otherwise(writer: Writer) -> Iterator[Shown]:
    """Other fingers, and how often and how long."""
    known = {exercise.id: exercise for exercise in writer.library.vocabularies.exercises}
    for finger in FINGERS:
        gallery = exercise_gallery(writer, known["two-finger-pull"], "left", finger)
        if gallery:
            yield f"two-finger-pull, {finger}", gallery.drawings[0].picture
    dose = Dose(exercise="straightening-hold", sets=1, repeats=5, hold_seconds=10, source="own")
    gallery = exercise_gallery(writer, known["straightening-hold"], "right", "ring", dose)
    if gallery:
        yield "straightening-hold, how often", gallery.drawings[-1].picture


def _touches() -> Iterator[Shown]:
    """Every spot on every drawing; each drawing shows those that lie on it."""
    areas = tuple(TouchArea(sign=spot, spot=spot, name=spot) for spot in choices_of(TouchSpot))
    for view in choices_of(hints_of(TouchPicture)["view"]):
        yield f"to touch, {view}", TouchPicture(title=f"The {view}, to be touched", view=view, areas=areas)
