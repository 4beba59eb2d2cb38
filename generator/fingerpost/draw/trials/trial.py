"""A hands-on test as one frame: TrialPicture."""

from __future__ import annotations

from collections.abc import Callable

from fingerpost.draw.pens.labels import Callout, Label, Silhouette, around, draw_label, place_labels
from fingerpost.draw.pens.svg import Position, document, group
from fingerpost.draw.trials import trial_hand as hand
from fingerpost.draw.trials import trial_side as side
from fingerpost.draw.trials.trial_parts import Trial
from fingerpost.plan.base.pictures import TrialKind, TrialPicture

EDGE = 1.0
TRIALS: dict[TrialKind, Callable[[TrialPicture], Trial]] = {
    "point-pressure": hand.point_pressure,
    "crimp-against-open": side.crimp_or_open,
    "bowstring-check": side.bowstring_check,
    "resisted-bending": side.resisted_bending,
    "deep-flexor-alone": side.deep_flexor,
    "surface-flexor-alone": side.surface_flexor,
    "side-stress": hand.side_stress,
    "lumbrical-stress": hand.lumbrical_stress,
    "joint-squeeze": hand.joint_squeeze,
    "end-of-range": side.end_of_range,
    "passive-straightening": side.passive_straightening,
    "middle-joint-bent-press": side.bent_press,
    "tip-hold": side.tip_hold,
    "table-top": side.table_top,
    "fist-lines": hand.fist_lines,
    "full-fist-full-straight": hand.fist_and_straight,
    "little-finger-pull": hand.little_finger_pull,
    "infection-look": side.infection_look,
    "press-and-refill": hand.press_and_refill,
    "night-tingling-check": hand.night_tingling,
    "back-of-joint-press": side.back_press,
    "knuckle-watch": hand.knuckle_watch,
}


def draw_trial(picture: TrialPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    trial = TRIALS[picture.kind](picture)
    box = around(trial.place(1.0).points(trial.extent()))
    scale = (width_mm - 2 * EDGE) / max(box.right - box.left, 0.95 * (box.bottom - box.top))
    while True:
        place = trial.place(scale)
        labels = _labels(picture, trial, place, width_mm, text_pt)
        bounds = around(trial.frame(place), [label.box for label in labels])
        if bounds.right - bounds.left <= width_mm - 2 * EDGE or scale < 0.08:
            break
        scale *= 0.97
    shift = complex((width_mm - (bounds.right - bounds.left)) / 2 - bounds.left, EDGE - bounds.top)
    place = trial.place(scale, shift)
    labels = _labels(picture, trial, place, width_mm, text_pt)
    body = [group(trial.draw(place), name=f"{prefix}-trial"), group(map(draw_label, labels), name=f"{prefix}-labels")]
    return document(picture.title, width_mm, bounds.bottom - bounds.top + 2 * EDGE, body)


def _labels(picture: TrialPicture, trial: Trial, place: Position, width: float, size: float) -> list[Label]:
    """Words above or below, on the side that is nearer to their place."""
    box = around(trial.frame(place))
    middle = (box.top + box.bottom) / 2
    callouts = []
    for name, text in picture.labels:
        at = trial.spot_of(name, place)
        if at is not None and text:
            callouts.append(Callout(text=text, target=at, where="above" if at.imag < middle else "below"))
    return place_labels(callouts, Silhouette([box.corners]), 0.44 * width, size)
