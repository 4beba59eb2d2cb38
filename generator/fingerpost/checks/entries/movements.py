"""Pictures of exercises: what is drawn can be done, belongs to a step, and is there at all."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fingerpost.checks.base.walk import Part, list_entries
from fingerpost.model.audience import EVERYBODY, Said
from fingerpost.model.library import Library
from fingerpost.model.movement import DRAWN_FRAMES, GRIPPED, MOST_FRAMES, Movement, Pose
from fingerpost.problems import Problem
from fingerpost.reckon.finger import DIP_RANGE, MCP_RANGE, PIP_RANGE

_JOINTS = {"mcp": MCP_RANGE, "pip": PIP_RANGE, "dip": DIP_RANGE}
_STRAIGHTER = 15
"""A joint without a load goes this far beyond straight, degrees."""
_MOST_TIP = 70
"""How far an end joint bends by its own strength, degrees: usual, from memory. What goes further was pressed."""
_BALL, _RADIUS = (60, 100), (25, 120)


def _list_pictures(library: Library) -> Iterator[tuple[Part, Movement]]:
    for part in list_entries(library, "exercises"):
        if part.value.picture:
            yield part, part.value.picture


def find_exercises_without_a_picture(library: Library) -> Iterator[Problem]:
    """An exercise must have a picture; only one that counts routes has none, and must say why."""
    for part in list_entries(library, "exercises"):
        exercise = part.value
        if exercise.no_picture and (exercise.picture or exercise.counts != "routes"):
            message = "an exercise that has a picture, or is one movement, needs no reason why it is not drawn"
            yield part.problem(("no_picture",), message, "Leave the key out.")
        elif not exercise.picture and not exercise.no_picture:
            hint = "Add `picture` with the frames of the movement; of a session on the wall say why: `no_picture`."
            yield part.problem((), f"the exercise '{exercise.id}' has no picture", hint)


def _is_told_to_all(step: Said | Any) -> bool:
    return not isinstance(step, Said) or step.for_ == EVERYBODY


def find_frames_that_show_no_step(library: Library) -> Iterator[Problem]:
    """A frame must show steps that its exercise has and that count alike for every reader, or else the start."""
    for part, movement in _list_pictures(library):
        steps = part.value.steps
        alike = next((n for n, step in enumerate(steps) if not _is_told_to_all(step)), len(steps))
        for number, frame in enumerate(movement.frames):
            for at, step in enumerate(frame.steps):
                path = ("picture", "frames", number, "steps", at)
                if not 1 <= step <= len(steps):
                    yield part.problem(path, f"there is no step {step}", f"The steps are 1 to {len(steps)}.")
                elif step > alike:
                    yield part.problem(path, f"step {step} has another number for some", "Split the exercise.")


def find_frames_that_cannot_be_drawn(library: Library) -> Iterator[Problem]:
    """A picture must have at most five frames, as many as its scene, each with the pose it needs, and a small one."""
    for part, movement in _list_pictures(library):
        count, scene = len(movement.frames), movement.scene
        drawn = DRAWN_FRAMES.get(scene) if scene else None
        if not 1 <= count <= MOST_FRAMES or (drawn and count != drawn):
            need = str(drawn) if drawn else f"1 to {MOST_FRAMES}"
            yield part.problem(("picture", "frames"), f"there are {count} frames; {need} are drawn")
        if not 1 <= movement.small <= max(count, 1):
            yield part.problem(("picture", "small"), f"there is no frame {movement.small}")
        if (scene in GRIPPED) != bool(movement.grip):
            hint = (
                "It is for the scenes 'pull' and 'two-finger-pull', which show a hand on its hold, and only for them."
            )
            yield part.problem(("picture", "grip"), "the grip stands where it is not drawn, or is missing", hint)
        for number, frame in enumerate(movement.frames):
            if bool(frame.pose) == bool(drawn):
                message = "the scene has poses of its own" if drawn else "the pose is missing"
                yield part.problem(("picture", "frames", number), message)
            elif scene == "band" and frame.pose and not frame.pose.thumb:
                yield part.problem(("picture", "frames", number, "pose"), "a band needs a thumb to go round")


def find_presses_of_no_force(library: Library) -> Iterator[Problem]:
    """A hand that presses must say how hard, and one that holds must not."""
    for part, movement in _list_pictures(library):
        for number, frame in enumerate(movement.frames):
            other = frame.pose.other_hand if frame.pose else None
            if other and (other.does == "press") != bool(other.force):
                path = ("picture", "frames", number, "pose", "other_hand")
                message = "how hard it presses is missing" if other.does == "press" else "what holds has no force"
                yield part.problem(path, message, "Write force: lightly, firmly or hard, where it presses.")


def find_holds_that_no_frame_shows(library: Library) -> Iterator[Problem]:
    """An exercise that a plan holds must have a frame that shows what is held."""
    pictures = {part.value.id: movement for part, movement in _list_pictures(library)}
    for document in library.protocols:
        for at, stage in enumerate(document.value.stages):
            for number, dose in enumerate(stage.exercises):
                movement = pictures.get(dose.exercise)
                if dose.hold_seconds and movement and not any(frame.held for frame in movement.frames):
                    message = f"no picture of '{dose.exercise}' shows what is held"
                    hint = "Write held: true at its frame in exercises.yml, or take the time out."
                    yield document.problem(("stages", at, "exercises", number, "hold_seconds"), message, hint)


def find_impossible_poses(library: Library) -> Iterator[Problem]:
    """A pose must be one that a hand without a load can take, and its signs must lie within the picture."""
    for part, movement in _list_pictures(library):
        for number, frame in enumerate(movement.frames):
            for path, value, (least, most) in _list_measures(frame.pose) if frame.pose else ():
                if not least <= value <= most:
                    message = f"{value} must lie between {least} and {most}"
                    yield part.problem(("picture", "frames", number, "pose", *path), message)


def _list_measures(pose: Pose) -> Iterator[tuple[tuple[str, ...], int, tuple[int, int]]]:
    """Each number of a pose: where it stands, what it is, and between what it must lie."""
    for name, (least, most) in _JOINTS.items():
        least, most = (least, most) if name == "mcp" else (max(least, -_STRAIGHTER), most)
        yield (name,), getattr(pose, name), (least, min(most, _MOST_TIP) if name == "dip" else most)
    yield ("ball",), pose.ball, _BALL
    if pose.other_hand:
        yield ("other_hand", "at"), pose.other_hand.at, (10, 90)
    if pose.turning:
        yield ("turning", "radius"), pose.turning.radius, _RADIUS
