"""What a text of the plan is for. Every field that holds text says so, so that an id is never taken for a word."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal


@dataclass(frozen=True)
class Use:
    """`seen`: words on the page or sheet. `heard`: what stands in for a picture, or describes a page from outside.
    `machine`: an id, an anchor, an address, the name of a file or of a drawing."""

    sort: Literal["seen", "heard", "machine"]


SEEN, HEARD, MACHINE = Use("seen"), Use("heard"), Use("machine")

Visible = Annotated[str, SEEN]
Spoken = Annotated[str, HEARD]
Handle = Annotated[str, MACHINE]
