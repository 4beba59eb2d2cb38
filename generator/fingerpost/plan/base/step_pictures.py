"""Choose the pictures of what is done step by step, for one hand and one finger: an exercise, or a taping with the
finger it goes to and the mistakes it can have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from fingerpost.model.grammar import choices_of
from fingerpost.model.movement import Movement, MovementSign, Pose, SceneName
from fingerpost.model.protocol import Dose
from fingerpost.model.shared import Exercise, Grip, Structure, Taping, TapingKind
from fingerpost.model.words import Finger, Hand
from fingerpost.plan.base.blocks import Drawing, Gallery, text
from fingerpost.plan.base.illustrate import EXAMPLE_FINGER, finger_name
from fingerpost.plan.base.pictures import (
    SIDE_FRAMES,
    TAPING_FRAMES,
    TAPING_MISTAKES,
    ExercisePicture,
    HandPicture,
    Mistake,
    MovementSignPicture,
    TapeMark,
    TapingPicture,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.reckon.neighbours import list_neighbours

FRAME_MM, FIRST_MM, BUDDY_MM = 38.0, 48.0, 53.0
# The check and the mistakes stand in a row of their own, so that a page has room for it below the steps.
CHECK_MM, BUDDY_CHECK_MM, MISTAKE_MM = 65.0, 75.0, 30.0


def _drawn_kind(taping: Taping) -> TapingKind:
    """What a taping looks like: of what somebody has made, a ring and loops look like those of tape."""
    made: dict[str, TapingKind] = {"a2": "ring", "a4": "ring", "proximal-and-middle": "buddy"}
    return made.get(taping.level, taping.kind) if taping.kind == "splint" else taping.kind


def lies_there(taping: Taping, place: Structure) -> bool:
    """Whether a ring is drawn where it lies for a place. Where it lies for the A3 pulley, a therapist decides."""
    return taping.level not in ("a2", "a4") or place.kind != "pulley" or place.landmark == taping.level


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
    wrong = next((f for f in list_neighbours(finger) if f != partner), None) if partner else None
    mistakes = tuple(m for m in TAPING_MISTAKES[kind] if wrong or m != "wrong-finger")

    def frame(number: int) -> Drawing:
        notes = _frame_notes(writer, kind, number, mistakes, wrong)
        caption = writer.say(f"frame-{kind}-{number}") if number else ""
        says = f"{caption} {' '.join(f'{n.rstrip(chr(46))}.' for n in notes)}".strip()
        title = writer.say(
            "picture-frame-buddy" if partner else "picture-frame",
            hand=hand,
            finger=finger_name(writer, finger),
            partner=finger_name(writer, partner) if partner else "",
            taping=taping.name,
            view=writer.say("frame-from-the-side" if (kind, number) in SIDE_FRAMES else "frame-palm-up"),
            caption=says,
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
            mistakes=() if number else mistakes,
            wrong_partner=None if number else wrong,
        )
        width = _frame_width(kind, number, len(mistakes))
        return Drawing(name=f"frame-{taping.id}-{number}", picture=picture, caption=(), width_mm=width)

    numbers = (*range(1, TAPING_FRAMES[kind] + 1), 0)
    return Gallery(caption=writer.say("frames-caption", hand=hand), drawings=tuple(frame(n) for n in numbers))


def _frame_notes(
    writer: Writer, kind: TapingKind, number: int, mistakes: tuple[Mistake, ...], wrong: Finger | None
) -> tuple[str, ...]:
    """The short words inside a frame: under each mistake, or beside each sign of the check."""
    if number == 0:
        partner = finger_name(writer, wrong) if wrong else ""
        return tuple(writer.say(f"mistake-{m}", partner=partner) for m in mistakes)
    if number == TAPING_FRAMES[kind]:
        return tuple(writer.say(f"check-{sign}") for sign in ("colour", "warmth", "feeling"))
    return ()


def _frame_width(kind: TapingKind, number: int, mistakes: int) -> float:
    """Wider where whole hands are drawn, so that fingers are as large as on frames of one finger."""
    if number == 0:
        return MISTAKE_MM * mistakes
    if number == TAPING_FRAMES[kind]:
        return BUDDY_CHECK_MM if kind == "buddy" else CHECK_MM
    if kind == "buddy":
        return BUDDY_MM
    return FIRST_MM if number == 1 else FRAME_MM


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


_ONE_FINGER: tuple[SceneName, ...] = ("sideways", "wrap", "two-finger-pull")
"""Scenes that are about one finger."""


def _list_poses(movement: Movement, grips: tuple[Grip, ...]) -> tuple[Pose, ...]:
    """Those of all frames; of a pull that of its grip, with the angles of grips.yml."""
    if movement.scene == "pull":
        angles = next(grip.angles for grip in grips if grip.id == movement.grip)
        return (Pose(mcp=angles.mcp, pip=angles.pip, dip=angles.dip),) if angles else ()
    return tuple(frame.pose for frame in movement.frames if frame.pose)


def _is_about_one(movement: Movement) -> bool:
    """Whether it is done with one finger, or otherwise with it than with the others."""
    return movement.scene in _ONE_FINGER or any(frame.pose and frame.pose.alone for frame in movement.frames)


@dataclass(frozen=True)
class _Shown:
    """What the frames of an exercise have in common. No `finger`: of nobody. No `dose`: how often is not said."""

    exercise: Exercise
    movement: Movement
    hand: Hand
    finger: Finger | None
    dose: Dose | None = None


def _frame(writer: Writer, shown: _Shown, number: int, *, small: bool) -> Drawing:
    exercise, movement, finger = shown.exercise, shown.movement, shown.finger
    frame = movement.frames[number - 1]
    alone = movement.scene in _ONE_FINGER or bool(frame.pose and frame.pose.alone)
    title = writer.say(
        "picture-exercise-finger" if alone else "picture-exercise",
        shows=frame.shows,
        exercise=exercise.name,
        hand=shown.hand,
        finger=finger_name(writer, finger) if finger else writer.say("sore-finger"),
    )
    last = number == len(movement.frames)
    picture = ExercisePicture(
        title=title,
        scene=movement.scene,
        poses=_list_poses(movement, writer.library.vocabularies.grips),
        frame=number,
        hand=shown.hand,
        finger=(finger or EXAMPLE_FINGER) if _is_about_one(movement) else None,
        numbers=() if small else frame.steps,
        times=_say_times(writer, shown.dose) if last and not small else "",
        clock=frame.held and not small,
        held=_say_held(writer, shown.dose) if frame.held and not small else "",
        caption="" if small else frame.caption,
        small=small,
    )
    return Drawing(name=f"exercise-{exercise.id}-{number}", picture=picture, caption=())


def _say_times(writer: Writer, dose: Dose | None) -> str:
    """How often in a row, in a word; nothing for once."""
    return writer.say("frame-times", count=dose.repeats) if dose and dose.repeats and dose.repeats > 1 else ""


def _say_held(writer: Writer, dose: Dose | None) -> str:
    """For how long, in a word; nothing where no plan says it."""
    seconds = (dose and dose.hold_seconds) or 0
    if seconds >= 60 and seconds % 60 == 0:
        return writer.say("frame-minutes", count=seconds // 60)
    return writer.say("frame-seconds", count=seconds) if seconds else ""


def exercise_gallery(
    writer: Writer, exercise: Exercise, hand: Hand, finger: Finger | None = None, dose: Dose | None = None
) -> Gallery | None:
    """All frames with the numbers of the steps that they show; None for a session. No `finger`: of nobody. `dose`: how
    often and for how long, which the frames then say.

    What the numbers are, the page or sheet says once.
    """
    movement = exercise.picture
    if movement is None:
        return None
    shown = _Shown(exercise, movement, hand, finger, dose)
    drawings = tuple(_frame(writer, shown, n, small=False) for n in range(1, len(movement.frames) + 1))
    return Gallery(caption="", drawings=drawings)


def exercise_drawing(writer: Writer, exercise: Exercise, hand: Hand, finger: Finger) -> Drawing | None:
    """The one frame that stands for all, for a row; None for a session."""
    movement = exercise.picture
    if movement is None:
        return None
    return _frame(writer, _Shown(exercise, movement, hand, finger), movement.small, small=True)


_IN_SCENES: dict[SceneName, tuple[MovementSign, ...]] = {
    "ball": ("pushes",), "band": ("there-and-back",), "push-back": ("other-hand", "pushes"),
    "clasp": ("other-hand", "moves", "pushes", "felt"), "sideways": ("fingers", "other-hand", "pushes", "still"),
    "pull": ("fingers", "there-and-back", "bend"), "two-finger-pull": ("fingers", "there-and-back"),
    "hang": ("moves", "there-and-back"), "wrap": ("fingers", "moves", "look"),
}  # fmt: skip


def list_movement_signs(movement: Movement) -> frozenset[MovementSign]:
    """The signs that stand in its pictures."""
    found: list[MovementSign] = [*(_IN_SCENES[movement.scene] if movement.scene else ())]
    for frame in movement.frames:
        found += ["clock"] if frame.held else []
        pose = frame.pose
        if pose is None:
            continue
        found += ["fingers"] if pose.alone else []
        found += ["other-hand"] if pose.other_hand else []
        found += ["pushes"] if pose.other_hand and pose.other_hand.force else []
        found += ["before"] if pose.before else []
        found += ["joint"] if pose.spot else []
        if pose.turning:
            found.append("there-and-back" if pose.turning.back else "moves")
    return frozenset(found)


def movement_key(writer: Writer, exercises: Iterable[Exercise]) -> Gallery | None:
    """What the signs in the pictures of these exercises mean; None where they have none."""
    found = {sign for exercise in exercises if exercise.picture for sign in list_movement_signs(exercise.picture)}
    drawings = []
    for sign in choices_of(MovementSign):
        if sign in found:
            says = writer.say(f"movement-sign-{sign}")
            picture = MovementSignPicture(title=says, sign=sign, says=says)
            drawings.append(Drawing(name=f"movement-sign-{sign}", picture=picture, caption=()))
    return Gallery(caption=writer.say("movement-signs"), drawings=tuple(drawings)) if drawings else None
