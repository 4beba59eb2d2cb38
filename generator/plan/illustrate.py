"""Choose the pictures: which hand, what is marked, where the tape lies. `draw` only draws."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from generator.model.protocol import Protocol, Stage
from generator.model.shared import Grip, JointAngles, Structure, Taping, TapingKind, Test
from generator.model.words import GRIP_MARKS, Finger, GripMark, Hand, Side
from generator.plan.blocks import Drawing, Gallery, text
from generator.plan.pictures import (
    TAPING_FRAMES,
    TAPING_MISTAKES,
    DiaryPicture,
    GripPicture,
    HandPicture,
    InsideKind,
    InsidePart,
    InsidePicture,
    Spot,
    TapeMark,
    TapingPicture,
    TrialKind,
    TrialPicture,
)
from generator.plan.prose import Writer

# The hand and finger of general pages, where there is no person: the finger that pulley injuries hit most.
EXAMPLE_HAND: Hand = "right"
EXAMPLE_FINGER: Finger = "ring"

# Bends for drawing a grip whose angles nobody has measured: drawn by eye, never used in a sum.
DRAWN_ANGLES = JointAngles(mcp=30, pip=60, dip=30, source="common-practice")
EDGE_MM = 20
GRIP_MM = 32.0
FRAME_MM = 40.0
# The check and the mistakes stand in a row of their own, so that a page has room for it below the steps.
CHECK_MM, MISTAKES_MM = 65.0, 100.0
INSIDE_MM = 85.0
_TRIALS: tuple[TrialKind, ...] = get_args(TrialKind)
# Tests in which something is seen to move, or not, rather than felt to hurt.
_LOOKED_AT: frozenset[TrialKind] = frozenset(
    (
        "deep-flexor-alone",
        "surface-flexor-alone",
        "middle-joint-bent-press",
        "tip-hold",
        "table-top",
        "fist-lines",
        "full-fist-full-straight",
        "infection-look",
        "press-and-refill",
        "night-tingling-check",
        "knuckle-watch",
    )
)
_INSIDE_KINDS: dict[str, InsideKind] = {
    "ligament": "joint-front",
    "muscle": "palm-tendons",
}
_INSIDE_LABELS: dict[str, tuple[InsidePart, ...]] = {
    "finger-side": ("bone", "tendon", "a2", "a4"),
    "joint-front": ("bone", "other-ligament"),
    "palm-tendons": ("palm-tendon", "lumbrical"),
}


def finger_name(writer: Writer, finger: Finger) -> str:
    return writer.say(f"finger-{finger}")


def side_name(writer: Writer, side: Side) -> str:
    return writer.say(f"side-{side}")


def place_name(writer: Writer, place: Structure, side: Side | None) -> str:
    """'A2 pulley', or 'middle joint, thumb side'."""
    return f"{place.name}, {side_name(writer, side)}" if side else place.name


def hand_picture(
    writer: Writer, hand: Hand, finger: Finger, places: Iterable[Structure], side: Side | None = None
) -> HandPicture:
    """The hand with the sore spot marked. All places share the view of the first."""
    shown = tuple(places)
    view = shown[0].view
    names = " ".join(place_name(writer, p, side) for p in shown)
    title = writer.say(
        "picture-spot",
        hand=hand,
        view=writer.say(f"view-{view}"),
        place=names,
        finger=finger_name(writer, finger),
    )
    spots = tuple(
        Spot(landmark=p.landmark, finger=finger, side=side, label=place_name(writer, p, side))
        for p in shown
        if p.view == view
    )
    return HandPicture(
        title=title, hand=hand, view=view, spots=spots, hand_name=writer.say("hand-name", hand=hand, view=view)
    )


def spot_drawing(
    writer: Writer,
    hand: Hand,
    finger: Finger,
    places: Iterable[Structure],
    side: Side | None,
    caption: str,
    width_mm: float | None = None,
) -> Drawing:
    picture = hand_picture(writer, hand, finger, places, side)
    return Drawing(name="where", picture=picture, caption=text(caption), width_mm=width_mm)


def _drawn_kind(taping: Taping) -> TapingKind:
    """What a taping looks like: a moulded ring on one segment looks like a ring, not like a splint over a joint."""
    return "ring" if taping.kind == "splint" and taping.level in ("a2", "a4") else taping.kind


def tape_frames(
    writer: Writer,
    taping: Taping,
    hand: Hand,
    finger: Finger,
    partner: Finger | None,
    size_mm: tuple[int, int] | None = None,
) -> Gallery | None:
    """A taping step by step, the check afterwards and the usual mistakes; None where a therapist makes the thing.

    `size_mm`: length and width of the strip, where all strips are alike.
    """
    if _drawn_kind(taping) != taping.kind:
        return None
    kind = taping.kind

    def frame(number: int) -> Drawing:
        notes: tuple[str, ...] = ()
        if number == 0:
            notes = tuple(writer.say(f"mistake-{m}") for m in TAPING_MISTAKES[kind])
        elif number == TAPING_FRAMES[kind]:
            notes = tuple(writer.say(f"check-{sign}") for sign in ("colour", "warmth", "feeling"))
        caption = writer.say(f"frame-{kind}-{number}") if number else ""
        says = f"{caption} {' '.join(f'{n.rstrip(chr(46))}.' for n in notes)}".strip()
        title = writer.say(
            "picture-frame", hand=hand, finger=finger_name(writer, finger), taping=taping.name, caption=says
        )
        picture = TapingPicture(
            title=title,
            kind=kind,
            level=taping.level,
            hand=hand,
            finger=finger,
            partner=partner,
            frame=number,
            length_mm=size_mm[0] if size_mm else None,
            width_mm=size_mm[1] if size_mm else None,
            caption=caption,
            notes=notes,
        )
        width = {0: MISTAKES_MM, TAPING_FRAMES[kind]: CHECK_MM}.get(number, FRAME_MM)
        return Drawing(name=f"frame-{taping.id}-{number}", picture=picture, caption=(), width_mm=width)

    numbers = (*range(1, TAPING_FRAMES[kind] + 1), 0)
    return Gallery(caption=writer.say("frames-caption", hand=hand), drawings=tuple(frame(n) for n in numbers))


def tape_drawing(
    writer: Writer, taping: Taping, hand: Hand, finger: Finger, partner: Finger | None, width_mm: float | None = None
) -> Drawing:
    """The taped finger, and for buddy taping the finger that it is taped to."""
    mark = TapeMark(kind=_drawn_kind(taping), level=taping.level, finger=finger, partner=partner)
    if partner:
        title = writer.say(
            "picture-buddy", hand=hand, finger=finger_name(writer, finger), partner=finger_name(writer, partner)
        )
    else:
        title = writer.say("picture-tape", hand=hand, finger=finger_name(writer, finger), taping=taping.name)
    picture = HandPicture(
        title=title, hand=hand, view="palm", tapes=(mark,), hand_name=writer.say("hand-name", hand=hand, view="palm")
    )
    return Drawing(name=f"tape-{taping.id}", picture=picture, caption=text(title), width_mm=width_mm)


def grip_drawing(writer: Writer, grip: Grip, mark: GripMark | None = None, width_mm: float = GRIP_MM) -> Drawing:
    """A hand on a hold; with a mark, also whether this grip may be used."""
    angles = grip.angles or DRAWN_ANGLES
    word = writer.say(f"grip-{mark}") if mark else ""
    plain = " ".join(grip.plain.split())
    title = writer.say("picture-grip-mark", grip=grip.name, word=word, plain=plain) if mark else f"{grip.name}. {plain}"
    picture = GripPicture(
        title=title,
        mcp=angles.mcp,
        pip=angles.pip,
        dip=angles.dip,
        depth_mm=EDGE_MM,
        mark=mark,
        word=word,
        hold=grip.hold,
        fingers=grip.fingers,
        neighbours=grip.neighbours,
        thumb=grip.thumb,
        name=grip.name if mark else "",
    )
    return Drawing(name=f"grip-{grip.id}", picture=picture, caption=(), width_mm=width_mm)


def grip_gallery(writer: Writer, stage: Stage, caption: str) -> Gallery:
    """Every grip of a stage as a picture with its mark and word: what to keep first."""
    marks: dict[str, GripMark] = dict.fromkeys(stage.grips.keep, "keep")
    marks |= dict.fromkeys(stage.grips.leave, "leave")
    ranked = sorted(writer.library.vocabularies.grips, key=lambda g: GRIP_MARKS.index(marks.get(g.id, "limit")))
    drawings = tuple(grip_drawing(writer, g, marks.get(g.id, "limit")) for g in ranked)
    return Gallery(caption=caption, drawings=drawings)


def inside_drawing(
    writer: Writer, protocol: Protocol, hand: Hand = EXAMPLE_HAND, side: Side = "radial", width_mm: float = INSIDE_MM
) -> Drawing:
    """What lies under the skin, and what is hurt: the first tissue of a protocol says which view.

    `side` counts for a joint with a band on each side. It is seen as the hand is, so that the sore side lies alike.
    """
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    hurt = anatomy[protocol.tissue[0]]
    kind = _INSIDE_KINDS.get(hurt.kind, "finger-side")
    # A muscle of the forearm is shown by its tendon, which then carries the name of what is hurt.
    named = "palm-tendon" if hurt.landmark == "forearm" else hurt.landmark
    labels = tuple(
        (part, writer.say(f"inside-{part}")) for part in _INSIDE_LABELS[kind] if part not in (named, "lumbrical")
    )
    sided = side if kind == "joint-front" else None
    name = place_name(writer, hurt, sided)
    title = writer.say("picture-inside", view=writer.say(f"inside-view-{kind}"), hurt=name)
    picture = InsidePicture(
        title=title,
        kind=kind,
        hurt=hurt.landmark,
        side=sided,
        labels=labels,
        hurt_label=name,
        hand=hand,
        seen_from=anatomy[protocol.places[0]].view,
        tucked=kind == "palm-tendons",
    )
    return Drawing(name="inside", picture=picture, caption=text(writer.say("inside-caption")), width_mm=width_mm)


def trial_drawing(writer: Writer, test: Test, width_mm: float = 70.0) -> Drawing | None:
    """One hands-on test: what presses, which way, where pain counts or where to look. None where not drawn yet."""
    kind = next((k for k in _TRIALS if k == test.id), None)
    if kind is None:
        return None
    counts = writer.say("trial-look" if kind in _LOOKED_AT else "trial-pain")
    picture = TrialPicture(title=f"{test.name}. {test.plain}", kind=kind, labels=(("pain", counts),))
    return Drawing(name=f"test-{test.id}", picture=picture, caption=(), width_mm=width_mm)


def diary_drawing(writer: Writer, days: tuple[str, ...], limit: int, width_mm: float) -> Drawing:
    """A chart of pain over days, to draw by hand."""
    signs = (writer.say("diary-before"), writer.say("diary-during"), writer.say("diary-next-morning"))
    picture = DiaryPicture(
        title=writer.say("picture-diary", count=len(days), limit=limit),
        days=days,
        signs=signs,
        limit=limit,
        limit_word=writer.say("diary-limit", limit=limit),
        pain_word=writer.say("diary-pain"),
    )
    return Drawing(name="diary", picture=picture, caption=text(writer.say("diary-chart-help")), width_mm=width_mm)
