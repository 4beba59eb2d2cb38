"""What each grip asks of the A2 and A4 pulleys, and of each finger: ratios only, with what the sums cannot do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fingerpost.model.shared import Grip
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.blocks import Block, Box, Drawing, Paragraph, Table
from fingerpost.plan.base.illustrate import grip_drawing
from fingerpost.plan.base.parts import table
from fingerpost.plan.base.pictures import GripPicture, LoadPicture, LoadRow
from fingerpost.plan.base.prose import Writer, join_words
from fingerpost.plan.base.runs import text
from fingerpost.reckon.finger import GripLoad, Pulley, Ratio, compare_grip, list_published
from fingerpost.reckon.shares import share_load

REFERENCE_GRIP = "half-crimp"
CHART_MM = 120.0
PULLEYS: tuple[Pulley, ...] = ("a2", "a4")
LEVELS = ((0.0, "none"), (0.5, "half"), (1.0, "same"))
"""Where the axis of the chart is marked, beside a half crimp, and the word for it."""


def list_grip_loads(grips: tuple[Grip, ...]) -> tuple[GripLoad, ...]:
    """Every grip with known angles beside the half crimp; nothing where the half crimp's angles are unknown."""
    half = next((g.angles for g in grips if g.id == REFERENCE_GRIP), None)
    if half is None:
        return ()
    return tuple(compare_grip(g.id, g.angles, half) for g in grips if g.angles)


def _list_shown(writer: Writer) -> tuple[GripLoad, ...]:
    """What readers see: grips in which all four fingers pull.

    Why: the sums are for one pull at one fingertip. In a pocket fewer fingers take the same hold, so a short bar would
    call the hold that asks most of a finger the mildest.
    """
    whole = {g.id for g in writer.library.vocabularies.grips if len(g.fingers) == len(FINGERS)}
    return tuple(load for load in list_grip_loads(writer.library.vocabularies.grips) if load.grip in whole)


def _ratio_text(writer: Writer, ratio: Ratio, known: bool) -> str:
    name = "ratio-range" if known else "ratio"
    return writer.say(name, typical=f"{ratio.typical:.1f}", least=f"{ratio.least:.1f}", most=f"{ratio.most:.1f}")


def load_table(writer: Writer) -> Table:
    """Grips against the two pulleys, half crimp = 1."""
    grips = {g.id: g for g in writer.library.vocabularies.grips}
    rows = []
    for load in _list_shown(writer):
        grip = grips[load.grip]
        a2, a4 = (text(_ratio_text(writer, load.of(pulley), load.spread_known)) for pulley in PULLEYS)
        marked = (*a4, writer.mark(grip.angles.source)) if grip.angles else a4
        rows.append((text(grip.name), a2, marked))
    head = (writer.say("head-grip"), writer.say("head-a2"), writer.say("head-a4"))
    return replace(table(writer.say("caption-grip-loads"), head, rows), folded=writer.say("loads-as-table"))


def load_chart(writer: Writer) -> Drawing:
    """The same as bars, both pulleys of a grip under each other, the grip that asks most of A2 first."""
    grips = {g.id: g for g in writer.library.vocabularies.grips}
    loads = sorted(_list_shown(writer), key=lambda load: -load.a2.typical)
    picture = LoadPicture(
        title=_tell_loads(writer, loads),
        pulleys=tuple(pulley.upper() for pulley in PULLEYS),
        rows=tuple(
            LoadRow(
                name=grips[load.grip].name,
                grip=_draw_icon(writer, grips[load.grip]),
                loads=tuple((r.typical, r.least, r.most) for r in map(load.of, PULLEYS)),
            )
            for load in loads
        ),
        levels=tuple((share, writer.say(f"axis-{name}")) for share, name in LEVELS),
    )
    return Drawing(name="loads", picture=picture, caption=text(writer.say("load-chart-caption")), width_mm=CHART_MM)


