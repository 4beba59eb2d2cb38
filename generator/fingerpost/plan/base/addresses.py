"""The addresses of the site: a contract with everybody who has one on paper or in a bookmark."""

from __future__ import annotations

from fingerpost.model.words import Id


def address_of(condition: str) -> str:
    """The stable address of an injury's page."""
    return f"injuries/{condition}/"


def sheet_address(protocol: str, paper: str) -> str:
    """The stable address of a protocol's general sheets."""
    return f"sheets/{protocol}-{paper.lower()}.pdf"


def short_address(id: str, stage: int | None = None) -> str:
    """The stable short address of an injury, or of one of its stages counted from 1, for paper."""
    return f"i/{id}-{stage}/" if stage else f"i/{id}/"


def words_of(address: str) -> str:
    """An address as people read it aloud: without https:// and without the last slash."""
    return address.partition("://")[2].rstrip("/")


def notice_address(id: str, paper: str) -> str:
    """The stable address of a notice on the site."""
    return f"notices/{id}-{paper.lower()}.pdf"


def key_address(paper: str) -> str:
    """The stable address of the key on the site."""
    return f"sheets/key-{paper.lower()}.pdf"


def pair_address(one: Id, other: Id) -> str:
    """The stable address of the page that tells two pages apart."""
    first, second = sorted((one, other))
    return f"apart/{first}-{second}/"


def picture_address(name: str) -> str:
    """Where a small picture lies that several pages show."""
    return f"pictures/{name}.svg"


def coach_address(protocol: str) -> str:
    """The stable address of a protocol's page for coaches."""
    return f"for-coaches/{protocol}/"
