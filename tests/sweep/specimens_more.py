"""A specimen for each detector of how it is told: days, words, structure, care, claims, the coach, the desk."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from fingerpost.plan.base.blocks import Bullets, Diary, Paragraph
from fingerpost.plan.base.paper import Ahead
from fingerpost.plan.base.pictures import DiaryPicture, PathPicture
from fingerpost.plan.base.runs import Run, text
from fingerpost.plan.person.calendar import Event
from sweep.plant import (
    Specimen,
    bare,
    both,
    drawing,
    listing,
    saying,
    with_block,
    with_front,
    with_section,
    with_under_title,
    without_words_on_tape,
)
from sweep.sheets import Told, with_parts

SHARED = {"share": True}
RING = {"step": ("III", "move")}
SIDE = {"step": ("II", "build"), "finger": "middle", "place": "pip-joint", "side": "radial"}
CLEARED = {"step": ("any", "settle"), "place": "growth-plate", "age": "under-18 cleared"}


def _with_rows_turned(told: Told) -> Told:
    """The stages ahead with the last two the other way round, in the rows and on the path."""

    def turn(block: Ahead) -> Ahead:
        picture = block.path.picture if block.path else None
        assert isinstance(picture, PathPicture)
        assert block.path
        posts = (*picture.posts[:-2], *picture.posts[:-3:-1])
        path = replace(block.path, picture=replace(picture, posts=posts))
        return replace(block, rows=(*block.rows[:-2], *block.rows[:-3:-1]), path=path)

    return with_block(told, Ahead, turn)


def _with_days(*days: str):  # type: ignore[no-untyped-def]
    """The last stages ahead with other days, and no calendar."""

    def change(block: Ahead) -> Ahead:
        rows = tuple(
            (name, text(f"often about {day}")) for (name, _), day in zip(block.rows[-len(days) :], days, strict=True)
        )
        return replace(block, rows=rows, path=None)

    return lambda told: with_parts(with_block(told, Ahead, change), events=(), calendar="", coach=None)


def _with_a_day_before(told: Told) -> Told:
    """A stage that may begin on the day before the visit, in the calendar alone."""
    day = date(2026, 12, 6)
    moved = tuple(replace(e, first=day) if e.what == "build" else e for e in told.events)
    return with_parts(told, events=moved)


def _with_moved_event(told: Told) -> Told:
    first, *others = told.events
    day = first.last + timedelta(days=1)
    return with_parts(told, events=(replace(first, first=day, last=day), *others))


def _with_tape_event(told: Told) -> Told:
    day = date(2027, 5, 3)
    event = Event("tape", day, day, "Tape until today", "See your sheet.")
    return with_parts(told, events=(*told.events, event), calendar=f"{told.calendar}BEGIN:VEVENT\r\n")


def _without_under_titles(told: Told) -> Told:
    sheets = tuple(replace(sheet, under_title=()) for sheet in told.handout.sheets)
    return with_parts(told, handout=replace(told.handout, sheets=sheets))


def _without_help(told: Told) -> Told:
    return with_front(told, lambda front: replace(front, help=None))


def _with_coach(**changed: object):  # type: ignore[no-untyped-def]
    return lambda told: with_parts(told, coach=replace(told.coach, **changed))


def _with_doubt(says: str):  # type: ignore[no-untyped-def]
    return lambda told: with_parts(told, doubts=(("stage", says),))


def _diary(*heads: str) -> Diary:
    return Diary(caption="Pain", help=text("One line a day."), head=("Day", *heads), first_column=("Wed 25 Nov",))


CHART = DiaryPicture(
    title="A chart",
    days=("25",),
    signs=("a", "b"),
    limit=2,
    limit_word="your limit: 2",
    pain_word="Pain",
    stiff_word="Stiff",
)

DATES = {
    "early-or-late-on-paper": Specimen(saying("You are later than usual.")),
    "early-or-late-on-the-coach-sheet": Specimen(_with_coach(stages_heading="It began later than usual"), row=SHARED),
    "a-first-visit-called-late": Specimen(_with_doubt("this stage began late"), row={"visit": "first"}, before=bare),
    "days-behind": Specimen(saying("Next visit Monday 23 Nov 2026", "visit")),
    "days-that-fall": Specimen(_with_rows_turned),
    "windows-where-there-are-no-dates": Specimen(saying("There are no dates here.", "dates")),
    "days-before-the-next-visit": Specimen(_with_a_day_before, row={"step": ("II", "easy-climbing")}),
    "a-calendar-against-the-sheet": Specimen(_with_moved_event),
    "tape-in-the-calendar-of-somebody-allergic": Specimen(_with_tape_event, row={"allergy": True, "enclose": ()}),
    "stages-shorter-than-their-gates": Specimen(_with_days("19 Dec", "22 Dec"), before=_with_days("12 Dec", "22 Dec")),
    "tape-that-ends-too-early": Specimen(
        saying("Tape while climbing until 30 December 2026 at the least.", "dates"),
        before=both(_with_days("7 Dec", "20 Dec"), without_words_on_tape),
    ),
    "first-days-long-after": Specimen(
        listing("Keep the splint on if you were given one.", section="until-seen"),
        row={"step": ("IV", "settle"), "visit": "long ago"},
        before=bare,
    ),
    "set-today-by-nobody": Specimen(
        lambda told: with_under_title(told, "Checked for you by Marigold Underhill."), before=bare
    ),
}

WORDS = {
    "questions-that-the-sheet-has-answered": Specimen(
        listing("Which pulley is it, and how bad?", section="questions"), before=bare
    ),
    "asking-for-what-is-printed": Specimen(
        saying("Ask for a splint for the night."),
        protocol="collateral-sprain",
        row=SIDE,
        before=both(bare, saying("It rests the joint.", "tape-extension-splint")),
    ),
    "words-that-nobody-reads": Specimen(listing("joint capsule: the tough sleeve.", section="words"), before=bare),
    "pain-rules-that-allow-less": Specimen(saying("Then rest a day or two."), protocol="growth-plate", row=CLEARED),
}

STRUCTURE = {
    "headings-over-nothing": Specimen(lambda told: with_section(told, "nothing", heading="Of note", sheet=4)),
    "masses-in-the-other-unit": Specimen(saying("Carry it for 20 kg at the most."), row={"units": "lb"}),
    "empty-lists": Specimen(lambda told: with_section(told, "day", Bullets(items=()))),
    "template-gaps": Specimen(saying("Go on with {stage} now.")),
    "labels-with-nothing-after": Specimen(saying("Your load: ")),
    "figures-parted-from-their-units": Specimen(
        lambda told: with_section(told, "day", Paragraph(words=(Run("Never more than 35"), Run(" kg at once."))))
    ),
    "sentences-said-twice": Specimen(
        listing(*("Move it slowly, as far as it goes, and then a little less.",) * 2, section="day")
    ),
    "pointers-to-another-sheet": Specimen(saying("The light pulls on this sheet are for mornings.")),
    "plans-that-say-nothing": Specimen(
        listing("How much: 2 sets of 5.", "Hold as long as your plan says.", section="exercise-x"), before=bare
    ),
}

CARE = {
    "exercises-without-a-word-on-the-ring": Specimen(
        saying("Bend it slowly.", "exercise-tendon-glides"), row=RING, before=bare
    ),
    "a-tear-trained-alone": Specimen(
        listing("With whom: No clinician is needed.", section="exercise-tendon-glides"),
        row=RING,
        before=both(bare, saying("Keep the ring on.")),
    ),
    "tape-for-another-place": Specimen(
        saying("It lies here.", "tape-ring-a2"), row={"place": "a3-pulley"}, before=bare
    ),
    "a-stretch-in-the-first-days": Specimen(
        saying("Stop at a mild stretch.", "exercise-x"),
        protocol="lumbrical-strain",
        row={"step": ("II", "settle"), "place": "lumbrical-muscle", "side": "radial"},
        before=bare,
    ),
    "a-joint-tested-again": Specimen(
        listing("It comes to a firm stop.", section="gate"), protocol="collateral-sprain", row=SIDE, before=bare
    ),
    "gates-that-the-diary-cannot-answer": Specimen(
        listing("It is not swollen.", section="gate"),
        before=lambda told: with_section(bare(told), "diary", _diary("Pain")),
    ),
    "the-same-asked-twice": Specimen(
        lambda told: with_section(told, "chart", drawing(CHART)),
        before=lambda told: with_section(bare(told), "diary", _diary("Stiff", "Swelling")),
    ),
}

CLAIMS = {
    "personal-sheets-called-general": Specimen(saying("This is general information."), before=bare),
    "drafts-in-a-patient-s-hand": Specimen(saying("It is a draft: no clinician has signed it yet."), before=bare),
    "remarks-for-the-clinician": Specimen(saying("Check the test of the other hand."), before=bare),
    "doses-of-drugs": Specimen(saying("Take 400 mg of it.")),
    "verdicts": Specimen(saying("You have torn it.")),
    "choices-called-practice": Specimen(
        lambda told: with_section(
            told,
            "day",
            Paragraph(words=(*text("That is 20 to 60 % of it"), Run("\u00a0[p]", "mark", "source-p"), *text("."))),
        ),
        before=bare,
    ),
}

FRAME = {
    "sheets-without-a-person": Specimen(_without_under_titles),
    "a-first-sheet-without-help": Specimen(_without_help),
    "another-emergency-number": Specimen(
        saying("In an emergency, call your local emergency number."), row={"clinic": True}, before=bare
    ),
    "tests-that-one-sheet-denies": Specimen(
        saying("There is no test in this grip yet.", "exercise-four-finger-pull"), row={"strength": "sore hand weaker"}
    ),
    "tape-on-the-coach-sheet-of-somebody-allergic": Specimen(
        _with_coach(title="What is fine when taped"), row={"share": True, "allergy": True}
    ),
}

COACH = {
    "the-injury-on-the-coach-sheet": Specimen(_with_coach(title="What the pulley allows"), row=SHARED),
    "the-person-on-the-coach-sheet": Specimen(_with_coach(title="For number 0417"), row=SHARED),
    "a-coach-sheet-against-the-sheet": Specimen(_with_coach(under_title=()), row=SHARED),
}

DESK = {
    "promises-that-the-paper-breaks": Specimen(
        _with_doubt("the earliest usual day is 3 March 2027. If you mean it, print: the first sheet says so too.")
    ),
    "stages-skipped-without-a-word": Specimen(
        lambda told: with_parts(told, doubts=()),
        row={"visit": "leap"},
        before=both(bare, _with_doubt("two stages were skipped")),
    ),
}
