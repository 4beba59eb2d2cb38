"""Choose the pictures of what is done step by step, for one hand and one finger: an exercise, or a taping with the
finger it goes to, the check at its end and the mistakes it can have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from fingerpost.model.grammar import choices_of
from fingerpost.model.movement import Movement, MovementSign, Pose, SceneName
from fingerpost.model.protocol import Dose
from fingerpost.model.shared import Exercise, Grip, Structure, TapeScene, TapeStep, Taping
from fingerpost.model.words import Finger, Hand, Side
from fingerpost.plan.base.blocks import Drawing, Gallery
from fingerpost.plan.base.illustrate import EXAMPLE_FINGER, finger_name, side_name
from fingerpost.plan.base.pictures import (
    BACK_SCENES,
    SIDE_SCENES,
    ExercisePicture,
    HandPicture,
    Mistake,
    MovementSignPicture,
    Spot,
    TapeMark,
    TapingPicture,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, strong, text
from fingerpost.reckon.neighbours import list_neighbours

STEP_MM, CHECK_MM, MISTAKE_MM = 39.5, 75.0, 28.5
_JOINED: tuple[TapeScene, ...] = ("near-pair", "far-pair")
"""The steps in which the first and the second strip are laid round two fingers."""
_CHOOSING: tuple[TapeScene, ...] = ("hurt-side", "stronger", "sore-web")
"""The steps that say which finger it goes to."""


@dataclass(frozen=True, kw_only=True)
class Worn:
    """Whose taping it is: the hand, the sore finger, the one that it is joined to, the side that is hurt.

    `strips`: length and width in mm of each strip that is cut for this person, and its letter where they differ.
    """

    taping: Taping
    hand: Hand
    finger: Finger
    partner: Finger | None = None
    side: Side | None = None
    strips: tuple[tuple[int, int, str], ...] = ()

    @property
    def wrong(self) -> Finger | None:
        """The neighbour on the other side, for a finger that has two."""
        beside = (f for f in list_neighbours(self.finger) if f != self.partner)
        return next(beside, None) if self.partner else None

    @property
    def hurt(self) -> Spot | None:
        """What a picture marks of it where the side that is hurt says which finger it goes to."""
        scenes = {step.draws for step in self.taping.steps}
        if "sore-web" in scenes and self.side:
            return Spot(landmark="lumbrical", finger=self.finger, side=self.side)
        return Spot(landmark="pip", finger=self.finger, side=self.side) if "hurt-side" in scenes and self.side else None


def lies_there(taping: Taping, place: Structure) -> bool:
    """Whether a ring is drawn where it lies for a place. Where it lies for the A3 pulley, a therapist decides."""
    return taping.level not in ("a2", "a4") or place.kind != "pulley" or place.landmark == taping.level


def _seen_from(writer: Writer, scene: TapeScene) -> str:
    if scene in SIDE_SCENES:
        return writer.say("frame-from-the-side")
    return writer.say("frame-from-the-back" if scene in BACK_SCENES else "frame-palm-up")


def _title(writer: Writer, worn: Worn, says: str, view: str) -> str:
    return writer.say(
        "picture-frame-buddy" if worn.partner else "picture-frame",
        hand=worn.hand,
        finger=finger_name(writer, worn.finger),
        partner=finger_name(writer, worn.partner) if worn.partner else "",
        taping=worn.taping.name,
        view=view,
        caption=says,
    )


def _picture(writer: Writer, worn: Worn, number: int, step: TapeStep) -> TapingPicture:
    says = [writer.say("step-number", number=number)]
    scene = step.draws
    notes: tuple[str, ...] = ()
    if scene == "cut":
        says += [writer.say("step-strip", length=length, width=width, letter=a) for length, width, a in worn.strips]
    if scene in _CHOOSING:
        says += [writer.say("step-not", finger=finger_name(writer, worn.wrong))] if worn.wrong else []
    if scene in ("into-splint", "free-joints"):
        free = (writer.say("joint-free"),) if scene == "free-joints" else ()
        notes = (writer.say(f"joint-held-{worn.taping.level}"), *free)
    return TapingPicture(
        title=_title(writer, worn, " ".join(" ".join(says).split()), _seen_from(writer, scene)),
        kind=worn.taping.kind,
        level=worn.taping.level,
        hand=worn.hand,
        finger=worn.finger,
        partner=worn.partner,
        draws=scene,
        strips=worn.strips if scene == "cut" else (),
        hurt=worn.hurt if scene in _CHOOSING else None,
        notes=notes,
        wrong_partner=worn.wrong if scene in _CHOOSING else None,
    )


def _letter(worn: Worn, scene: TapeScene) -> Words:
    """Which strip a step is about, where they differ."""
    at = _JOINED.index(scene) if scene in _JOINED else len(worn.strips)
    return strong(f"{worn.strips[at][2]}: ") if at < len(worn.strips) and worn.strips[at][2] else ()


def tape_steps(writer: Writer, worn: Worn, width_mm: float = STEP_MM) -> Gallery:
    """One picture a step: its number is that of the step, and its caption is what the step says."""
    drawings = []
    for number, step in enumerate(worn.taping.steps, 1):
        says = (*_letter(worn, step.draws), *writer.words(step.says))
        name = f"step-{worn.taping.id}-{number}"
        picture = _picture(writer, worn, number, step)
        drawings.append(Drawing(name=name, picture=picture, caption=says, width_mm=width_mm))
    return Gallery(caption=writer.say("steps-caption", hand=worn.hand), drawings=tuple(drawings), steps=True)


def small_steps(writer: Writer, worn: Worn) -> tuple[Drawing, ...]:
    """The steps that a leaf shows, without numbers: it shows some only, and their captions tell the order."""
    drawings = []
    for number, step in enumerate(worn.taping.steps, 1):
        if step.brief:
            picture = _picture(writer, worn, number, step)
            caption = (*_letter(worn, step.draws), *text(step.brief))
            name = f"step-{worn.taping.id}-{number}"
            drawings.append(Drawing(name=name, picture=_make_small(picture), caption=caption))
    return tuple(drawings)


def _make_small(picture: TapingPicture) -> TapingPicture:
    return replace(picture, small=True, notes=())


def check_drawing(writer: Writer, worn: Worn) -> Drawing:
    """What is worn, the three signs of the check, and that it comes off where one of them fails."""
    notes = tuple(writer.say(f"check-{sign}") for sign in ("colour", "warmth", "feeling", "off"))
    says = " ".join(f"{note.rstrip('.')}." for note in notes)
    picture = TapingPicture(
        title=_title(writer, worn, says, writer.say("frame-palm-up")),
        kind=worn.taping.kind,
        level=worn.taping.level,
        hand=worn.hand,
        finger=worn.finger,
        partner=worn.partner,
        draws="check",
        notes=notes,
    )
    return Drawing(name=f"check-{worn.taping.id}", picture=picture, caption=(), width_mm=CHECK_MM)


def list_mistakes(worn: Worn) -> tuple[Mistake, ...]:
    """The mistakes that are drawn. 'wrong-finger' is none for a finger that has only one beside it."""
    taping = worn.taping
    if taping.kind == "splint":
        return ("pad-on-back",) if taping.level in ("a2", "a4") else ("strap-on-joint",)
    if worn.partner:
        return ("over-joint", "too-tight", *(("wrong-finger",) if worn.wrong else ()))
    if taping.kind == "h-strip":
        return ("over-joint", "too-tight", "cut-bridge")
    return (
        ("over-joint", "too-tight", "too-low")
        if (taping.kind, taping.level) == ("ring", "a2")
        else (
            "over-joint",
            "too-tight",
        )
    )


def mistakes_drawing(writer: Writer, worn: Worn) -> Drawing:
    """The usual mistakes, struck out, each with its words."""
    mistakes = list_mistakes(worn)
    partner = finger_name(writer, worn.wrong) if worn.wrong else ""
    notes = tuple(writer.say(f"mistake-{m}", partner=partner) for m in mistakes)
    says = " ".join(f"{note.rstrip('.')}." for note in notes)
    view = {"strap-on-joint": "frame-from-the-side", "pad-on-back": "frame-from-the-back"}.get(mistakes[0])
    picture = TapingPicture(
        title=_title(writer, worn, says, writer.say(view or "frame-palm-up")),
        kind=worn.taping.kind,
        level=worn.taping.level,
        hand=worn.hand,
        finger=worn.finger,
        partner=worn.partner,
        draws="mistakes",
        notes=notes,
        mistakes=mistakes,
        wrong_partner=worn.wrong if "wrong-finger" in mistakes else None,
    )
    width = MISTAKE_MM * len(mistakes)
    return Drawing(name=f"mistakes-{worn.taping.id}", picture=picture, caption=(), width_mm=width)


def tape_drawing(writer: Writer, worn: Worn, width_mm: float | None = None) -> Drawing:
    """The taped finger, and the one that it is taped to; what is hurt is marked where it says which one that is."""
    taping, hand, finger, partner, hurt = worn.taping, worn.hand, worn.finger, worn.partner, worn.hurt
    mark = TapeMark(kind=taping.kind, level=taping.level, finger=finger, partner=partner)
    if partner:
        title = writer.say(
            "picture-buddy", hand=hand, finger=finger_name(writer, finger), partner=finger_name(writer, partner)
        )
    else:
        title = writer.say("picture-tape", hand=hand, finger=finger_name(writer, finger), taping=taping.name)
    if hurt and hurt.side:
        phrase = "picture-hurt-web" if hurt.landmark == "lumbrical" else "picture-hurt-side"
        title = f"{title} {writer.say(phrase, side=side_name(writer, hurt.side))}"
    picture = HandPicture(
        title=title,
        hand=hand,
        view="palm",
        spots=(hurt,) if hurt else (),
        tapes=(mark,),
        hand_name=writer.say("hand-name", hand=hand, view="palm"),
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
            title = writer.say("movement-sign-title", says=says)
            picture = MovementSignPicture(title=title, sign=sign, says=says)
            drawings.append(Drawing(name=f"movement-sign-{sign}", picture=picture, caption=()))
    return Gallery(caption=writer.say("movement-signs"), drawings=tuple(drawings)) if drawings else None
