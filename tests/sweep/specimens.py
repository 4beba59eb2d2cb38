"""A specimen for each detector of what a person is told: stop, tape, grips, the person, pictures."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.model.library import Library
from fingerpost.plan.base.pictures import DiaryPicture, GripPicture, HandPicture, InsidePicture, TapingPicture
from sweep.plant import (
    Specimen,
    bare,
    both,
    drawing,
    listing,
    paragraph,
    saying,
    with_picture,
    with_section,
    without_section,
)
from sweep.sheets import Told, with_parts

SURGEON = {"step": ("IV", "settle")}
RING = {"step": ("III", "move"), "allergy": True}
ALLERGIC = {"allergy": True}
SIDE = {"step": ("II", "easy-climbing"), "finger": "middle", "place": "pip-joint", "side": "radial"}
FLEXOR = {"step": ("I", "easy-climbing"), "place": "flexor-muscles"}
CHILD = {**FLEXOR, "age": "under-18 cleared"}
IRRITATED = {"step": ("any", "easy-climbing"), "place": "dip-joint"}


def _with_doubt(told: Told) -> Told:
    return with_parts(told, doubts=(("stage", "a stop sheet comes out, because a surgeon looks after it"),))


def _without_doubts(told: Told) -> Told:
    return with_parts(told, doubts=())


def _with_full_crimp(library: Library) -> Library:
    """The shipped collection, in which a strained flexor may crimp as soon as it climbs, whoever still grows too."""

    def change(stage):  # type: ignore[no-untyped-def]
        if stage.id != "easy-climbing":
            return stage
        grips = stage.grips
        leave = tuple(g for g in grips.leave if g != "full-crimp")
        return replace(stage, grips=replace(grips, leave=leave, keep=(*grips.keep, "full-crimp")))

    documents = tuple(
        replace(d, value=replace(d.value, stages=tuple(change(s) for s in d.value.stages)))
        if d.value.id == "flexor-strain"
        else d
        for d in library.protocols
    )
    words = library.vocabularies
    grips = tuple(replace(g, adults_only=False) for g in words.grips)
    return replace(library, protocols=documents, vocabularies=replace(words, grips=grips))


def _pair(finger: str, partner: str, draws: str, *notes: str) -> TapingPicture:
    return TapingPicture(
        title=f"Tape on the {finger} finger of the left hand.",
        kind="buddy",
        level="proximal-and-middle",
        hand="left",
        finger=finger,  # type: ignore[arg-type]
        partner=partner,  # type: ignore[arg-type]
        draws=draws,  # type: ignore[arg-type]
        notes=notes,
    )


STOP = {
    "a-home-programme-on-a-stop-sheet": Specimen(saying("Some day next week.", "dates"), row=SURGEON),
    "stop-words-on-a-home-sheet": Specimen(saying("A doctor must see it before you load it again.")),
    "one-finger-where-the-hand-rests": Specimen(
        saying("Do not pull or hang with this finger.", "until-seen"), row=SURGEON
    ),
    "a-hold-that-the-desk-hides": Specimen(_without_doubts, row={"step": ("IV", "build")}, before=_with_doubt),
    "two-urgencies-for-one-sign": Specimen(
        listing("Emergency, now: It is crooked.", "At the next chance: It is crooked.", section="help"),
        row=SURGEON,
        before=bare,
    ),
}

TAPE = {
    "tape-told-to-somebody-allergic": Specimen(saying("Put new tape on each morning."), row=ALLERGIC),
    "tape-questions-of-somebody-allergic": Specimen(
        listing("How wide should the tape be?", section="questions"), row=ALLERGIC
    ),
    "tape-told-where-nothing-is-taped": Specimen(
        saying("Tape the joint each time."), protocol="joint-irritation", row=IRRITATED
    ),
    "tape-told-and-forbidden": Specimen(saying("Do not use tape on the wall.", "tape")),
    "two-tapings-on-one-segment": Specimen(
        both(saying("It lies here.", "tape-ring-a4"), saying("It lies here.", "tape-h-strip")),
        row={"place": "a4-pulley"},
        before=bare,
    ),
    "a-hurt-side-without-a-finger": Specimen(
        saying(
            "There is no finger on the hurt side. It also stops the joint from opening on the hurt side.",
            "tape-buddy-injured-side",
        ),
        protocol="collateral-sprain",
        row={**SIDE, "finger": "index"},
        before=bare,
    ),
    "the-same-pair-right-and-wrong": Specimen(
        lambda told: with_section(
            told, "tape-x", drawing(_pair("index", "middle", "mistakes", "Not to the wrong finger."))
        ),
        protocol="flexor-strain",
        row={**FLEXOR, "finger": "index"},
        before=bare,
    ),
    "a-pair-that-changes": Specimen(
        lambda told: with_section(told, "tape-buddy-together", drawing(_pair("ring", "little", "near-pair"))),
        protocol="flexor-strain",
        row=FLEXOR,
        before=both(bare, saying("Join your ring finger to your middle finger.", "tape-buddy-together")),
    ),
    "a-device-that-an-allergy-took-away": Specimen(
        lambda told: without_section(told, "tape-pulley-ring"),
        row=RING,
        before=both(bare, saying("How it goes.", "tape"), saying("Slide it on.", "tape-pulley-ring")),
    ),
}

GRIPS = {
    "doses-in-a-grip-left-out": Specimen(
        listing("How much: Grip: full crimp. 1 set of 5.", section="exercise-four-finger-pull")
    ),
    "exercises-that-ask-for-a-grip-left-out": Specimen(
        listing("Pull in a full crimp.", section="exercise-four-finger-pull")
    ),
    "gates-that-ask-for-a-grip-left-out": Specimen(listing("One try in a full crimp is free of pain.", section="gate")),
    "gates-above-the-load": Specimen(listing("The sore hand pulls at least 95 % of the other.", section="gate")),
    "climbing-told-where-every-grip-is-left": Specimen(
        saying("That is good news, since you can keep some climbing."), row={"step": ("II", "move")}
    ),
    "a-load-above-its-own-ceiling": Specimen(
        saying(
            "Begin low, and go up to 40 kg at the most. Stay below the 30 kg that it has held.",
            "exercise-four-finger-pull",
        )
    ),
    "a-bend-that-is-not-the-grip-s": Specimen(
        listing("Bend the joints to a right angle.", section="exercise-half-crimp-pull"), row={"step": ("II", "build")}
    ),
    "pictures-of-grips-against-the-list": Specimen(with_picture(GripPicture, mark="leave")),
    "grips-kept-for-a-growing-finger": Specimen(
        lambda told: told, protocol="flexor-strain", row=CHILD, library=_with_full_crimp
    ),
}

PERSON = {
    "grades-of-somebody-else": Specimen(saying("In grade III the finger rests longer.")),
    "places-of-somebody-else": Specimen(saying("The A4 pulley rests today.")),
    "the-other-side": Specimen(saying("Keep the little-finger side free."), protocol="collateral-sprain", row=SIDE),
    "fingers-of-somebody-else": Specimen(saying("Bend the index finger slowly.")),
    "words-for-the-young": Specimen(saying("Tell your parents what is allowed.")),
    "words-for-adults": Specimen(saying("Go outdoors on warm days."), protocol="flexor-strain", row=CHILD),
    "what-is-forbidden-under-18": Specimen(
        listing("Do not do this one under 18.", section="exercise-forearm-stretch"), protocol="flexor-strain", row=CHILD
    ),
    "muscle-words-for-a-tendon": Specimen(
        saying("Rest the muscle."), protocol="flexor-strain", row={**FLEXOR, "place": "fdp-tendon"}
    ),
    "a-torn-tendon-loaded-without-a-surgeon": Specimen(
        saying("Start with 8 kg.", "exercise-half-crimp-pull"),
        protocol="flexor-strain",
        row={**FLEXOR, "place": "fdp-tendon", "step": ("II", "first-load")},
        before=bare,
    ),
    "exercises-for-another-joint": Specimen(
        lambda told: with_section(told, "exercise-x", paragraph("Slowly."), heading="A hold for the middle joint"),
        protocol="joint-irritation",
        row=IRRITATED,
        before=bare,
    ),
    "conditions-that-the-case-has-answered": Specimen(
        saying("Wear a guard if strands have torn."),
        protocol="lumbrical-strain",
        row={**FLEXOR, "place": "lumbrical-muscle", "side": "radial"},
    ),
    "another-hand": Specimen(with_picture(HandPicture, hand="right")),
}

PICTURES = {
    "another-place-in-a-picture": Specimen(with_picture(InsidePicture, hurt="a4")),
    "another-finger-in-a-picture": Specimen(with_picture(TapingPicture, finger="middle")),
    "another-side-in-a-picture": Specimen(
        with_picture(InsidePicture, side="ulnar"), protocol="collateral-sprain", row=SIDE
    ),
    "pain-limits-that-differ": Specimen(with_picture(DiaryPicture, limit=4)),
}
