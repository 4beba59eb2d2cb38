"""Comments and blank lines: what they belong to in one text, and where that puts them in another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from fingerpost.model.library import Path
from fingerpost.read.yaml_stretches import Stretch

MODELINE = "# yaml-language-server:"


@dataclass
class Notes:
    """Lines of comments and blanks: at the head of the file, above and below parts, and at the end of the file."""

    head: list[str] = field(default_factory=list)
    above: dict[Path, list[str]] = field(default_factory=dict)
    below: dict[Path, list[str]] = field(default_factory=dict)
    foot: list[str] = field(default_factory=list)

    def move(self, to: Callable[[Path], Path]) -> Notes:
        """The same notes where each part stands elsewhere now."""
        moved = Notes(head=self.head, foot=self.foot)
        for old, new in ((self.above, moved.above), (self.below, moved.below)):
            for path, lines in old.items():
                new.setdefault(to(path), []).extend(lines)
        return moved


def _inside(parts: Sequence[Stretch], lines: Sequence[str]) -> set[int]:
    """The lines that belong to a text of several lines, but for the first. Blank lines at its end do not."""
    inside: set[int] = set()
    for part in parts:
        end = part.end_line + (part.end_column > 0)
        while part.scalar and end > part.value_line + 1 and not lines[end - 1].strip():
            end -= 1
        inside.update(range(part.value_line + 1, end) if part.scalar else ())
    return inside


def _find_comments(parts: Sequence[Stretch], text: str) -> Iterator[tuple[int, int, str]]:
    """(line, column, comment) of every comment; the comment is empty for a blank line.

    A comment behind something stands in column 0, as if it stood above it.
    """
    covered: dict[int, list[tuple[int, int]]] = {}
    for part in parts:
        if part.scalar and part.end_line == part.value_line:
            covered.setdefault(part.value_line, []).append((part.value_column, part.end_column))
    lines = text.split("\n")
    inside = _inside(parts, lines)
    for number, line in enumerate(lines[:-1]):
        if number in inside:
            continue
        if not line.strip():
            yield number, 0, ""
        for column, sign in enumerate(line):
            free = not any(start <= column < end for start, end in covered.get(number, ()))
            if sign == "#" and free and (column == 0 or line[column - 1] in " \t"):
                yield number, 0 if line[:column].strip() else column, line[column:].rstrip()
                break


def _tidy(lines: Sequence[str]) -> list[str]:
    """No two blank lines in a row."""
    return [line for n, line in enumerate(lines) if line or n == 0 or lines[n - 1]]


def _split_head(waiting: list[tuple[int, str]]) -> int:
    """How many of the lines before everything else belong to the file and not to its first part."""
    blanks = [n for n, (_, comment) in enumerate(waiting) if not comment]
    if blanks:
        return blanks[-1] + 1
    return 1 if waiting and waiting[0][1].startswith(MODELINE) else 0


def _owner_of_deeper(parts: Sequence[Stretch], before: int, column: int) -> Path:
    """The last part before a line that stands as deep as a comment, so that the comment belongs below it."""
    fitting = [p for p in parts if p.line < before and p.column <= column]
    deepest = max((p.column for p in fitting), default=0)
    return next((p.path for p in reversed(fitting) if p.column == deepest), ())


def find_notes(parts: Sequence[Stretch], text: str) -> Notes:
    """What each comment belongs to: the part below it, or the part above it where that stands as deep."""
    notes = Notes()
    starts: dict[int, Stretch] = {}
    for part in parts:
        starts.setdefault(part.line, part)
    lines = sorted(starts)
    waiting: dict[int, list[tuple[int, str]]] = {}
    for number, column, comment in _find_comments(parts, text):
        following = next((n for n in lines if n >= number), -1)
        waiting.setdefault(following, []).append((column, comment))
    for line, found in waiting.items():
        if line < 0:
            notes.foot += [comment for _, comment in found]
            continue
        cut = _split_head(found) if line == lines[0] else 0
        notes.head += [comment for _, comment in found[:cut]]
        for column, comment in found[cut:]:
            owner = starts[line]
            if comment and column > owner.column and not notes.above.get(owner.path):
                notes.below.setdefault(_owner_of_deeper(parts, line, column), []).append(comment)
            else:
                notes.above.setdefault(owner.path, []).append(comment)
    return notes


def put_notes(notes: Notes, parts: Sequence[Stretch], body: str) -> str:
    """The body with the notes above and below the parts that they belong to. Notes of parts that are gone go too."""
    lines = body.split("\n")[:-1]
    before: dict[int, list[str]] = {}
    for number, part in enumerate(parts):
        lead = lines[part.line][: len(lines[part.line]) - len(lines[part.line].lstrip())]
        if above := notes.above.get(part.path):
            before.setdefault(part.line, []).extend(lead + comment if comment else "" for comment in above)
        if below := notes.below.get(part.path):
            depth = len(part.path)
            rest = (p.line for p in parts[number + 1 :] if p.path[:depth] != part.path and p.line > part.line)
            before.setdefault(next(rest, len(lines)), []).extend(" " * part.column + comment for comment in below)
    made = list(notes.head)
    for number, line in enumerate(lines):
        made += [*before.get(number, ()), line]
    made = _tidy([*made, *before.get(len(lines), ()), *notes.foot])
    while made and not made[0]:
        del made[0]
    while made and not made[-1]:
        del made[-1]
    return "\n".join(made) + "\n"


def first_difference(text: str, body: str) -> int:
    """The first line (from 1) at which a text is more than its body with comments and single blank lines; 0: none."""
    wanted, at, blank = body.split("\n")[:-1], 0, True
    lines = text.split("\n")
    for number, line in enumerate(lines[:-1], 1):
        if at < len(wanted) and line == wanted[at]:
            at, blank = at + 1, False
        elif not line and not blank:
            blank = True
        elif line.lstrip(" ").startswith("#") and line == line.rstrip() and _may_stand(line, wanted, at):
            blank = False
        else:
            return number
    return 0 if at == len(wanted) and not lines[-1] and not blank else len(lines)


def _measure_indent(line: str) -> int:
    return len(line) - len(line.lstrip(" "))


def _may_stand(comment: str, wanted: Sequence[str], at: int) -> bool:
    """Whether a comment may be this deep: as deep as the line below it, or as one above that is deeper."""
    indent = _measure_indent(comment)
    below = _measure_indent(wanted[at]) if at < len(wanted) else 0
    above = _measure_indent(wanted[at - 1]) if at else 0
    return indent == below or below < indent <= above
