"""What a lawyer would strike out: claims about who chose, who checked, and what the figures rest on."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.plan.base.blocks import Bullets, Paragraph
from fingerpost.plan.base.runs import plain
from sweep.sayings import saying
from sweep.sheets import Told

saying("called general", r"\bgeneral information\b|\bgeneral sheet\b|\bnot made for one person\b")
saying("a draft", r"\bfor the clinician's own review\b|\bno clinician has signed it\b|\bnot signed by a clinician\b")
saying(
    "for the clinician", r"\bcheck the test of the other hand\b|\blook again\b|\bif you mean it, print\b|\bthis case\b"
)
saying("a dose of a drug", r"\b\d+(?:\.\d+)?\s?(?:mg|ml|tablets?)\b|\bibuprofen\b|\bparacetamol\b")
saying(
    "a verdict",
    r"\byou (?:have (?:torn|broken)|are (?:healed|ready|cured))\b|\bit has healed\b|\byou may move on\b|\bguarantee",
)
_SHARE = ("That is ", " % of ")


def find_personal_sheets_called_general(told: Told) -> Iterator[str]:
    """Sheets with a person's loads and dates must not be called general information."""
    yield from (s for _, s in told.says("called general"))


def find_drafts_in_a_patient_s_hand(told: Told) -> Iterator[str]:
    """A patient must not be handed what is for a clinician's own review and signed by nobody."""
    yield from (f"{line.section}: {s}" for line, s in told.says("a draft"))


def find_remarks_for_the_clinician(told: Told) -> Iterator[str]:
    """What only a clinician can act on belongs on their screen, not on the patient's paper."""
    yield from (s for _, s in told.says("for the clinician"))


def find_doses_of_drugs(told: Told) -> Iterator[str]:
    """No sheet may name a medicine with a dose."""
    yield from (s for _, s in told.says("a dose of a drug", but={"sources"}))


def find_verdicts(told: Told) -> Iterator[str]:
    """The paper must not say what somebody has, nor that they are ready: only a person who sees the finger does."""
    found = told.says("a verdict", but={"sources", "words"})
    yield from (s for _, s in found if not s.endswith("?") and "does not mean" not in s)


def find_choices_called_practice(told: Told) -> Iterator[str]:
    """A share of load is a choice of ours: it must not carry the mark of what many clinicians do."""
    for piece in told.pieces:
        if isinstance(piece.block, Bullets | Paragraph):
            for words in piece.block.items if isinstance(piece.block, Bullets) else (piece.block.words,):
                marks = [run.text.strip("\u00a0 ") for run in words if run.kind == "mark"]
                if "[p]" in marks and all(part in plain(words) for part in _SHARE):
                    yield plain(words)
