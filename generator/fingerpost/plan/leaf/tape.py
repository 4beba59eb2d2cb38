"""Which finger to tape to which: the strips at true size, the whole hand, the steps, the check."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.model.shared import Taping
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.blocks import Drawing, Words, strong, text
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.paper import TapeHow
from fingerpost.plan.base.pictures import TAPING_FRAMES, HandPicture, RulerPicture, StripPicture, TapingPicture
from fingerpost.plan.base.prose import Writer, capital, join_words
from fingerpost.plan.base.step_pictures import lies_there, tape_drawing, tape_frames
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.enclosures import chosen_tapings
from fingerpost.plan.person.tape_cuts import buddy_of, cut_list

RULER_MM = 50
LETTERS = "ABCD"


def _toward(writer: Writer, finger: Finger, partner: Finger) -> str:
    """Which way the other finger lies: next to the thumb, or on which side."""
    if partner == "index":
        return writer.say("leaf-next-to-thumb")
    thumb_side = FINGERS.index(partner) < FINGERS.index(finger)
    return writer.say("leaf-thumb-side" if thumb_side else "leaf-little-side")


def _heading(writer: Writer, situation: Situation, taping: Taping, partner: Finger | None) -> str:
    finger = finger_name(writer, situation.case.finger)
    says = taping.brief.replace("{finger}", finger).replace(
        "{partner}", finger_name(writer, partner) if partner else ""
    )
    return f"{says} {_toward(writer, situation.case.finger, partner)}" if partner else says


def _strips(writer: Writer, situation: Situation, taping: Taping) -> tuple[Drawing, Words, str] | None:
    """The strips as they are cut, with letters where they differ, and what to do with them; None: nothing is cut."""
    cuts = cut_list(writer, situation, taping)
    if cuts is None:
        return None
    lengths = [strip.length_mm for strip in cuts.strips]
    differ = len(set(lengths)) > 1
    letters = LETTERS[: len(lengths)] if differ else ""
    first = cuts.strips[0]
    said = join_words([writer.say("leaf-strip", length=length) for length in dict.fromkeys(lengths)])
    picture = StripPicture(
        title=writer.say("leaf-strip-picture", lengths=said, width=first.width_mm),
        strips=tuple(zip(lengths, letters, strict=True)) if differ else ((lengths[0], ""),),
        width_mm=first.width_mm,
        bridge_mm=int(first.bridge_mm) if first.bridge_mm else None,
        bridge_word=writer.say("leaf-strip-bridge") if first.bridge_mm else "",
    )
    if differ:
        says = writer.say("leaf-cut-letters", letters=join_words(list(letters)), first=letters[0])
    else:
        says = writer.say("leaf-cut-slit" if first.bridge_mm else "leaf-cut")
    return Drawing(name="leaf-strips", picture=picture, caption=()), writer.words(says), letters


def _steps(writer: Writer, situation: Situation, taping: Taping, partner: Finger | None) -> tuple[Drawing, ...]:
    case = situation.case
    frames = tape_frames(writer, taping, case.hand, case.finger, partner)
    if frames is None:
        return ()
    last = TAPING_FRAMES[taping.kind]
    shown = [d for d in frames.drawings if isinstance(d.picture, TapingPicture) and 1 < d.picture.frame < last]
    drawings = []
    for number, (drawing, caption) in enumerate(zip(shown, taping.captions, strict=False), 1):
        assert isinstance(drawing.picture, TapingPicture)
        picture = replace(drawing.picture, caption="", small=True, shown_as=number)
        drawings.append(Drawing(name=f"leaf-{drawing.name}", picture=picture, caption=text(caption)))
    return tuple(drawings)


def _whole(writer: Writer, situation: Situation, taping: Taping, partner: Finger | None, letters: str) -> Drawing:
    case = situation.case
    drawing = tape_drawing(writer, taping, case.hand, case.finger, partner)
    caption = (*strong(writer.say("leaf-palm-up", hand=capital(case.hand))), *text(f" {writer.say('leaf-looks-like')}"))
    assert isinstance(drawing.picture, HandPicture)
    lettered = tuple(replace(tape, letters=tuple(letters)) for tape in drawing.picture.tapes)
    picture = replace(drawing.picture, hand_name="", tapes=lettered)
    return replace(drawing, name=f"leaf-{drawing.name}", picture=picture, caption=caption)


def tape_how(writer: Writer, situation: Situation, on_front: bool = False) -> tuple[TapeHow, ...]:
    """The taping that is cut and wrapped, with any other named in a line; none where nothing is worn.

    `on_front`: the front tells already how a splint is worn.
    """
    tapings = chosen_tapings(writer, situation)
    if not tapings:
        return ()
    ranked = sorted(tapings, key=lambda t: t.kind == "splint")
    taping, others = ranked[0], ranked[1:]
    buddy = buddy_of(situation, taping)
    partner = buddy.partner if buddy else None
    strips = _strips(writer, situation, taping)
    drawn = lies_there(taping, situation.place)
    told = [t for t in tapings if on_front and t.kind == "splint"]
    also: list[str] = [f"{t.name}: {' '.join(piece.says for piece in t.wear)}" for t in others if t not in told]
    lines = tuple(writer.words(writer.say(f"leaf-check-{n}")) for n in ("colour", "touch", "nail"))
    return (
        TapeHow(
            name=taping.id,
            heading=_heading(writer, situation, taping, partner),
            aside=() if taping in told else writer.words(taping.wear),
            cut=strips[1] if strips else (),
            strips=strips[0] if strips else None,
            ruler=_ruler(writer) if strips else None,
            true_size=writer.say("leaf-true-size") if strips else "",
            whole=_whole(writer, situation, taping, partner, strips[2] if strips else "") if drawn else None,
            steps=_steps(writer, situation, taping, partner) if drawn else (),
            check_heading=writer.say("leaf-check-tips" if partner else "leaf-check-tip"),
            checks=lines if taping.kind != "splint" else (),
            rule=writer.words(writer.say("leaf-support-off" if taping.kind == "splint" else "leaf-tape-off")),
            others=writer.words(" ".join(also)) if also else (),
        ),
    )


def _ruler(writer: Writer) -> Drawing:
    picture = RulerPicture(title=writer.say("leaf-ruler", length=RULER_MM), length_mm=RULER_MM)
    return Drawing(name="leaf-ruler", picture=picture, caption=())
