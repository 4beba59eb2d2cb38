"""Choose the pictures: which hand, what is marked, where the tape lies. `draw` only draws."""

from __future__ import annotations

from collections.abc import Iterable

from generator.model.shared import Structure, Taping
from generator.model.words import Finger, Hand, Side
from generator.plan.blocks import Drawing, text
from generator.plan.pictures import HandPicture, Spot, TapeMark
from generator.plan.prose import Writer

# The hand and finger of general pages, where there is no person: the finger that pulley injuries hit most.
EXAMPLE_HAND: Hand = "right"
EXAMPLE_FINGER: Finger = "ring"


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


def tape_drawing(
    writer: Writer, taping: Taping, hand: Hand, finger: Finger, partner: Finger | None, width_mm: float | None = None
) -> Drawing:
    """The taped finger, and for buddy taping the finger that it is taped to."""
    mark = TapeMark(kind=taping.kind, level=taping.level, finger=finger, partner=partner)
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
