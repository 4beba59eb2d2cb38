"""Choose the pictures: which hand and finger, what is marked, what lies under the skin. `draw` only draws."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby

from fingerpost.model.grammar import choices_of
from fingerpost.model.protocol import Grade, Protocol, Referral, Stage
from fingerpost.model.shared import Grip, Inside, JointAngles, Structure, Test, View
from fingerpost.model.words import GRIP_MARKS, Finger, GripMark, Hand, Side
from fingerpost.plan.base.blocks import Drawing, Gallery
from fingerpost.plan.base.pictures import (
    DiaryPicture,
    GripPicture,
    HandPicture,
    InsideKind,
    InsidePart,
    InsidePicture,
    LookPicture,
    Spot,
    TrialKind,
    TrialLabel,
    TrialPicture,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import text

# The hand and finger of general pages, where there is no person: the finger that pulley injuries hit most.
EXAMPLE_HAND: Hand = "right"
EXAMPLE_FINGER: Finger = "ring"
EXAMPLE_SIDE: Side = "radial"

# Bends for drawing a grip whose angles nobody has measured: drawn by eye, never used in a sum.
DRAWN_ANGLES = JointAngles(mcp=30, pip=60, dip=30, source="common-practice")
EDGE_MM = 20
GRIP_HAND: Hand = "left"
"""On a hold, where it is nobody's: with the wall on the right."""
GRIP_MM = 32.0
INSIDE_MM, INSIDES_MM, LOOKS_MM = 85.0, 68.0, 85.0
TORN_PIP = 60
"""How far the middle joint is bent where a pulley is torn, degrees: the tendon stands off in a bent finger."""
_TRIALS: tuple[TrialKind, ...] = choices_of(TrialKind)
# The arrow of each test that has one; the tests without a hand that helps; those with a light push, and those that show
# where the finger was before.
_ARROWS: dict[TrialKind, TrialLabel] = {
    "point-pressure": "slide", "crimp-against-open": "push", "bowstring-check": "push", "resisted-bending": "push",
    "deep-flexor-alone": "move", "surface-flexor-alone": "move", "side-stress": "push", "lumbrical-stress": "move",
    "joint-squeeze": "push", "end-of-range": "push", "passive-straightening": "move", "tip-hold": "move",
    "middle-joint-bent-press": "push", "table-top": "move", "fist-lines": "move", "full-fist-full-straight": "move",
    "little-finger-pull": "push", "infection-look": "move", "back-of-joint-press": "push", "knuckle-watch": "slide",
}  # fmt: skip
_UNAIDED: frozenset[TrialKind] = frozenset((
    "crimp-against-open", "table-top", "fist-lines", "full-fist-full-straight", "night-tingling-check", "knuckle-watch",
))  # fmt: skip
_LIGHT: frozenset[TrialKind] = frozenset((
    "crimp-against-open", "bowstring-check", "resisted-bending", "side-stress", "joint-squeeze", "end-of-range",
    "little-finger-pull", "back-of-joint-press",
))  # fmt: skip
_FROM_BEFORE: frozenset[TrialKind] = frozenset(("deep-flexor-alone", "end-of-range", "passive-straightening"))
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
_INSIDE_LABELS: dict[InsideKind, tuple[InsidePart, ...]] = {
    "finger-side": ("bone", "tendon", "a2", "a4"),
    "joint-front": ("bone", "other-ligament"),
    "palm-tendons": ("palm-tendon",),
    "forearm": ("palm-tendon",),
}
_CROWDED: frozenset[Inside] = frozenset(("surface-tendon", "volar-plate", "sheath"))
"""Parts with so much beside them that the pulleys are not named."""
_BANDS: dict[Inside, Inside] = {"mcp": "mcp-side", "pip": "pip-side", "dip": "dip-side"}


def example_finger(fingers: Iterable[Finger]) -> Finger:
    """The finger that a general page shows, among those that it may show (all, where nothing limits them)."""
    shown = tuple(fingers) or (EXAMPLE_FINGER,)
    return EXAMPLE_FINGER if EXAMPLE_FINGER in shown else shown[0]


def finger_name(writer: Writer, finger: Finger) -> str:
    return writer.say(f"finger-{finger}")


def side_name(writer: Writer, side: Side) -> str:
    return writer.say(f"side-{side}")


def place_name(writer: Writer, place: Structure, side: Side | None) -> str:
    """'A2 pulley', or 'middle joint, thumb side'."""
    return f"{place.name}, {side_name(writer, side)}" if side else place.name


def _hand_picture(
    writer: Writer, hand: Hand, finger: Finger, places: tuple[Structure, ...], side: Side | None
) -> HandPicture:
    """The hand with its sore spots marked, all of them seen from the same face."""
    view: View = places[0].view
    title = writer.say(
        "picture-spot",
        hand=hand,
        view=writer.say(f"view-{view}"),
        place="; ".join(place_name(writer, p, side) for p in places),
        finger=finger_name(writer, finger),
    )
    spots = tuple(
        Spot(landmark=p.landmark, finger=finger, side=side, label=place_name(writer, p, side)) for p in places
    )
    return HandPicture(
        title=title, hand=hand, view=view, spots=spots, hand_name=writer.say("hand-name", hand=hand, view=view)
    )


