"""Flat patterns: lengths are those of the wall, what cannot lie flat is refused, pieces fit their rolls."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tests.water.boxes import box, skin
from tests.water.wall_sets import CROOKED, TAPE, crooked_walls, dressed, mirrored, opening, wall

from sillwright.errors import BadInput
from sillwright.flashing.practice import PanMake, UnitSet
from sillwright.water import Complex, Join, Kind, Panel, Seam, Sheet, Stock, WallFace, wall_complex
from sillwright.water.lattice import Floats
from sillwright.water.pattern_model import XY, FlatPattern, FlatPiece, Make
from sillwright.water.patterns import FLAT, _flats, flat_pattern, flat_patterns
from sillwright.water.rolls import cut_size, lie
from sillwright.water.tiles import Tile, outward, tiling
from sillwright.water.unfold import Flat, Growth, area, frames, joins_of

PLAIN = Stock(name="paper", family="paper")
SHARES = st.floats(0.0, 1.0)


def folded(own: WallFace, unit: UnitSet = UnitSet.STRIPS_OVER) -> tuple[Complex, list[Sheet]]:
    """Return the sheets that are folded round an opening, nothing else done to them."""
    sound = dressed(own, unit=unit)
    kinds = (Kind.PAN, Kind.STRIP, Kind.LEDGER_SHEET, Kind.TAPE)
    return sound.complex, [sheet for sheet in sound.sheets if sheet.kind in kinds]


def laid_flat(shape: Complex, sheet: Sheet) -> Flat:
    whole = tiling(shape, sheet)
    (flat,) = _flats(Growth(whole, joins_of(whole), frames(outward(shape), whole)), FLAT)
    return flat


def inside(tile: Tile, ring: tuple[complex, ...], s: float, t: float) -> tuple[Floats, complex]:
    """Return a point of a tile in space, and where it lies in the plane."""
    a, b, c, d = tile.points
    point = (1 - s) * (1 - t) * a + s * (1 - t) * b + s * t * c + (1 - s) * t * d
    share = np.linalg.lstsq(np.stack([b - a, d - a], axis=1), point - a)[0]
    return point, ring[0] + share[0] * (ring[1] - ring[0]) + share[1] * (ring[3] - ring[0])


# --- lengths


@given(crooked_walls, st.sampled_from(UnitSet), SHARES, SHARES, SHARES, SHARES)
@settings(max_examples=6, deadline=None)
def test_distances_in_a_panel_are_those_on_the_wall(
    own: WallFace, unit: UnitSet, s: float, t: float, q: float, r: float
) -> None:
    shape, sheets = folded(own, unit)
    for sheet in sheets:
        flat = laid_flat(shape, sheet)
        for one, other in combinations(range(len(flat.tiling.tiles)), 2):
            if flat.tiling.tiles[one].panels != flat.tiling.tiles[other].panels:
                continue
            p, u = inside(flat.tiling.tiles[one], flat.corners[one], s, t)
            w, v = inside(flat.tiling.tiles[other], flat.corners[other], q, r)
            assert abs(u - v) == pytest.approx(float(np.linalg.norm(p - w)), abs=1e-9)


@given(crooked_walls, SHARES, SHARES, SHARES)
@settings(max_examples=6, deadline=None)
def test_the_straight_way_over_a_fold_is_the_shortest_on_the_wall(
    own: WallFace, s: float, t: float, q: float
) -> None:
    shape, sheets = folded(own)
    for sheet in sheets:
        flat = laid_flat(shape, sheet)
        for (one, side), (other, _) in flat.used.items():
            tiles = flat.tiling.tiles[one], flat.tiling.tiles[other]
            if tiles[0].facet == tiles[1].facet:
                continue
            (p, u), (w, v) = (
                inside(tile, flat.corners[n], *where)
                for tile, n, where in zip(tiles, (one, other), ((s, t), (t, q)), strict=True)
            )
            a, b = flat.corners[one][side], flat.corners[one][(side + 1) % 4]
            share = _crossing(a, b, u, v)
            if share is None:
                continue
            start, end = tiles[0].ends(side)
            found = min(
                float(np.linalg.norm(p - x) + np.linalg.norm(x - w))
                for x in (start + k * (end - start) for k in _near(share))
            )
            assert abs(u - v) == pytest.approx(found, abs=1e-9)


def _crossing(a: complex, b: complex, u: complex, v: complex) -> float | None:
    """Return how far along a fold the straight line between two points crosses it; None: it does not."""
    along, way = b - a, v - u
    down = (along.conjugate() * way).imag
    if abs(down) < 1e-9:
        return None
    share = ((u - a).conjugate() * way).imag / down
    return share if 0 <= share <= 1 else None


def _near(share: float) -> list[float]:
    return [min(max(share + step, 0.0), 1.0) for step in (-1e-3, -1e-5, 0.0, 1e-5, 1e-3)]


@given(crooked_walls)
@settings(max_examples=5, deadline=None)
def test_areas_and_folds_on_the_roll_are_those_on_the_wall(own: WallFace) -> None:
    shape, sheets = folded(own)
    for sheet in sheets:
        whole = tiling(shape, sheet)
        (piece,) = flat_pattern(sheet, shape, joint_lap=4.0).pieces
        for panel in piece.panels:
            tiles = [tile for tile in whole.tiles if tile.panels[0].name == panel.name]
            true = sum(
                float(np.linalg.norm(np.cross(t.points[2] - t.points[0], t.points[3] - t.points[1]))) / 2
                for t in tiles
            )
            assert ring_area(panel.outline) == pytest.approx(true, abs=1e-9)
        for fold in piece.folds:
            lengths = {}
            for place, (other, _) in joins_of(whole).items():
                names = {whole.tiles[n].panels[0].name for n in (place[0], other[0])}
                if names == {fold.one, fold.other}:
                    a, b = whole.tiles[place[0]].ends(place[1])
                    lengths[tuple(sorted((place, other)))] = float(np.linalg.norm(b - a))
            drawn = sum(math.dist(*ends) for ends in pairwise(fold.line))
            assert drawn == pytest.approx(sum(lengths.values()), abs=1e-9)


def ring_area(ring: tuple[XY, ...]) -> float:
    return area(tuple(complex(*point) for point in ring))


# --- the pan


def pan_of(own: WallFace, **more: PanMake) -> tuple[Complex, FlatPattern]:
    sound = dressed(own, **more)  # type: ignore[arg-type]
    sheet = next(sheet for sheet in sound.sheets if sheet.name == "A.pan")
    return sound.complex, flat_pattern(sheet, sound.complex, joint_lap=4.0)


def test_a_square_pan_on_a_level_sill_is_slit_to_both_corners_and_opens_a_right_angle() -> None:
    own = wall(opening(sill_rise=0.0), ledger=False)
    _, pan = pan_of(own)
    (piece,) = pan.pieces
    assert pan.make is Make.FOLDED
    assert [
        (patch.corner, round(patch.opens_deg, 9), round(patch.angle_deg, 9)) for patch in pan.patches
    ] == [
        ("A.sill.left", 90.0, 450.0),
        ("A.sill.right", 90.0, 450.0),
    ]
    assert len(piece.slits) == 2
    for slit in piece.slits:
        assert slit.inches == pytest.approx(6.0)
        assert abs(slit.wedge_deg) + slit.short < 1e-9
    turns = {(fold.one, fold.other): round(fold.turn_deg, 9) for fold in piece.folds}
    assert {pair: turn for pair, turn in turns.items() if "sill" in pair} == {
        ("sill", "apron"): -90.0,
        ("sill", "dam"): 90.0,
        ("sill", "left"): 90.0,
        ("sill", "right"): 90.0,
    }
    assert all(turn == -90.0 for (one, _), turn in turns.items() if one in ("left", "right"))
    assert piece.size.along == pytest.approx(36.0 + 2 * 6.0)
    assert piece.size.across == pytest.approx(12.0)
    assert piece.size.fits
    assert len(piece.size.strips) == 1
    for pleat in piece.pleats:
        tip, one, outer, other = pleat.outline
        assert [math.dist(*ends) for ends in ((tip, one), (one, outer), (outer, other), (other, tip))] == (
            pytest.approx([1.0] * 4)
        )


@given(crooked_walls)
@settings(max_examples=6, deadline=None)
def test_a_slit_opens_as_far_as_its_banks_stand_apart_on_the_wall(own: WallFace) -> None:
    shape, pan = pan_of(own)
    for slit in pan.pieces[0].slits:
        corner = next(corner for corner in shape.corners if corner.name == slit.corner)
        _, u, v = corner.at[0]
        out = -1.0 if slit.corner == "A.sill.left" else 1.0
        here = shape.by_name["wall"].place(u, v)
        beside = shape.by_name["wall"].place(u + out * 1e-3, v) - here
        below = shape.by_name["wall"].place(u, v - 1e-3) - here
        cos = beside @ below / np.linalg.norm(beside) / np.linalg.norm(below)
        lacking = min(0.0, slit.wedge_deg)
        assert slit.opens_deg + lacking == pytest.approx(math.degrees(math.acos(cos)), abs=1e-6)


@given(crooked_walls)
@settings(max_examples=5, deadline=None)
def test_pleats_close_when_they_are_folded(own: WallFace) -> None:
    _, pan = pan_of(own)
    assert len(pan.pieces[0].pleats) == 2
    for pleat in pan.pieces[0].pleats:
        tip, one, outer, other = pleat.outline
        assert math.dist(tip, one) == pytest.approx(math.dist(tip, other), abs=1e-9)
        assert math.dist(one, outer) == pytest.approx(math.dist(other, outer), abs=1e-9)


def test_a_formed_pan_is_bent_and_soldered_and_needs_no_patch() -> None:
    _, pan = pan_of(wall(opening(off=CROOKED), ledger=False), pan=PanMake.FORMED)
    assert pan.make is Make.FORMED
    assert not pan.patches
    names = [name for piece in pan.pieces for name in (panel.name for panel in piece.panels)]
    assert sorted(names) == sorted(set(names))
    assert len(pan.pieces[0].panels) >= 5
    assert any(meeting.soldered for meeting in pan.meetings)
    assert not pan.added


def test_a_stretched_pan_gets_its_ears_by_stretching_a_quarter() -> None:
    sound = dressed(wall(opening(sill_rise=0.0), ledger=False), pan=PanMake.STRETCHED)
    sheet = next(sheet for sheet in sound.sheets if sheet.name == "A.pan")
    sheet = replace(sheet, stock=replace(sheet.stock, stretches=True))
    pan = flat_pattern(sheet, sound.complex, joint_lap=4.0)
    assert pan.make is Make.STRETCHED
    assert set(pan.added) == {"left ear", "right ear"}
    (piece,) = pan.pieces
    assert not piece.slits
    assert [stretch.percent for stretch in piece.stretches] == pytest.approx([25.0, 25.0])
    assert not pan.patches


def test_stock_that_does_not_stretch_is_refused_where_it_must() -> None:
    sound = dressed(wall(opening(), ledger=False))
    sheet = next(sheet for sheet in sound.sheets if sheet.kind is Kind.PATCH)
    with pytest.raises(BadInput, match=r"must stretch round a corner, and roll A does not stretch"):
        flat_pattern(replace(sheet, stock=TAPE), sound.complex, joint_lap=4.0)


# --- blanks of patches


@given(crooked_walls)
@settings(max_examples=4, deadline=None)
def test_the_blank_of_a_patch_keeps_lengths_straight_out_from_the_corner(own: WallFace) -> None:
    sound = dressed(own)
    for sheet in sound.sheets:
        if sheet.kind is not Kind.PATCH:
            continue
        (piece,) = flat_pattern(sheet, sound.complex, joint_lap=4.0).pieces
        (stretch,) = piece.stretches
        corner = next(each for each in sound.complex.corners if each.name == stretch.corner)
        assert stretch.angle_deg == pytest.approx(corner.angle_deg, abs=1e-6)
        assert stretch.percent == pytest.approx(100 * (corner.angle_deg / 360 - 1), abs=1e-6)
        tip = _tip_of(piece)
        rings = [
            sound.complex.by_name[panel.facet].place(np.array(panel.u)[:, None], np.array(panel.v))
            - corner.point
            for panel in sheet.panels
        ]
        reach = [np.linalg.norm(ring, axis=-1).ravel().tolist() for ring in rings]
        reach = [ring for ring in reach if min(ring) < 1e-9]
        assert len(reach) == 5
        drawn = [math.dist(tip, point) for panel in piece.panels for point in panel.outline]
        assert all(min(abs(far - each) for each in drawn) < 1e-9 for ring in reach for far in ring)


def _tip_of(piece: FlatPiece) -> XY:
    """Return the point that the outlines of five panels share."""
    points = [point for panel in piece.panels for point in panel.outline]
    return max(points, key=lambda point: sum(math.dist(point, other) < 1e-6 for other in points))


def test_a_patch_on_a_roll_that_is_too_narrow_does_not_fit() -> None:
    sound = dressed(wall(opening(sill_rise=0.0), ledger=False))
    sheet = next(sheet for sheet in sound.sheets if sheet.kind is Kind.PATCH)
    (wide,) = flat_pattern(sheet, sound.complex, joint_lap=4.0).pieces
    assert wide.size.fits
    (narrow,) = flat_pattern(
        replace(sheet, stock=replace(sheet.stock, width=6.0)), sound.complex, joint_lap=4.0
    ).pieces
    assert not narrow.size.fits
    assert len(narrow.size.strips) == 1


# --- what cannot lie flat


def test_folds_all_round_a_sill_corner_are_refused_with_its_angle() -> None:
    sound = dressed(wall(opening(sill_rise=0.0), ledger=False))
    sheet = next(sheet for sheet in sound.sheets if sheet.kind is Kind.PATCH)
    seams = tuple(Seam(seam.one, seam.other, Join.FOLD) for seam in sheet.seams)
    with pytest.raises(BadInput) as refused:
        flat_pattern(replace(sheet, seams=seams), sound.complex, joint_lap=4.0)
    said = str(refused.value)
    assert "is folded all round the left sill corner of A, where the angles add up to 450 degrees" in said
    assert "slit it to the point and patch that" in said


def test_a_whole_box_does_not_lie_flat() -> None:
    shape = box(2.0, 3.0, 4.0)
    whole = skin(shape)
    seams = tuple(Seam(seam.one, seam.other, Join.FOLD) for seam in whole.seams)
    with pytest.raises(BadInput, match="angles add up to 270 degrees"):
        flat_pattern(replace(whole, seams=seams, stock=PLAIN), shape, joint_lap=0.0)


def test_panels_that_lie_on_each_other_are_refused_by_name() -> None:
    shape = wall_complex(wall(opening(), ledger=False))
    panels = (
        Panel(name="below", facet="wall", u=(30.0, 90.0), v=(20.0, 30.0), bonded=False),
        Panel(name="beside", facet="wall", u=(30.0, 40.0), v=(30.0, 60.0), bonded=False),
        Panel(name="sill", facet="A.sill", u=(40.0, 76.0), v=(0.0, 5.0), bonded=False),
        Panel(name="left", facet="A.left", u=(0.0, 5.0), v=(30.0, 60.0), bonded=False),
    )
    seams = (Seam("below", "beside"), Seam("below", "sill"), Seam("beside", "left"))
    sheet = Sheet(name="wrap", words="wrap", kind=Kind.WRAP, stock=PLAIN, panels=panels, seams=seams, laid=1)
    with pytest.raises(
        BadInput, match=r"laid flat, left and sill of the wrap lie on each other|sill and left"
    ):
        flat_pattern(sheet, shape, joint_lap=4.0)
    short = replace(panels[2], u=(45.0, 76.0))
    pattern = flat_pattern(replace(sheet, panels=(*panels[:2], short, panels[3])), shape, joint_lap=4.0)
    assert [patch.corner for patch in pattern.patches] == ["A.sill.left"]
    assert not pattern.meetings


def test_every_fault_of_a_wall_is_told_at_once() -> None:
    sound = dressed(wall(opening(), ledger=False))
    patches = [sheet for sheet in sound.sheets if sheet.kind is Kind.PATCH]
    stiff = tuple(replace(sheet, stock=TAPE) for sheet in patches)
    with pytest.raises(BadInput) as refused:
        flat_patterns(replace(sound, sheets=stiff), joint_lap=4.0)
    assert len(refused.value.faults) == 2


# --- a flap in a plain sheet, edges that only meet


def test_the_sides_of_a_flap_are_slits_that_close_again() -> None:
    shape = wall_complex(wall(opening(), ledger=False))
    rects = {
        "up": ((2.0, 32.0), (14.0, 28.0)),
        "l": ((2.0, 10.0), (2.0, 14.0)),
        "r": ((20.0, 32.0), (2.0, 14.0)),
    }
    panels = [Panel(name=name, facet="wall", u=u, v=v, bonded=False) for name, (u, v) in rects.items()]
    flap = Panel(name="flap", facet="wall", u=(10.0, 20.0), v=(5.0, 14.0), bonded=False)
    seams = (Seam("up", "l"), Seam("up", "r"), Seam("up", "flap"))
    sheet = Sheet(
        name="w", words="w", kind=Kind.WRAP, stock=PLAIN, panels=(*panels, flap), seams=seams, laid=1
    )
    pattern = flat_pattern(sheet, shape, joint_lap=4.0)
    (piece,) = pattern.pieces
    assert sorted(round(slit.inches, 9) for slit in piece.slits) == [9.0, 9.0]
    assert all(slit.corner is None for slit in piece.slits)
    assert [slit.opens_deg for slit in piece.slits] == pytest.approx([0.0, 0.0], abs=1e-9)
    assert not pattern.patches
    assert not piece.folds


def test_upturns_that_only_meet_in_a_corner_are_told() -> None:
    sound = dressed(wall(opening(), ledger=False))
    pan = next(sheet for sheet in sound.sheets if sheet.name == "A.pan")
    open_pan = replace(pan, seams=tuple(seam for seam in pan.seams if seam.join is not Join.PLEAT))
    pattern = flat_pattern(open_pan, sound.complex, joint_lap=4.0)
    assert {frozenset((meeting.one, meeting.other)) for meeting in pattern.meetings} == {
        frozenset(("left", "dam")),
        frozenset(("right", "dam")),
    }
    assert all(meeting.inches == pytest.approx(1.0, abs=0.02) for meeting in pattern.meetings)


@given(crooked_walls)
@settings(max_examples=5, deadline=None)
def test_a_mirrored_wall_has_mirrored_patterns(own: WallFace) -> None:
    sizes = []
    for each in (own, mirrored(own)):
        shape, sheets = folded(each)
        found = [flat_pattern(sheet, shape, joint_lap=4.0) for sheet in sheets]
        sizes.append(
            sorted(
                (round(piece.size.along, 6), round(piece.size.across, 6), len(piece.slits), len(piece.folds))
                for pattern in found
                for piece in pattern.pieces
            )
        )
    assert len(sizes[0]) == len(sizes[1])
    for one, other in zip(*sizes, strict=True):
        assert one == pytest.approx(other, abs=1e-5)


# --- rolls

POINTS = st.lists(
    st.builds(complex, st.floats(0, 40), st.floats(0, 40)), min_size=4, max_size=12, unique=True
)


@given(POINTS)
@example([complex(2, 1.5), complex(1e-154, 0), complex(1e-154, 1), 1j])
@settings(deadline=None)
def test_no_rectangle_round_a_piece_is_much_less(points: list[complex]) -> None:
    way = lie(points, 1000.0, 2.0)
    for degree in range(180):
        turn = complex(math.cos(math.radians(degree)), math.sin(math.radians(degree)))
        moved = [point * turn for point in points]
        along = max(p.real for p in moved) - min(p.real for p in moved)
        across = max(p.imag for p in moved) - min(p.imag for p in moved)
        assert way.along * way.across <= along * across + max(way.along, way.across) / 16 + 1e-9


@given(st.floats(20, 90), st.floats(8, 20), st.floats(1, 5), st.lists(st.floats(0, 90), max_size=6))
@example(87.5, 9.5, 4.28125, [])
@settings(max_examples=40, deadline=None)
def test_strips_cover_a_wide_piece_with_their_laps_off_the_corners(
    across: float, roll: float, lap: float, corners: list[float]
) -> None:
    way = lie([0j, complex(200, 0), complex(200, across), complex(0, across)], roll, lap)
    size = cut_size(way, roll, lap, corners)
    assert size.strips[0].low == 0.0
    assert size.strips[-1].high == pytest.approx(way.across)
    for strip in size.strips:
        assert 0 < strip.high - strip.low <= roll + 1e-9
    joints = [(after.low, before.high) for before, after in pairwise(size.strips)]
    assert all(high - low == pytest.approx(lap) for low, high in joints)
    assert len(size.strips) == math.ceil((way.across - lap) / (roll - lap) - 1e-9)


def test_a_joint_stands_midway_between_two_corners() -> None:
    size = cut_size(lie([0j, 100 + 0j, 100 + 20j, 20j], 14.0, 2.0), 14.0, 2.0, (5.0, 15.0))
    (joint,) = [(after.low, before.high) for before, after in pairwise(size.strips)]
    assert joint == pytest.approx((9.0, 11.0))
