"""Choose the pictures of an exercise: its frames in their order, for one hand and one sore finger."""

from __future__ import annotations

from fingerpost.model.movement import Movement, Pose
from fingerpost.model.shared import Exercise, Grip
from fingerpost.model.words import Finger, Hand
from fingerpost.plan.base.blocks import Drawing, Gallery
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.pictures import ExercisePicture
from fingerpost.plan.base.prose import Writer

_ONE_FINGER = ("sideways", "wrap")


def _list_poses(movement: Movement, grips: tuple[Grip, ...]) -> tuple[Pose, ...]:
    """Those of all frames; of a pull that of its grip, with the angles of grips.yml."""
    if movement.scene == "pull":
        angles = next(grip.angles for grip in grips if grip.id == movement.grip)
        return (Pose(mcp=angles.mcp, pip=angles.pip, dip=angles.dip),) if angles else ()
    return tuple(frame.pose for frame in movement.frames if frame.pose)


def _frame(
    writer: Writer, exercise: Exercise, movement: Movement, number: int, hand: Hand, finger: Finger | None, small: bool
) -> Drawing:
    frame = movement.frames[number - 1]
    alone = movement.scene in _ONE_FINGER or bool(frame.pose and frame.pose.alone)
    title = writer.say(
        "picture-exercise-finger" if alone else "picture-exercise",
        shows=frame.shows,
        exercise=exercise.name,
        hand=hand,
        finger=finger_name(writer, finger) if finger else writer.say("sore-finger"),
    )
    picture = ExercisePicture(
        title=title,
        scene=movement.scene,
        poses=_list_poses(movement, writer.library.vocabularies.grips),
        frame=number,
        hand=hand,
        numbers=() if small else frame.steps,
        caption="" if small else frame.caption,
        small=small,
    )
    return Drawing(name=f"exercise-{exercise.id}-{number}", picture=picture, caption=())


def exercise_gallery(writer: Writer, exercise: Exercise, hand: Hand, finger: Finger | None = None) -> Gallery | None:
    """All frames with the numbers of the steps that they show; None for a session. No `finger`: of nobody.

    What the numbers are, the page or sheet says once.
    """
    movement = exercise.picture
    if movement is None:
        return None
    count = len(movement.frames)
    drawings = tuple(_frame(writer, exercise, movement, n, hand, finger, small=False) for n in range(1, count + 1))
    return Gallery(caption="", drawings=drawings)


def exercise_drawing(writer: Writer, exercise: Exercise, hand: Hand, finger: Finger) -> Drawing | None:
    """The one frame that stands for all, for a row; None for a session."""
    movement = exercise.picture
    return _frame(writer, exercise, movement, movement.small, hand, finger, small=True) if movement else None
