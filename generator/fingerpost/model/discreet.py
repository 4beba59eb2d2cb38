"""What a text for somebody else must not tell: which part is hurt, and how badly."""

from __future__ import annotations

import re

_TELLTALE = re.compile(
    r"\b(?:pulley|tendon|sheath|ligament|joint|muscle|lumbrical|bone|growth|grow(?:s|n|ing)?|palm|forearm|knuckle|nail"
    r"|strain(?:s|ed)?|sprain(?:s|ed)?|tear|torn|rupture|irritat(?:ed|ion)|infect(?:ed|ion)"
    r"|splint|scan|x-ray|mri|ultrasound|surgeon|surgery|grade|injection|painkillers?"
    r"|pip|dip|mcp|fdp|fds|a[1-5])s?\b",
    re.IGNORECASE,
)


def find_telltale(text: str) -> str:
    """The first word that tells more than "a sore finger", or ''."""
    found = _TELLTALE.search(text)
    return found.group() if found else ""
