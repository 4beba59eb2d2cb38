"""One frame of an exercise: ExercisePicture. Its frames share one scale and one ground, so that start and end can be
compared; a person beside a hand has a scale of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from fingerpost.draw.exercises.held import clasp, push_back, squeeze, stretch_band
from fingerpost.draw.exercises.loads import hang, pull, two_finger_pull
from fingerpost.draw.exercises.lone import press_sideways, wrap
from fingerpost.draw.exercises.posed import Script, posed
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, width_of
from fingerpost.draw.pens.letters import wrap as wrap_words
from fingerpost.draw.pens.svg import MAIN, MM_PER_PT, document, group, words
from fingerpost.draw.props.signs import draw_clock
from fingerpost.draw.props.stage import Frame, draw_badge
from fingerpost.model.movement import Pose, SceneName
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import ExercisePicture

_SCENES: dict[SceneName | None, Callable[[Script], tuple[Frame, ...]]] = {
    None: posed, "ball": squeeze, "band": stretch_band, "push-back": push_back, "clasp": clasp,
    "sideways": press_sideways, "pull": pull, "two-finger-pull": two_finger_pull, "hang": hang, "wrap": wrap,
}  # fmt: skip
EDGE = 0.8
TALL_MM, LEAST_MM, MOST_SCALE = 45.0, 23.0, 0.25
"""How tall a frame is at the most, how narrow at the least, and how large a hand is at the most, as printed."""
NEAR_SCALE: dict[SceneName | None, float] = {"sideways": 0.18, "wrap": 0.36, "pull": 0.4}
"""How large a finger by itself, or one whose joints matter, is at the most."""
SMALL_TALL = 1.04
"""Of its width, how tall a small one is at the most."""


@lru_cache(maxsize=256)
def frames_of(
    scene: SceneName | None, poses: tuple[Pose, ...], small: bool = False, finger: Finger | None = None
) -> tuple[Frame, ...]:
    """All frames of an exercise."""
    return _SCENES[scene](Script(poses, small, finger))


@lru_cache(maxsize=256)
def _usual_scale(scene: SceneName | None, poses: tuple[Pose, ...], finger: Finger | None, far: bool) -> float:
    """At which all frames that are seen from as near have room, as they are printed as a rule."""
    frames = [frame for frame in frames_of(scene, poses, False, finger) if frame.far == far]
    most = 1.0 if far else NEAR_SCALE.get(scene, MOST_SCALE)
    return min(most, *(frame.fit(4 * TALL_MM, TALL_MM) for frame in frames))


def _scale_of(picture: ExercisePicture, frame: Frame) -> float:
    return _usual_scale(picture.scene, picture.poses, picture.finger, frame.far)


def _find_frame(picture: ExercisePicture) -> Frame:
    """The frame that a picture asks for; ValueError where there is none."""
    frames = frames_of(picture.scene, picture.poses, picture.small, picture.finger)
    if not 1 <= picture.frame <= len(frames):
        raise ValueError(f"the exercise has frames 1 to {len(frames)}, not {picture.frame}")
    return frames[picture.frame - 1]


def frame_width(picture: ExercisePicture) -> float:
    """How wide the frame is as it is printed as a rule, mm."""
    frame = _find_frame(picture)
    box = frame.box(frame.place(_scale_of(picture, frame)))
    return round(max(LEAST_MM, box.right - box.left + 2 * EDGE), 1)


def draw_exercise(picture: ExercisePicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    frame = _find_frame(picture)
    return (_draw_small if picture.small else _draw)(frame, picture, prefix, width_mm, text_pt)


def _draw_small(frame: Frame, picture: ExercisePicture, prefix: str, width: float, _: float) -> str:
    room, tall = width - 2 * EDGE, SMALL_TALL * width - 2 * EDGE
    scale = frame.fit(room, tall, fine=True)
    parts, high = _stand(frame, picture, scale, width, EDGE, fine=True)
    return document(picture.title, width, EDGE + high + EDGE, [group(parts, name=f"{prefix}-frame")])


def _stand(
    frame: Frame,
    picture: ExercisePicture,
    scale: float,
    width: float,
    top: float,
    *,
    fine: bool = False,
    tall: float = 0.0,
) -> tuple[list[str], float]:
    """The frame in the middle of its width, on the ground of a room `tall` mm high: (its parts, its height)."""
    about = frame.place(scale, picture.hand, fine=fine)
    box = frame.box(about)
    high = box.bottom - box.top
    left = (width - box.left - box.right) / 2
    place = replace(about, origin=complex(left, top + max(tall - high, 0.0) - box.top))
    return frame.draw(place), high


def _draw(frame: Frame, picture: ExercisePicture, prefix: str, width: float, text_pt: float) -> str:
    ratio = width / frame_width(picture)
    scale = _scale_of(picture, frame) * ratio
    box = frame.box(frame.place(scale))
    if box.right - box.left > width - 2 * EDGE + 0.1:  # signs keep their size where a picture is printed smaller
        scale = frame.fit(width - 2 * EDGE, 4 * TALL_MM * ratio)
    tall = _tallest(picture, ratio)
    em = text_pt * MM_PER_PT
    top = EDGE + 1.5 * em  # also above a start, which has no number: all frames stand on one ground
    parts, _ = _stand(frame, picture, scale, width, top, tall=tall)
    body = [group(parts, name=f"{prefix}-frame")]
    if picture.numbers:
        wide = 1.7 * em
        left = width / 2 - wide * (len(picture.numbers) - 1) / 2
        spots = [complex(left + k * wide, EDGE + 0.64 * em) for k in range(len(picture.numbers))]
        badges = [draw_badge(n, spot, text_pt) for n, spot in zip(picture.numbers, spots, strict=True)]
        body.append(group(badges, name=f"{prefix}-number"))
    bottom = top + tall
    if lines := wrap_words(picture.caption, width - 2 * EDGE, text_pt):
        deep = block_height(len(lines), text_pt)
        words = Extent(left=EDGE, right=width - EDGE, top=bottom + 1.0, bottom=bottom + 1.0 + deep)
        body.append(group([draw_block(lines, words, text_pt, anchor="middle")], name=f"{prefix}-caption"))
        bottom += 1.0 + deep
    if dose := _Dose(picture, text_pt).lay(width, bottom + 1.0):
        body.append(group([part for part, _ in dose], name=f"{prefix}-dose"))
        bottom = dose[-1][1]
    return document(picture.title, width, bottom + EDGE, body)


@dataclass(frozen=True)
class _Dose:
    """How often, and beside a clock for how long, below the words: in a line, or in two where there is no room."""

    picture: ExercisePicture
    size: float

    def lay(self, width: float, top: float) -> list[tuple[str, float]]:
        """Each of the two: how it is drawn, and where it ends."""
        em = self.size * MM_PER_PT
        held, times = self.picture.held, self.picture.times
        parts: list[tuple[float, bool, str]] = []
        if self.picture.clock:
            parts.append((1.5 * em + (0.3 * em + width_of(held, self.size, True) if held else 0.0), True, held))
        if times:
            parts.append((width_of(times, self.size, True), False, times))
        wide = sum(part[0] for part in parts) + 0.9 * em * (len(parts) - 1)
        in_line = wide <= width - 2 * EDGE
        left, found = (width - wide) / 2, []
        for n, (own, clock, said) in enumerate(parts):
            row = top if in_line else top + n * 1.7 * em
            start = left if in_line else (width - own) / 2
            middle = complex(start, row + 0.75 * em)
            drawn = draw_clock(middle + 0.75 * em, 0.7 * em, MAIN) if clock else ""
            at = middle + (1.8 * em if clock else 0) + 0.36j * em
            found.append((drawn + words(said, at, size=self.size, bold=True), row + 1.55 * em))
            left += own + 0.9 * em
        return found


def _tallest(picture: ExercisePicture, ratio: float) -> float:
    """How tall the tallest frame of the exercise is, mm."""
    found = []
    for frame in frames_of(picture.scene, picture.poses, False, picture.finger):
        box = frame.box(frame.place(_scale_of(picture, frame) * ratio))
        found.append(box.bottom - box.top)
    return max(found)