def _draw_icon(writer: Writer, grip: Grip) -> GripPicture:
    picture = grip_drawing(writer, grip).picture
    assert isinstance(picture, GripPicture)
    return replace(picture, small=True)


def _tell_loads(writer: Writer, loads: Sequence[GripLoad]) -> str:
    """What the chart shows: for each pulley which grip loads it most and which least, and all between."""
    names = {g.id: g.name for g in writer.library.vocabularies.grips}
    told = []
    for pulley in PULLEYS:
        ranked = sorted(loads, key=lambda load: -load.of(pulley).typical)
        said = [f"{names[one.grip]} {_ratio_text(writer, one.of(pulley), one.spread_known)}" for one in ranked]
        ends = {"most": names[ranked[0].grip], "least": names[ranked[-1].grip]}
        told.append(writer.say("picture-loads", pulley=pulley.upper(), loads="; ".join(said), **ends))
    return " ".join((writer.say("picture-loads-unit"), *told))


def published_table(writer: Writer) -> Table | None:
    """Published ratios of full crimp to sloper beside ours, and by how much they differ.

    A figure that is only recalled is not printed: it would look like a fact beside the measured ones.
    """
    angles = {g.id: g.angles for g in writer.library.vocabularies.grips}
    crimp, slope = angles.get("full-crimp"), angles.get("sloper")
    if crimp is None or slope is None:
        return None
    rows = []
    for p in (p for p in list_published(crimp, slope) if p.seen != "recalled"):
        known = any(s.id == p.source for s in writer.library.vocabularies.sources)
        figure = (*text(f"{p.published:g}"), *((writer.mark(f"{p.source} {p.seen}"),) if known else ()))
        gap = "same" if p.percent_more == 0 else "more" if p.percent_more > 0 else "less"
        says = writer.say(f"published-{gap}", percent=abs(p.percent_more))
        rows.append((text(p.pulley.upper()), figure, text(f"{p.model:.2f}"), text(says)))
    head = tuple(writer.say(f"head-{h}") for h in ("pulley", "published", "ours", "compared"))
    return table(writer.say("caption-published-loads"), head, rows)


def load_blocks(writer: Writer) -> tuple[Block, ...]:
    """The whole account: what the sums say, beside what was published, and what they cannot do."""
    published = published_table(writer)
    limits = tuple(text(line) for line in writer.say("grip-load-limits").split("\n") if line.strip())
    return (
        Paragraph(words=text(writer.say("grip-load-intro"))),
        load_chart(writer),
        load_table(writer),
        *((published,) if published else ()),
        Box(level="note", title=writer.say("grip-load-limits-title"), lines=limits),
    )


def share_block(writer: Writer, grip: Grip) -> Block | None:
    """How the fingers of a grip share the load, and what stays when one is spared."""
    sharing = share_load(grip.fingers, grip.neighbours)
    names = [
        writer.say("share-of", finger=writer.say(f"finger-{f}"), percent=percent)
        for f, percent in sharing.shares_percent
    ]
    parts = [writer.say("shares", shares=join_words(names))] if len(names) > 1 else []
    parts += [writer.say(f"caution-{c}") for c in sharing.cautions]
    if not parts:
        return None
    return Paragraph(words=(*text(" ".join(parts)), writer.mark("li-2002")))


def spare_table(writer: Writer) -> Table:
    """Four fingers together with one spared: what the hand can still hold if no finger does more than before."""
    rows = []
    for finger in FINGERS:
        spared = share_load(FINGERS, spared=finger)
        left = (*text(f"{spared.left_percent} %"), writer.mark("li-2002"))
        rows.append((text(writer.say(f"finger-{finger}")), left, text(f"+{spared.extra_percent} %")))
    head = (writer.say("head-spared"), writer.say("head-left"), writer.say("head-extra"))
    return table(writer.say("caption-spared"), head, rows)
