"""The numbers of the hand: lengths, joints, widths. Millimetres of a hand 185 mm long.

Frame: a right hand seen from the palm. The middle of the distal wrist crease is 0, y runs along the middle finger
to its tip, x to the thumb side.

Bone lengths: Buryanov & Kotiuk 2010 (66 adults, X-ray). A drawing needs the distances of joint *centres*: the turning
point lies inside the head of a bone, so a proximal phalanx gains 4 mm, a middle one 2, a distal one 2 and its 4 mm
of pulp. Checked against Buchholz, Armstrong & Goldstein 1992. Breadth at the PIP joint: Pheasant, Bodyspace (recalled).
Everything else (places of the joints, spread, share of width along a finger) is drawn by eye.
"""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.model.words import Finger

HAND_LENGTH, HAND_BREADTH = 185.0, 84.0
PP_GAIN, MP_GAIN, DP_GAIN, PULP = 4.0, 2.0, 2.0, 4.0


@dataclass(frozen=True, kw_only=True)
class FingerShape:
    """One finger: bones and half breadth `half` at the PIP joint in mm, `spread` and bends in degrees (ulnar +)."""

    bones: tuple[float, float, float]
    mcp: complex
    spread: float
    bends: tuple[float, float]
    half: float

    @property
    def lengths(self) -> tuple[float, float, float]:
        """Distances MCP-PIP, PIP-DIP, DIP-tip of the pulp."""
        proximal, middle, distal = self.bones
        return proximal + PP_GAIN, middle + MP_GAIN, distal + DP_GAIN + PULP


SHAPES: dict[Finger, FingerShape] = {
    "index": FingerShape(bones=(39.8, 22.4, 15.8), mcp=20.5 + 81.0j, spread=-6.5, bends=(2.0, 2.5), half=9.8),
    "middle": FingerShape(bones=(44.6, 26.3, 17.4), mcp=0.0 + 84.7j, spread=-0.5, bends=(0.5, 0.0), half=10.0),
    "ring": FingerShape(bones=(41.4, 25.7, 17.3), mcp=-18.8 + 79.5j, spread=6.0, bends=(-1.0, -1.5), half=9.5),
    "little": FingerShape(bones=(32.7, 18.1, 16.0), mcp=-36.0 + 70.5j, spread=15.5, bends=(-2.0, -3.5), half=8.4),
}

A2, A4 = (0.22, 0.68), (0.34, 0.66)
"""Where these pulleys begin and end, as shares of the first and the second segment (general anatomy: A2 covers most of
the bone from the web to the joint). The mark on the skin and the part under it go by the same numbers."""
# Half width as a share of `half`: (segment 1-3, share along the segment, share of width). PIP and DIP shares follow
# the measured breadths, the waists are drawn by eye (0.35 and 0.5 mm; more looks arthritic).
WIDTHS: tuple[tuple[int, float, float], ...] = (
    (1, 0.0, 1.12), (1, 0.30, 1.07), (1, 0.62, 1.00), (1, 0.80, 0.965), (1, 0.985, 1.00),
    (2, 0.22, 0.935), (2, 0.55, 0.885), (2, 0.97, 0.880),
    (3, 0.22, 0.835), (3, 0.45, 0.815), (3, 0.66, 0.745), (3, 0.86, 0.525), (3, 1.0, 0.0),
)  # fmt: skip

# Thumb joints as they project in a relaxed hand (drawn by eye): base, MCP, IP, tip.
THUMB: tuple[complex, complex, complex, complex] = (24 + 16j, 53.5 + 51.5j, 71.5 + 80j, 86 + 107.5j)
