"""What readers see of the sums about grips: no bar that misleads, and what was measured beside what we work out."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.blocks import plain
from fingerpost.plan.base.pictures import LoadPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.grip_loads import load_chart, load_table, published_table


def draw_chart(library: Library) -> LoadPicture:
    picture = load_chart(Writer(library)).picture
    assert isinstance(picture, LoadPicture)
    return picture


def test_no_grip_of_fewer_than_four_fingers_looks_mild(library: Library) -> None:
    fewer = {g.name for g in library.vocabularies.grips if len(g.fingers) < len(FINGERS)}
    assert {"One-finger pocket", "Two-finger pocket"} <= fewer
    names = {row.name for row in draw_chart(library).rows}
    assert "Full crimp" in names
    assert not fewer & names
    assert not fewer & {plain(row[0]) for row in load_table(Writer(library)).rows}


def test_who_cannot_see_the_chart_hears_which_grip_loads_a_pulley_most(library: Library) -> None:
    """And every bar with its range, in the same figures as in the table."""
    title = draw_chart(library).title
    assert "Full crimp loads A2 most, Sloper least:" in title
    assert "Full crimp loads A4 most, Sloper least:" in title
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in load_table(Writer(library)).rows}
    assert len(rows) >= 5
    for name, (a2, a4) in rows.items():
        assert f"{name} {a2}" in title
        assert f"{name} {a4.partition('[')[0].strip()}" in title


def test_the_table_of_the_same_figures_opens_at_words(library: Library) -> None:
    assert load_table(Writer(library)).folded
    published = published_table(Writer(library))
    assert published is not None
    assert not published.folded, "what our sums are held against is never folded away"


def test_each_grip_of_the_chart_has_its_own_picture(library: Library) -> None:
    icons = [row.grip for row in draw_chart(library).rows]
    assert all(icon.small and not icon.mark for icon in icons)
    assert len({(icon.mcp, icon.pip, icon.dip, icon.hold) for icon in icons}) == len(icons)


def test_what_was_measured_stands_beside_ours_with_the_gap_between_them(library: Library) -> None:
    table = published_table(Writer(library))
    assert table is not None
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    for pulley, measured in (("A2", 2.37), ("A4", 2.19)):
        published, ours, compared = rows[pulley]
        assert published.startswith(f"{measured}")
        percent = round((float(ours) / measured - 1) * 100)
        assert abs(percent) > 10, "a gap as small as this would need other words"
        assert compared == f"not the same: ours is {percent} % more"
