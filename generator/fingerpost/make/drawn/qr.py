"""An address as a QR code, in SVG. The only importer of the code maker.

ISO/IEC 18004: a quiet zone of 4 modules on each side; level M or better; never the small (Micro) kind, which few
phones read. A module is at least 0.5 mm, so that any office printer and any phone can manage it.
"""

from __future__ import annotations

import re
from html import escape

import segno

QUIET = 4
LEAST_MODULE_MM = 0.5
_PUBLIC = re.compile(r"https?://[^\s?#]+")


def needed_mm(address: str) -> float:
    """How wide the code of an address must be at the least, in mm, with its quiet zone."""
    return (len(_make(address).matrix) + 2 * QUIET) * LEAST_MODULE_MM


def _make(address: str) -> segno.QRCode:
    return segno.make_qr(address, error="m", boost_error=True)


def draw_code(address: str, *, title: str, width_mm: float) -> str:
    """The code of a page's address as one `<svg>` element, `width_mm` wide with its quiet zone.

    The address holds no '?' and no '#', so that it can say nothing about a person. Raises ValueError for such an
    address, and for one so long that a module would be smaller than 0.5 mm.
    """
    if not _PUBLIC.fullmatch(address):
        raise ValueError(f"not the address of a page: {address!r}")
    rows = [bytes(row) for row in _make(address).matrix]
    side = len(rows) + 2 * QUIET
    if width_mm / side < LEAST_MODULE_MM:
        raise ValueError(f"the address is too long for a code of {width_mm} mm: {address!r}")
    data = "".join(f"M{x} {y}h{length}v1h-{length}z" for x, y, length in _runs(rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm}mm" height="{width_mm}mm" '
        f'viewBox="0 0 {side} {side}" role="img"><title>{escape(title)}</title>'
        f'<path d="M0 0h{side}v{side}h-{side}z" fill="#fff"/><path d="{data}" fill="#000"/></svg>'
    )


def _runs(rows: list[bytes]) -> list[tuple[int, int, int]]:
    """(x, y, length) of every run of dark modules, the quiet zone counted in."""
    return [
        (found.start() + QUIET, y + QUIET, len(found.group()))
        for y, row in enumerate(rows)
        for found in re.finditer(b"\x01+", row)
    ]
