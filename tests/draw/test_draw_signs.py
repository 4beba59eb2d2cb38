"""Signs in pictures of exercises and hands-on tests: each has one meaning, and a key explains those that are drawn.

Who cannot read goes by them: an arrow that moves must not look like one that pushes, and a light push not like a hard.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any
from xml.etree import ElementTree

import pytest

from fingerpost.draw.exercises.exercise import frames_of
from fingerpost.draw.pens.svg import BLACK, INK, PALE, Position
from fingerpost.draw.picture import draw
from fingerpost.draw.props.shapes import Felt
from fingerpost.draw.props.signs import Arrow, Barred, Bones, Eye, FingerKey, Pivot, PushArrow
from fingerpost.draw.trials.trial import TRIALS
from fingerpost.draw.trials.trial_parts import WORDS, Trial
from fingerpost.model.grammar import choices_of
from fingerpost.model.library import Library
from fingerpost.model.movement import Force, Movement, MovementSign
from fingerpost.model.protocol import Dose
from fingerpost.model.shared import Exercise, Test
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.illustrate import trial_drawing
from fingerpost.plan.base.pictures import ExercisePicture, MovementSignPicture, TrialPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.step_pictures import exercise_gallery, list_movement_signs, movement_key

SVG = "{http://www.w3.org/2000/svg}"
ONE_FINGER = (
    "blocked-middle-bend", "blocked-tip-bend", "straightening-hold", "sideways-press", "two-finger-pull",
    "swelling-wrap",
)  # fmt: skip
KINDS: dict[type, MovementSign] = {
    PushArrow: "pushes", Barred: "still", Pivot: "joint", Bones: "bend", FingerKey: "fingers", Felt: "felt",
    Eye: "look",
}  # fmt: skip


def list_drawn(library: Library) -> Iterator[tuple[Exercise, Movement, list[ExercisePicture]]]:
    writer = Writer(library)
    for exercise in library.vocabularies.exercises:
        gallery = exercise_gallery(writer, exercise, "left", "little")
        if gallery and exercise.picture:
            pictures: list[Any] = [drawing.picture for drawing in gallery.drawings]
            yield exercise, exercise.picture, pictures


def find_signs(picture: ExercisePicture) -> set[MovementSign]:
    """What stands in all frames of the exercise of a picture."""
    found: set[MovementSign] = set()
    for frame in frames_of(picture.scene, picture.poses, picture.small, picture.finger):
        for thing in frame.things:
            if type(thing) in KINDS:
                found.add(KINDS[type(thing)])
            if isinstance(thing, Arrow):
                found.add("there-and-back" if thing.both else "moves")
            if f'fill="{PALE}"' in thing.draw(Position()):
                found.add("other-hand")
    return found


def test_the_key_explains_each_sign_that_is_drawn_and_no_other(library: Library) -> None:
    """Dashed lines also stand at cuts, and a clock below the words, so that these two are told from the plan."""
    for exercise, movement, pictures in list_drawn(library):
        planned = list_movement_signs(movement)
        assert planned - {"before", "clock"} == find_signs(pictures[0]), exercise.id
        assert ("clock" in planned) == any(p.clock for p in pictures), exercise.id
        assert ("before" in planned) == any(pose.before for pose in pictures[0].poses), exercise.id


def test_a_key_holds_no_sign_twice_and_none_that_is_not_there(library: Library) -> None:
    known = {e.id: e for e in library.vocabularies.exercises}
    key = movement_key(Writer(library), [known["swelling-wrap"], known["two-finger-pull"], known["easy-wall"]])
    assert key
    signs = [d.picture.sign for d in key.drawings if isinstance(d.picture, MovementSignPicture)]
    assert signs == ["moves", "there-and-back", "fingers", "look", "clock"]
    assert movement_key(Writer(library), [known["easy-wall"]]) is None


@pytest.mark.parametrize("finger", FINGERS)
def test_the_small_hand_shows_the_sore_finger_black(library: Library, finger: Finger) -> None:
    """Where one finger moves or is held, nothing else in the picture says which."""
    writer = Writer(library)
    for exercise in library.vocabularies.exercises:
        if exercise.id not in ONE_FINGER:
            continue
        gallery = exercise_gallery(writer, exercise, "left", finger)
        assert gallery
        pictures: list[Any] = [drawing.picture for drawing in gallery.drawings]
        assert {p.finger for p in pictures} == {finger}, exercise.id
        frames = frames_of(pictures[0].scene, pictures[0].poses, False, finger)
        keys = [thing for frame in frames for thing in frame.things if isinstance(thing, FingerKey)]
        assert keys, exercise.id
        assert all(finger in key.working for key in keys), exercise.id


def test_on_a_page_of_nobody_the_small_hand_shows_an_example(library: Library) -> None:
    known = {e.id: e for e in library.vocabularies.exercises}
    for name in ONE_FINGER:
        gallery = exercise_gallery(Writer(library), known[name], "right")
        assert gallery
        assert all(getattr(d.picture, "finger", None) == "ring" for d in gallery.drawings), name


def test_the_index_of_the_small_hand_lies_at_its_thumb() -> None:
    """On the left hand's back the thumb is at the right, and on the right hand's at the left."""
    for flip in (False, True):
        shapes = ElementTree.fromstring(f"<g>{FingerKey(0j, ('index',)).draw(Position(flip=flip))}</g>")
        black = next(n for n in shapes if n.attrib["fill"] == BLACK)
        thumb = shapes[0]
        across = [float(n.attrib["d"][1:].split(" ")[0]) for n in (black, thumb)]
        assert (across[0] < 0) == (across[1] < 0) == flip


@pytest.mark.parametrize("force", [1, 2, 3])
def test_of_three_bars_as_many_are_filled_as_it_pushes_hard(force: int) -> None:
    root = ElementTree.fromstring(f"<g>{PushArrow(0j, 0, force=force).draw(Position())}</g>")
    bars = [node.attrib["fill"] == INK for node in root][1:]
    assert bars == [k < force for k in range(3)]


def test_a_harder_push_is_a_wider_arrow_where_bars_have_no_room() -> None:
    wide = []
    for force in (1, 2, 3):
        cover = PushArrow(0j, 0, force=force).cover(Position(fine=True))
        wide.append(max(p.imag for p in cover) - min(p.imag for p in cover))
    assert wide[0] < wide[1] < wide[2]


def test_arrows_go_back_where_the_movement_does(library: Library) -> None:
    """One way only: straightening against stiffness, stretches, and winding a wrap."""
    one_way = {e.id for e, movement, _ in list_drawn(library) if "moves" in list_movement_signs(movement)}
    assert one_way == {"straightening-hold", "lumbrical-stretch", "forearm-stretch", "swelling-wrap", "feet-on-hang"}


def test_frames_say_how_often_and_how_long_in_the_words_of_the_dose(library: Library) -> None:
    known = {e.id: e for e in library.vocabularies.exercises}
    dose = Dose(exercise="swelling-wrap", sets=1, hold_seconds=900, source="own")
    gallery = exercise_gallery(Writer(library), known["swelling-wrap"], "left", "ring", dose)
    assert gallery
    pictures: list[Any] = [d.picture for d in gallery.drawings]
    assert [p.held for p in pictures] == ["", "15 min", ""]
    assert not any(p.times for p in pictures)
    again = Dose(exercise="table-bend", sets=2, repeats=8, hold_seconds=5, source="own")
    gallery = exercise_gallery(Writer(library), known["table-bend"], "left", "ring", again)
    assert gallery
    svg = draw(gallery.drawings[-1].picture, prefix="t")
    words = [node.text for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]
    assert words[-2:] == ["5 s", "8 ×"]


def test_what_nobody_was_told_to_do_has_no_number(library: Library) -> None:
    for exercise, _, pictures in list_drawn(library):
        assert not any(p.times or p.held for p in pictures), exercise.id


def list_trials(library: Library) -> Iterator[tuple[Test, TrialPicture, Trial, str]]:
    """Each hands-on test, what is drawn of it, and the words below it."""
    for test in library.vocabularies.tests:
        drawing = trial_drawing(Writer(library), test)
        if drawing and isinstance(drawing.picture, TrialPicture):
            yield test, drawing.picture, TRIALS[drawing.picture.kind](drawing.picture), plain(drawing.caption)


def test_each_arrow_of_a_hands_on_test_has_its_word(library: Library) -> None:
    """The shapes are those of the exercises, and a word that stands at two of them would tell neither."""
    assert set(WORDS.values()) == {"push", "move", "slide"}
    for test, picture, trial, _ in list_trials(library):
        wanted = {WORDS[type(sign)] for sign in trial.signs}
        words = {node.text for node in ElementTree.fromstring(draw(picture, prefix="t")).iter(f"{SVG}text")}
        assert words & {"push", "move", "slide"} == wanted, test.id


def test_bars_stand_on_a_hands_on_test_that_says_lightly(library: Library) -> None:
    """A push without bars where the words say gently, or bars that no word speaks of, would be another test."""
    for test, _, trial, below in list_trials(library):
        forces = {sign.force for sign in trial.signs if isinstance(sign, PushArrow)}
        gentle = re.search("light|gent", " ".join((test.plain, *test.how)))
        assert forces <= {0, 1}, test.id
        assert (1 in forces) == ("lightly" in below), test.id
        assert bool(gentle) or 1 not in forces, test.id
        assert not gentle or 0 not in forces, test.id


def test_below_a_hands_on_test_stands_whose_hand_is_grey(library: Library) -> None:
    for test, _, trial, below in list_trials(library):
        grey = f'fill="{PALE}"' in "".join(trial.draw(Position()))
        assert grey == below.startswith("Grey:"), test.id
        assert ("clinician" in below) == (grey and test.who == "clinician"), test.id


def test_nothing_is_pushed_on_a_finger_that_may_be_infected(library: Library) -> None:
    trial = next(trial for test, _, trial, _ in list_trials(library) if test.id == "infection-look")
    assert not any(isinstance(sign, PushArrow) for sign in trial.signs)


def test_a_dashed_finger_is_where_it_was_and_not_where_it_should_go(library: Library) -> None:
    """The key says: how it was before. A hanging tip starts hanging, and an infected finger stays as it is."""
    dashed = {test.id for test, _, trial, _ in list_trials(library) if trial.ghosts}
    assert dashed == {test.id for test, _, _, below in list_trials(library) if "Dashed" in below}
    assert dashed == {"deep-flexor-alone", "end-of-range", "passive-straightening"}


def test_only_the_force_that_exercises_ask_for_can_be_written(library: Library) -> None:
    """A light hold drawn with two or three bars would be pushed hard."""
    movements = [exercise.picture for exercise in library.vocabularies.exercises if exercise.picture]
    hands = [frame.pose.other_hand for m in movements for frame in m.frames if frame.pose and frame.pose.other_hand]
    assert {hand.force for hand in hands if hand.force} == set(choices_of(Force))
