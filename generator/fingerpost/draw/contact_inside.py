"""What stands on the contact sheet of what lies under the skin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from fingerpost.model.grammar import choices_of
from fingerpost.model.shared import Inside
from fingerpost.model.words import FINGERS, Finger, Side
from fingerpost.plan.base.pictures import InsideKind, InsidePart, InsidePicture

_SIDE_PARTS: tuple[Inside, ...] = (
    "a1", "a2", "a3", "a4", "a5", "tendon", "mcp", "pip", "dip", "pip-side", "dip-side", "central-slip",
    "growth-plate",
)  # fmt: skip
_CROWDED: tuple[Inside, ...] = ("surface-tendon", "sheath", "volar-plate")
_TORN = tuple(part for part in choices_of(Inside) if part[1:].isdigit())
_FLANKS: tuple[Inside, ...] = ("pip-side", "dip-side", "mcp-side")
_WHOLE = tuple(part for part in choices_of(Inside) if f"{part}-side" in _FLANKS)
_LABELS: dict[Inside, tuple[InsidePart, ...]] = {
    "a2": ("a1", "a2", "a3", "a5", "sheath", "volar-plate", "growth-plate", "bowstring"),
    "pip-side": ("ligament", "other-ligament", "thumb-side", "little-finger-side"),
    "tendon": ("palm-tendon", "lumbrical"),
    "pip": ("joint",),
    "surface-tendon": ("surface-tendon",),
    "forearm": ("muscle", "palm-tendon"),
}
Shown = tuple[str, InsidePicture]


def inside_pictures() -> Iterator[Shown]:
    """Every part, whole and torn, on every finger where they differ."""
    yield from _finger_side()
    yield from _joints()
    yield from _palms()
    for hurt, parts in _LABELS.items():
        for part in parts:
            torn = part == "bowstring"
            yield f"inside, {part}", replace(_inside(hurt), labels=((part, part),), torn=torn)
    others: tuple[Inside, ...] = ("pip", "tendon")
    for hurt in others:
        yield f"inside, {hurt}", replace(_inside(hurt), hurt_label=hurt)


def _finger_side() -> Iterator[Shown]:
    parts: tuple[InsidePart, ...] = ("bone", "tendon", "a4", "central-slip")
    for hurt in (*_SIDE_PARTS, *_CROWDED):
        labels = tuple((part, part) for part in parts[: 2 if hurt in _CROWDED else None])
        yield f"inside, {hurt}", replace(_inside(hurt, "finger-side"), hurt_label=hurt, labels=labels)
    for hurt in _TORN:
        torn = _inside(hurt)
        title = f"The tendon stands off the bone, {hurt} torn"
        yield f"{hurt} torn", replace(torn, title=title, torn=True, pip=60, hurt_label=f"{hurt} torn")


def _joints() -> Iterator[Shown]:
    for joint in _FLANKS:
        yield f"joint, {joint}", replace(_inside(joint), hurt_label="hurt", labels=(("bone", "bone"),))
    for joint in _WHOLE:
        front = replace(_inside(joint, "joint-front"), side=None, hurt_label=joint, labels=(("bone", "bone"),))
        yield f"joint, {joint} from the front", front
    for finger in FINGERS:
        flank = replace(_inside("pip-side"), finger=finger, hand="left", seen_from="back", side="ulnar")
        yield f"joint, {finger}", flank


def _palms() -> Iterator[Shown]:
    palms: tuple[tuple[Inside, Finger, bool], ...] = (
        ("tendon", "ring", False), ("lumbrical", "ring", False), *(("lumbrical", finger, True) for finger in FINGERS),
    )  # fmt: skip
    for hurt, finger, tucked in palms:
        title = "Tendons and muscles of the palm"
        palm = replace(_inside(hurt), title=title, hurt_label=hurt, finger=finger, tucked=tucked)
        yield f"palm, {hurt} of the {finger}", palm
    for finger in FINGERS:
        labels: tuple[tuple[InsidePart, str], ...] = (("palm-tendon", "tendon"),)
        arm = replace(_inside("forearm"), hurt_label="muscle", finger=finger, labels=labels)
        yield f"forearm, {finger}", replace(arm, hand="left" if finger == "index" else "right")


def _inside(hurt: Inside, kind: InsideKind | None = None) -> InsidePicture:
    """A finger from the side, a joint from the front, a palm or a forearm, as goes with what is hurt."""
    if kind is None:
        kind = "finger-side"
        if hurt in ("tendon", "lumbrical"):
            kind = "palm-tendons"
        elif hurt == "forearm":
            kind = "forearm"
        elif hurt.endswith("-side"):
            kind = "joint-front"
    side: Side | None = "radial" if kind == "joint-front" else None
    return InsidePicture(title=f"{hurt} hurt", kind=kind, hurt=hurt, side=side, finger="ring", hand="right")