def hand_pictures(
    writer: Writer, hand: Hand, finger: Finger, places: Iterable[Structure], side: Side | None = None
) -> tuple[HandPicture, ...]:
    """The places marked on the hand, in a picture for each face of it that has some."""
    ordered = sorted(places, key=lambda place: choices_of(View).index(place.view))
    views = (tuple(group) for _, group in groupby(ordered, key=lambda place: place.view))
    return tuple(_hand_picture(writer, hand, finger, shown, side) for shown in views)


def spot_drawings(
    writer: Writer,
    hand: Hand,
    finger: Finger,
    places: Iterable[Structure],
    side: Side | None,
    caption: str,
    width_mm: float | None = None,
) -> tuple[Drawing, ...]:
    """Where it is sore, on each face of the hand that is."""
    pictures = hand_pictures(writer, hand, finger, places, side)
    return tuple(
        Drawing(name=f"where-{n}" if n else "where", picture=picture, caption=text(caption), width_mm=width_mm)
        for n, picture in enumerate(pictures)
    )


def example_spots(writer: Writer, protocol: Protocol, width_mm: float | None = None) -> tuple[Drawing, ...]:
    """The places of a protocol on a hand that is nobody's."""
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    finger = example_finger(protocol.fingers)
    side: Side | None = EXAMPLE_SIDE if protocol.needs_side else None
    caption = writer.say("example-hand-caption", hand=EXAMPLE_HAND, finger=finger_name(writer, finger))
    return spot_drawings(writer, EXAMPLE_HAND, finger, [anatomy[p] for p in protocol.places], side, caption, width_mm)


def grip_drawing(
    writer: Writer,
    grip: Grip,
    mark: GripMark | None = None,
    width_mm: float = GRIP_MM,
    hand: Hand = GRIP_HAND,
    finger: Finger | None = None,
) -> Drawing:
    """A hand on a hold; with a mark, also whether this grip may be used. `finger`: where one finger holds, which."""
    angles = grip.angles or DRAWN_ANGLES
    word = writer.say(f"sign-{mark}") if mark else ""
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
        fingers=(finger,) if finger and len(grip.fingers) == 1 else grip.fingers,
        neighbours=grip.neighbours,
        thumb=grip.thumb,
        hand=hand,
        name=grip.name if mark else "",
    )
    return Drawing(name=f"grip-{grip.id}", picture=picture, caption=(), width_mm=width_mm)


def grip_gallery(
    writer: Writer, stage: Stage, caption: str, hand: Hand = GRIP_HAND, finger: Finger | None = None
) -> Gallery:
    """Every grip of a stage as a picture with its mark and word: what to keep first."""
    marks: dict[str, GripMark] = dict.fromkeys(stage.grips.keep, "keep")
    marks |= dict.fromkeys(stage.grips.leave, "leave")
    ranked = sorted(writer.library.vocabularies.grips, key=lambda g: GRIP_MARKS.index(marks.get(g.id, "limit")))
    drawings = tuple(grip_drawing(writer, g, marks.get(g.id, "limit"), hand=hand, finger=finger) for g in ranked)
    return Gallery(caption=caption, drawings=drawings)


def _hurt_part(writer: Writer, protocol: Protocol, place: Structure, side: Side | None) -> Structure | None:
    """What is hurt under the skin at a place: at one side of a joint, the protocol's band there."""
    band = _BANDS.get(place.inside) if side and place.inside else None
    if band is None:
        return place if place.inside else None
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    return next((anatomy[t] for t in protocol.tissue if anatomy[t].inside == band), None)


def _inside_kind(part: Inside) -> InsideKind:
    if part == "lumbrical":
        return "palm-tendons"
    if part == "forearm":
        return "forearm"
    return "joint-front" if part in _BANDS.values() else "finger-side"


