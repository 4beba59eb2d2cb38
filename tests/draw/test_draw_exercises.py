"""Pictures of exercises: who follows them without reading does what the steps say, with the right hand and finger."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import Any
from xml.etree import ElementTree

import pytest
from geometry import angle_between, crossings, points_of

from fingerpost.draw.bodies.whole_side import BEHIND, HandPose
from fingerpost.draw.exercises.exercise import frames_of
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.picture import draw, usual_width
from fingerpost.draw.props.figure import FAR_ASTRIDE, NEAR_ASTRIDE, Person
from fingerpost.model.grammar import choices_of
from fingerpost.model.library import Library
from fingerpost.model.movement import DRAWN_FRAMES, Pose, SceneName
from fingerpost.model.shared import Exercise
from fingerpost.plan.base.pictures import ExercisePicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.step_pictures import exercise_drawing, exercise_gallery

SVG = "{http://www.w3.org/2000/svg}"
COLUMN_MM = 87.0
"""How wide a column of the sheet is that shows how to train."""


def drawn_exercises(library: Library) -> Iterator[tuple[Exercise, tuple[ExercisePicture, ...]]]:
    """Each exercise with the pictures of all its frames, for the ring finger of a left hand."""
    writer = Writer(library)
    for exercise in library.vocabularies.exercises:
        gallery = exercise_gallery(writer, exercise, "left", "ring")
        drawings: Any = gallery.drawings if gallery else ()
        if drawings:
            yield exercise, tuple(drawing.picture for drawing in drawings)


def small_pictures(library: Library) -> dict[str, ExercisePicture]:
    writer = Writer(library)
    made: Any = {e.id: exercise_drawing(writer, e, "left", "ring") for e in library.vocabularies.exercises}
    return {name: drawing.picture for name, drawing in made.items() if drawing}


def size_of(svg: str) -> tuple[float, float]:
    _, _, wide, high = ElementTree.fromstring(svg).attrib["viewBox"].split()
    return float(wide), float(high)


def points_drawn(svg: str, *, shapes: bool = False) -> list[tuple[float, float]]:
    """Every point of the frame itself, without numbers and words. `shapes`: without hatching and other strokes."""
    root = ElementTree.fromstring(svg)
    frame = next(g for g in root.iter(f"{SVG}g") if g.attrib["id"].endswith("-frame"))
    nodes = (n for n in frame.iter(f"{SVG}path") if not shapes or n.attrib["fill"] != "none")
    points = (p for node in nodes for p in points_of(node.attrib["d"]))
    return [(point.real, point.imag) for point in points]


def test_only_a_session_has_no_picture(library: Library) -> None:
    shown = {exercise.id for exercise, _ in drawn_exercises(library)}
    rest = [e for e in library.vocabularies.exercises if e.id not in shown]
    assert [e.counts for e in rest] == ["routes"] * len(rest)
    assert all(e.no_picture for e in rest)


@pytest.mark.parametrize("scene", choices_of(SceneName))
def test_a_scene_draws_as_many_frames_as_the_rules_ask_for(scene: SceneName) -> None:
    poses = (Pose(mcp=20, pip=60, dip=10, thumb="opposed"), Pose(mcp=5, pip=10, dip=5, thumb="wide", before=True))
    asked = () if scene in DRAWN_FRAMES and scene != "pull" else poses[:1] if scene == "pull" else poses
    assert len(frames_of(scene, asked)) == DRAWN_FRAMES.get(scene, len(poses))


def test_a_frame_shows_the_numbers_of_its_steps(library: Library) -> None:
    """A reader goes from a number on the picture to the same number in the list."""
    for exercise, pictures in drawn_exercises(library):
        for picture in pictures:
            root = ElementTree.fromstring(draw(picture, prefix="t"))
            seen = [node.text for node in root.iter(f"{SVG}text") if (node.text or "").isdigit()]
            assert seen == [str(n) for n in picture.numbers], exercise.id
            assert all(1 <= n <= len(exercise.steps) for n in picture.numbers)


def test_a_title_begins_with_what_is_otherwise(library: Library) -> None:
    for exercise, pictures in drawn_exercises(library):
        begins = [" ".join(picture.title.split()[:6]) for picture in pictures]
        assert len(set(begins)) == len(begins), exercise.id
        assert all("left hand" in picture.title for picture in pictures), exercise.id


def test_the_sore_finger_is_named_where_one_moves_alone(library: Library) -> None:
    """It is the one in front: for a ring finger, nobody would look for it there."""
    alone = [p for _, pictures in drawn_exercises(library) for p in pictures if any(q.alone for q in p.poses)]
    assert alone
    assert all("ring finger" in picture.title for picture in alone)


def test_frames_of_an_exercise_stand_on_one_ground(library: Library) -> None:
    """All with the same height below their numbers; what stands lower than the others would seem to have moved."""
    for exercise, pictures in drawn_exercises(library):
        lowest = [max(y for _, y in points_drawn(draw(replace(p, caption=""), prefix="t"))) for p in pictures]
        assert max(lowest) - min(lowest) < 0.6, exercise.id


def test_who_lifts_a_load_has_straight_arms_and_both_feet_on_the_ground() -> None:
    """The words say: arm straight. A bent elbow lifts with the arm, and a foot in the air is another exercise."""
    for frame in frames_of("pull", (Pose(mcp=20, pip=70, dip=0),))[1:]:
        (person,) = (thing for thing in frame.things if isinstance(thing, Person))
        bend = angle_between(person.elbow - person.shoulder, person.hand - person.elbow)
        assert abs(bend) < 8
        assert abs(FAR_ASTRIDE.imag - NEAR_ASTRIDE.imag) < 0.5
        assert FAR_ASTRIDE.real > 0 > NEAR_ASTRIDE.real


def test_three_frames_stand_beside_each_other_in_a_column(library: Library) -> None:
    for exercise, pictures in drawn_exercises(library):
        row = pictures[:3] if len(pictures) != 2 else pictures
        assert sum(usual_width(p) for p in row) + 1.0 * (len(row) - 1) <= COLUMN_MM + 6.5, exercise.id


def test_left_and_right_are_mirrors(library: Library) -> None:
    for exercise, pictures in drawn_exercises(library):
        bare = replace(pictures[-1], caption="", numbers=())
        left, right = (draw(replace(bare, hand=hand), prefix="t") for hand in ("left", "right"))
        wide, _ = size_of(left)
        turned = sorted((round(wide - x, 1), round(y, 1)) for x, y in points_drawn(left, shapes=True))
        there = sorted((round(x, 1), round(y, 1)) for x, y in points_drawn(right, shapes=True))
        assert len(turned) == len(there), exercise.id
        ends = (
            min(x for x, _ in turned) - min(x for x, _ in there),
            max(x for x, _ in turned) - max(x for x, _ in there),
        )
        assert max(map(abs, ends)) < 0.3, exercise.id


def test_no_contour_of_a_pose_crosses_itself(library: Library) -> None:
    """Except where the pad truly meets the palm: a fist."""
    for exercise, pictures in drawn_exercises(library):
        for pose in pictures[0].poses:
            if pose.mcp + pose.pip > 170:
                continue
            hand = HandPose(bends=(pose.mcp, pose.pip, pose.dip), fingers=BEHIND)
            assert crossings(sample(hand.front.contour, 4)) == [], exercise.id


def test_a_small_one_is_no_taller_than_a_row_has_room_for(library: Library) -> None:
    for name, picture in small_pictures(library).items():
        svg = draw(picture, prefix="t")
        wide, high = size_of(svg)
        assert wide == usual_width(picture) == 14.0, name
        assert high <= 15.0, name
        assert "<text" not in svg, name


def test_small_ones_are_told_apart(library: Library) -> None:
    """No two put their points in the same places: in a row of the leaf, only the name stands beside it."""

    def cells(picture: ExercisePicture) -> frozenset[tuple[int, int]]:
        return frozenset((int(x), int(y)) for x, y in points_drawn(draw(picture, prefix="t")))

    filled = {name: cells(picture) for name, picture in small_pictures(library).items()}
    alike = [
        (a, b) for a, b in combinations(filled, 2) if len(filled[a] & filled[b]) > 0.8 * len(filled[a] | filled[b])
    ]
    assert alike == []


def test_a_frame_that_is_none_is_refused(library: Library) -> None:
    _, pictures = next(drawn_exercises(library))
    with pytest.raises(ValueError, match="frames 1 to 5"):
        draw(replace(pictures[0], frame=6), prefix="t")
