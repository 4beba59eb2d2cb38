"""Which finger to tape to which: the strips at true size, the whole hand, the steps, the check."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.model.shared import Taping
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.paper import TapeHow
from fingerpost.plan.base.pictures import HandPicture, RulerPicture, StripPicture
from fingerpost.plan.base.prose import Writer, capital, join_words
from fingerpost.plan.base.runs import Words, strong, text
from fingerpost.plan.base.step_pictures import Worn, lies_there, small_steps, tape_drawing
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.enclosures import chosen_tapings
from fingerpost.plan.person.tape_cuts import cut_list, put_on

RULER_MM = 50


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


def _strips(writer: Writer, situation: Situation, worn: Worn) -> tuple[Drawing, Words] | None:
    """The strips as they are cut, with letters where they differ, and what to do with them; None: nothing is cut."""
    cuts = cut_list(writer, situation, worn.taping)
    if cuts is None:
        return None
    lengths = [length for length, *_ in worn.strips]
    letters = [letter for *_, letter in worn.strips if letter]
    first = cuts.strips[0]
    said = join_words([writer.say("leaf-strip", length=length) for length in dict.fromkeys(lengths)])
    picture = StripPicture(
        title=writer.say("leaf-strip-picture", lengths=said, width=first.width_mm),
        strips=tuple(zip(lengths, letters, strict=True)) if letters else ((lengths[0], ""),),
        width_mm=first.width_mm,
        bridge_mm=int(first.bridge_mm) if first.bridge_mm else None,
        bridge_word=writer.say("leaf-strip-bridge") if first.bridge_mm else "",
    )
    if letters:
        says = writer.say("leaf-cut-letters", letters=join_words(letters), first=letters[0])
    else:
        says = writer.say("leaf-cut-slit" if first.bridge_mm else "leaf-cut")
    return Drawing(name="leaf-strips", picture=picture, caption=()), writer.words(says)


def _whole(writer: Writer, worn: Worn) -> Drawing:
    drawing = tape_drawing(writer, worn)
    says = writer.say("leaf-palm-up", hand=capital(worn.hand))
    caption = (*strong(says), *text(f" {writer.say('leaf-looks-like')}"))
    assert isinstance(drawing.picture, HandPicture)
    letters = tuple(letter for *_, letter in worn.strips if letter)
    lettered = tuple(replace(tape, letters=letters) for tape in drawing.picture.tapes)
    picture = replace(drawing.picture, hand_name="", tapes=lettered)
    return replace(drawing, name=f"leaf-{drawing.name}", picture=picture, caption=caption)


def _steps(writer: Writer, worn: Worn) -> tuple[Drawing, ...]:
    return tuple(replace(drawing, name=f"leaf-{drawing.name}") for drawing in small_steps(writer, worn))


def tape_how(writer: Writer, situation: Situation, on_front: bool = False) -> tuple[TapeHow, ...]:
    """The taping that is cut and wrapped, with any other named in a line; none where nothing is worn.

    `on_front`: the front tells already how a splint is worn.
    """
    tapings = chosen_tapings(writer, situation)
    if not tapings:
        return ()
    ranked = sorted(tapings, key=lambda t: not t.is_cut)
    taping, others = ranked[0], ranked[1:]
    worn = put_on(situation, taping)
    partner = worn.partner
    strips = _strips(writer, situation, worn)
    drawn = lies_there(taping, situation.place)
    told = [t for t in tapings if on_front and not t.is_cut]
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
            whole=_whole(writer, worn) if drawn else None,
            steps=_steps(writer, worn) if drawn else (),
            check_heading=writer.say("leaf-check-tips" if partner else "leaf-check-tip"),
            checks=lines if taping.is_cut else (),
            rule=writer.words(writer.say("leaf-tape-off" if taping.is_cut else "leaf-support-off")),
            others=writer.words(" ".join(also)) if also else (),
        ),
    )


def _ruler(writer: Writer) -> Drawing:
    picture = RulerPicture(title=writer.say("leaf-ruler", length=RULER_MM), length_mm=RULER_MM)
    return Drawing(name="leaf-ruler", picture=picture, caption=())
