"""Turn written text into words with marks: each figure points at a numbered source of the page it stands on."""

from __future__ import annotations

from collections.abc import Iterable

from fingerpost.model.audience import EVERYBODY, MARK, For, Said, Told
from fingerpost.model.library import Library
from fingerpost.model.protocol import Stage
from fingerpost.model.shared import Source
from fingerpost.model.words import COMMON_PRACTICE, OWN, UNSOURCED
from fingerpost.plan.base.blocks import Bullets
from fingerpost.plan.base.runs import Run, Words

Written = str | Said | Told
# The letter of each mark that is no source, and the phrase that explains it.
LETTERS: dict[str, tuple[str, str]] = {COMMON_PRACTICE: ("p", "common-practice-line"), OWN: ("o", "own-line")}


def join_words(items: tuple[str, ...] | list[str], last: str = "and") -> str:
    """'a', 'a and b', 'a, b and c'."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def uncapital(text: str) -> str:
    """The same inside of a sentence. An abbreviation keeps its capitals."""
    return text if text[1:2].isupper() or text[1:2].isdigit() else text[:1].lower() + text[1:]


class Writer:
    """Writes for one page or handout. It knows the library's wording and numbers the sources as they come up.

    Why: a reader meets [1] before [2], and the list at the foot holds exactly what was used.
    """

    def __init__(self, library: Library, emergency_number: str | None = None) -> None:
        """`emergency_number`: another one than the clinic's own."""
        self.library = library
        self._number = emergency_number or library.clinic.emergency_number
        self._phrases = {p.id: p.says for p in library.vocabularies.wording}
        self._sources = {s.id: s for s in library.vocabularies.sources}
        self._cited: list[tuple[str, str]] = []
        self._unsourced: set[str] = set()
        self._stages: dict[str, str] = {}

    def tell_about(self, stages: Iterable[Stage]) -> None:
        """Call stages by the numbers and names that they have among these."""
        self._stages = {stage.id: f"{n} ({uncapital(stage.name)})" for n, stage in enumerate(stages, 1)}

    def say(self, phrase: str, **gaps: object) -> str:
        """A phrase of the wording with its gaps filled. Raises KeyError for an unknown phrase or gap.

        The gap {emergency_number} is always known.
        """
        pieces = self._phrases[phrase]
        if any("{emergency_number}" in piece.says for piece in pieces):
            gaps["emergency_number"] = self._number or self.say("your-emergency-number")
        return " ".join(self._open(piece, piece.says.format(**gaps)) for piece in pieces).strip()

    def mark(self, source: str) -> Run:
        """The mark for a `source` value, e.g. 'lutter-2018' or 'lutter-2018 recalled'."""
        name, _, seen = source.partition(" ")
        if name in UNSOURCED:
            self._unsourced.add(name)
            letter = LETTERS[name][0]
            return Run(f"\u00a0[{letter}]", "mark", f"source-{letter}")
        known = self._sources.get(name)
        key = (name, seen or (known.seen if known else ""))
        if key not in self._cited:
            self._cited.append(key)
        number = self._cited.index(key) + 1
        return Run(f"\u00a0[{number}]", "mark", f"source-{number}")

    def _open(self, piece: Said, says: str) -> str:
        """A piece of a phrase, after those whom it is for where nobody knows who reads it."""
        return says if piece.for_ == EVERYBODY else f"{self.audience(piece.for_)}: {says}"

    def audience(self, meant: For) -> str:
        """Who is meant, in words: 'Grade I or II, under 18'."""
        names = {place.id: place.name for place in self.library.vocabularies.anatomy}
        lists = (
            ("grade", [*meant.grade]),
            ("place", [names[place] for place in meant.place]),
            ("stage", [self._stages.get(stage, stage) for stage in meant.stage]),
            ("finger", [self.say(f"finger-{finger}") for finger in meant.finger]),
        )
        said = [self.say(f"for-{key}", what=join_words(what, "or")) for key, what in lists if what]
        said += [self.say(f"for-{key}-{value}") for key in ("age", "side") if (value := getattr(meant, key))]
        for key in ("cleared", "allergy", "first_visit", "support", "planned"):
            if (told := getattr(meant, key)) is not None:
                said.append(self.say(f"for-{key.replace('_', '-')}-{'yes' if told else 'no'}"))
        return capital(", ".join(said))

    def words(self, written: Written) -> Words:
        """Text as written, with '[source]' turned into marks and line breaks into spaces.

        What is for everybody stands first; what is for some only, after a word on who that is.
        """
        if isinstance(written, str):
            return self._mark_text(written)
        pieces = written if isinstance(written, tuple) else (written,)
        groups = dict.fromkeys((EVERYBODY, *(piece.for_ for piece in pieces)))
        runs: list[Run] = []
        for meant in groups:
            said = " ".join(piece.says for piece in pieces if piece.for_ == meant)
            if not said:
                continue
            runs += [Run(" ")] if runs else []
            runs += [] if meant == EVERYBODY else [Run(f"{self.audience(meant)}: ", "strong")]
            runs += self._mark_text(said)
        return tuple(runs)

    def _mark_text(self, written: str) -> Words:
        flat = " ".join(written.split())
        runs: list[Run] = []
        at = 0
        for found in MARK.finditer(flat):
            if found.start() > at:
                runs.append(Run(flat[at : found.start()]))
            runs.append(self.mark(found["source"]))
            at = found.end()
        if at < len(flat):
            runs.append(Run(flat[at:]))
        return tuple(runs)

    def marked(self, content: str, source: str) -> Words:
        return (Run(content), self.mark(source))

    def _describe(self, source: Source, seen: str) -> str:
        return self.say("source-line", full=source.full.strip().rstrip("."), seen=self.say(f"seen-{seen}"))

    def explain_marks(self, marks: Iterable[Run]) -> Words:
        """What these marks stand for, each in a few words, for a line at the foot of a leaf."""
        runs: list[Run] = []
        for target in dict.fromkeys(run.target for run in marks):
            key = target.removeprefix("source-")
            if key.isdigit():
                says = self._sources[self._cited[int(key) - 1][0]].short
            else:
                says = self.say("leaf-practice-short" if key == "p" else "leaf-own-short")
            runs += [Run(" ")] if runs else []
            runs += [Run(f"[{key}]: ", "strong"), Run(f"{says}.")]
        return tuple(runs)

    def source_list(self) -> Bullets | None:
        """The numbered sources of this page, each with how far it was seen; None when no figure was used."""
        rows: list[Words] = [
            (Run(f"[{n}] ", "strong", f"source-{n}"), Run(self._describe(self._sources[name], seen)))
            for n, (name, seen) in enumerate(self._cited, 1)
            if name in self._sources
        ]
        for name in UNSOURCED:
            if name in self._unsourced:
                letter, phrase = LETTERS[name]
                rows.append((Run(f"[{letter}] ", "strong", f"source-{letter}"), Run(self.say(phrase))))
        return Bullets(items=tuple(rows), style="notes") if rows else None
