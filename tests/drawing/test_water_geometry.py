"""What pictures of water are made of: outlines, clipping, the view, where folds and slits are."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.drawing.dressed_walls import dressed_wall

from sillwright.drawing.water.clip import inside, runs
from sillwright.drawing.water.faces import outward
from sillwright.drawing.water.outline import Loop, Rect, loops, solid, with_lines
from sillwright.drawing.water.seams import creases, slits
from sillwright.drawing.water.square import squared
from sillwright.drawing.water.view import SHORT, Shortened, View
from sillwright.flashing import PanMake
from sillwright.water import Join, Sheet

# --- outlines

WHOLE = st.integers(0, 6)
RECTS = st.lists(
    st.tuples(WHOLE, WHOLE, WHOLE, WHOLE).map(
        lambda r: (
            (float(min(r[0], r[1])), max(r[0], r[1]) + 1.0),
            (float(min(r[2], r[3])), max(r[2], r[3]) + 1.0),
        )
    ),
    min_size=1,
    max_size=6,
)


def area(loop: Loop) -> float:
    """Shoelace formula."""
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(loop, [*loop[1:], loop[0]], strict=True)) / 2


def cells(rects: list[Rect]) -> set[tuple[int, int]]:
    """Unit squares that rectangles with whole sides cover, counted one by one."""
    return {
        (i, j)
        for (u0, u1), (v0, v1) in rects
        for i in range(int(u0), int(u1))
        for j in range(int(v0), int(v1))
    }


@given(rects=RECTS)
def test_borders_enclose_what_the_rectangles_cover(rects: list[Rect]) -> None:
    assert sum(map(area, loops(rects))) == pytest.approx(len(cells(rects)))


@given(rects=RECTS)
def test_a_border_without_holes_encloses_the_same(rects: list[Rect]) -> None:
    parts = solid(loops(rects))
    assert all(area(part) > 0 for part in parts)
    assert sum(map(area, parts)) == pytest.approx(len(cells(rects)))


def test_pieces_that_meet_leave_no_point_where_they_meet() -> None:
    assert loops([((0, 1), (0, 1)), ((1, 3), (0, 1))]) == [[(0, 0), (3, 0), (3, 1), (0, 1)]]


def test_a_frame_has_a_border_and_a_hole() -> None:
    frame: list[Rect] = [((0, 4), (0, 1)), ((0, 4), (3, 4)), ((0, 1), (1, 3)), ((3, 4), (1, 3))]
    assert sorted(map(area, loops(frame))) == [-4, 16]
    assert len(solid(loops(frame))) == 1


def test_a_border_gets_a_point_at_every_line_it_crosses() -> None:
    line = with_lines([(0, 0), (4, 0), (4, 2)], us=[1, 3], vs=[1], closed=False)
    assert line == [(0, 0), (1, 0), (3, 0), (4, 0), (4, 1), (4, 2)]


# --- clipping

SQUARE = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]


def test_an_outline_is_cut_to_its_window() -> None:
    assert area(inside([(2, 2), (6, 2), (6, 6), (2, 6)], SQUARE)) == pytest.approx(4)
    assert inside([(5, 5), (6, 5), (6, 6)], SQUARE) == []


@given(corner=st.tuples(st.floats(-5, 5), st.floats(-5, 5)), size=st.floats(0.1, 8))
def test_a_rectangle_is_cut_to_what_both_share(corner: tuple[float, float], size: float) -> None:
    x, y = corner
    wide, high = (max(min(at + size, 4.0) - max(at, 0.0), 0.0) for at in (x, y))
    cut = inside([(x, y), (x + size, y), (x + size, y + size), (x, y + size)], SQUARE)
    assert (area(cut) if cut else 0.0) == pytest.approx(wide * high, abs=1e-6)


def test_a_line_is_cut_where_it_leaves_and_taken_up_where_it_comes_back() -> None:
    found = runs([(-1, 1), (3, 1), (3, 6), (1, 6), (1, 2)], SQUARE)
    assert found == [[(0, 1), (3, 1), (3, 4)], [(1, 4), (1, 2)]]


# --- the view


@pytest.mark.parametrize("left", [True, False])
@pytest.mark.parametrize("above", [True, False])
def test_the_view_is_a_true_axonometry(left: bool, above: bool) -> None:
    """The squares of the three axes, as complex numbers in the picture, add up to nothing.

    Source: C. F. Gauss, fundamental theorem of axonometry, Werke, vol. 2 (from memory)
    """
    view = View(from_left=left, from_above=above)
    axes = [complex(*point) for point in view.flat(np.eye(3))]
    assert abs(sum(axis**2 for axis in axes)) < 1e-12
    assert sum(abs(axis) ** 2 for axis in axes) == pytest.approx(2)


def test_plumb_stays_plumb_and_up_is_up() -> None:
    (x0, z0), (x1, z1) = View().flat([(3, 0, 0), (3, 0, 10)])
    assert x0 == pytest.approx(x1)
    assert z1 > z0


def test_from_the_left_one_sees_the_right_jamb_from_above_the_sill() -> None:
    shape = dressed_wall().complex
    seen = {
        each.name for each in shape.facets if View().sees(outward(shape, each)) and each.name.startswith("A.")
    }
    assert seen == {"A.sill", "A.right", "A.dam"}
    other = View(from_left=False, from_above=False)
    seen = {each.name for each in shape.facets if other.sees(outward(shape, each)) and each.name[:2] == "A."}
    assert seen == {"A.head", "A.left", "A.dam"}


def test_the_ledger_shows_its_top_its_face_and_the_near_end() -> None:
    shape = dressed_wall().complex
    faces = shape.mounts[0].faces
    seen = {name for name in faces if View().sees(outward(shape, shape.by_name[name]))}
    assert seen == {"ledger.top", "ledger.face", "ledger.left"}


@given(at=st.floats(-20, 60))
def test_a_stretch_drawn_short_keeps_the_order_and_what_is_outside_it(at: float) -> None:
    short = Shortened(((10.0, 30.0),))
    assert short(at + 0.5) > short(at)
    assert float(short(at)) == pytest.approx(at if at <= 10 else float(short(at)))
    assert float(short(31.0) - short(9.0)) == pytest.approx(2 + SHORT)


def test_a_wall_out_of_level_is_drawn_true() -> None:
    square = squared(dressed_wall())
    wall = square.complex.by_name["wall"]
    assert wall.warp is None
    x, y, z = square.complex.by_name["A.sill"].place(40.0, 5.0).tolist()
    assert (x, y, z) == pytest.approx((40.0, 5.0, 30.0 + 5.0 * 0.08))


# --- folds and slits


def piece(name: str, **how: PanMake) -> Sheet:
    return next(sheet for sheet in dressed_wall(**how).sheets if sheet.name == name)


def test_a_pan_is_folded_over_every_edge_it_crosses() -> None:
    found = {frozenset(c.panels): c.join for c in creases(dressed_wall().complex, piece("A.pan"))}
    assert found[frozenset(("sill", "apron"))] is Join.FOLD
    assert found[frozenset(("sill", "dam"))] is Join.FOLD
    assert found[frozenset(("left", "dam"))] is Join.PLEAT
    assert found[frozenset(("right", "right wing"))] is Join.FOLD
    assert len(found) == 8


def test_a_fold_is_the_same_line_on_both_faces() -> None:
    shape = dressed_wall().complex
    for crease in creases(shape, piece("A.pan")):
        ends = [
            [shape.by_name[facet].place(*at) for at in (start, end)]
            for facet, start, end in (crease.one, crease.other)
        ]
        assert np.allclose(ends[0], ends[1], atol=0.5)


def test_a_cut_pan_is_slit_at_both_front_corners_and_nowhere_else() -> None:
    found = {(slit.facet, slit.inner) for slit in slits(dressed_wall(), piece("A.pan"))}
    assert found == {("wall", (40.0, 30.0)), ("wall", (76.0, 30.0))}


def test_a_stretched_or_formed_pan_is_not_slit() -> None:
    for make in (PanMake.STRETCHED, PanMake.FORMED):
        assert list(slits(dressed_wall(pan=make), piece("A.pan", pan=make))) == []


def test_the_flap_of_the_wrap_is_cut_at_both_sides_and_below() -> None:
    whole = [slit for slit in slits(dressed_wall(), piece("wrap.upper")) if slit.whole]
    flap = next(panel for panel in piece("wrap.upper").panels if panel.name.startswith("flap"))
    sides = {slit.inner[0] for slit in whole if math.isclose(slit.inner[0], slit.outer[0])}
    assert sides == set(flap.u)
    below = [slit for slit in whole if slit.inner[1] == slit.outer[1] == flap.v[0]]
    assert sum(slit.outer[0] - slit.inner[0] for slit in below) == pytest.approx(flap.u[1] - flap.u[0])