def inside_drawing(
    writer: Writer,
    protocol: Protocol,
    place: Structure,
    hand: Hand,
    finger: Finger,
    side: Side | None = None,
    width_mm: float = INSIDE_MM,
    grade: Grade | None = None,
) -> Drawing | None:
    """What lies under the skin at a place of a protocol, and what is hurt. None where no drawing shows that part.

    `side` counts for a joint with a band on each side. It is seen as the hand is, so that the sore side lies alike.
    `grade`: of nobody where there is none; it says whether the part is torn right through.
    """
    hurt = _hurt_part(writer, protocol, place, side)
    if hurt is None or hurt.inside is None:
        return None
    kind = _inside_kind(hurt.inside)
    named = _INSIDE_LABELS[kind][: 2 if hurt.inside in _CROWDED else None]
    labels = tuple((part, writer.say(f"inside-{part}")) for part in named if part != hurt.inside)
    sided = side if kind == "joint-front" or hurt.inside == "lumbrical" else None
    name = place_name(writer, hurt, sided)
    torn = grade is not None and place.id in grade.torn_through
    if torn:
        name = writer.say("inside-torn-through", place=name)
        labels = tuple((part, said) for part, said in labels if part != "tendon")
        labels = (*labels, ("bowstring", writer.say("inside-bowstring")))
    view = writer.say(f"inside-view-{kind}", view=writer.say(f"view-{place.view}"))
    title = writer.say("picture-inside", view=view, hurt=name, hand=hand, finger=finger_name(writer, finger))
    picture = InsidePicture(
        title=title,
        kind=kind,
        hurt=hurt.inside,
        side=sided,
        labels=labels,
        hurt_label=name,
        finger=finger,
        hand=hand,
        seen_from=place.view,
        pip=TORN_PIP if torn else 35,
        torn=torn,
        tucked=kind == "palm-tendons",
    )
    caption = text(writer.say("inside-caption"))
    return Drawing(name=f"inside-{place.id}", picture=picture, caption=caption, width_mm=width_mm)


def example_insides(writer: Writer, protocol: Protocol) -> Drawing | Gallery | None:
    """What lies under the skin at each place of a protocol that can be drawn, on a hand that is nobody's."""
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    finger = example_finger(protocol.fingers)
    side: Side | None = EXAMPLE_SIDE if protocol.needs_side else None
    found = (inside_drawing(writer, protocol, anatomy[p], EXAMPLE_HAND, finger, side) for p in protocol.places)
    drawings = tuple(d for d in found if d)
    if len(drawings) < 2:
        return drawings[0] if drawings else None
    small = tuple(replace(d, width_mm=INSIDES_MM, caption=()) for d in drawings)
    return Gallery(caption=writer.say("insides-caption"), drawings=small)


def example_tears(writer: Writer, protocol: Protocol) -> Gallery | None:
    """The places that some grade says are torn right through, and which grade; None where there are none."""
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    finger, drawings, said = example_finger(protocol.fingers), [], []
    for grade in protocol.grades:
        for place in grade.torn_through:
            made = inside_drawing(writer, protocol, anatomy[place], EXAMPLE_HAND, finger, None, INSIDES_MM, grade)
            if made:
                drawings.append(replace(made, name=f"torn-{place}", caption=()))
                said.append(writer.say("insides-torn-place", place=anatomy[place].name, grade=grade.id))
    caption = writer.say("insides-torn-caption", places="; ".join(said))
    return Gallery(caption=caption, drawings=tuple(drawings)) if drawings else None


def looks_drawing(writer: Writer, referral: Referral, width_mm: float = LOOKS_MM) -> Drawing | None:
    """How it looks, beside a healthy finger. None where it is not recognised by sight."""
    if referral.looks is None:
        return None
    picture = LookPicture(
        title=writer.say(f"looks-{referral.looks}"),
        look=referral.looks,
        healthy=writer.say("looks-healthy"),
        sore=writer.say("looks-sore"),
    )
    caption = text(writer.say("looks-caption"))
    return Drawing(name=f"looks-{referral.looks}", picture=picture, caption=caption, width_mm=width_mm)


def trial_drawing(writer: Writer, test: Test, width_mm: float = 70.0) -> Drawing | None:
    """One hands-on test: what pushes or moves, which way, where pain counts or where to look; below it, what
    its signs mean. None where not drawn yet."""
    kind = next((k for k in _TRIALS if k == test.id), None)
    if kind is None:
        return None
    counts = writer.say("trial-look" if kind in _LOOKED_AT else "trial-pain")
    labels: list[tuple[TrialLabel, str]] = [("pain", counts)]
    if arrow := _ARROWS.get(kind):
        labels.append((arrow, writer.say(f"trial-{arrow}")))
    picture = TrialPicture(title=f"{test.name}. {test.plain}", kind=kind, labels=tuple(labels))
    grey = writer.say("movement-sign-other-hand" if test.who == "anyone" else "trial-grey-clinician")
    said = [] if kind in _UNAIDED else [grey]
    said += [writer.say("trial-lightly")] if kind in _LIGHT else []
    said += [writer.say("movement-sign-before")] if kind in _FROM_BEFORE else []
    return Drawing(name=f"test-{test.id}", picture=picture, caption=text(" ".join(said)), width_mm=width_mm)


def diary_drawing(writer: Writer, days: tuple[str, ...], limit: int, width_mm: float) -> Drawing:
    """A chart of pain and stiffness over days, to draw by hand."""
    signs = (writer.say("diary-during"), writer.say("diary-next-morning"))
    picture = DiaryPicture(
        title=writer.say("picture-diary", count=len(days), limit=limit),
        days=days,
        signs=signs,
        limit=limit,
        limit_word=writer.say("diary-limit", limit=limit),
        pain_word=writer.say("diary-pain"),
        stiff_word=writer.say("diary-stiff-next"),
    )
    return Drawing(name="diary", picture=picture, caption=text(writer.say("diary-chart-help")), width_mm=width_mm)
