"""The lap table: known laps of plain sheets, laps over folds, halved cells, mirrored walls."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.water.wall_sets import CROOKED, crooked_walls, dressed, mirrored, opening, wall

from sillwright.flashing.practice import PanMake, UnitSet, WrapWhen
from sillwright.materials import JOINTS
from sillwright.water import Dressing, Join, Kind, Panel, Seam, Sheet, Span, Stock, WallFace, wall_complex
from sillwright.water.laps import LapRow, Way, joint, laps

TAPE = Stock(name="roll", family="butyl tape")
PLAIN = wall_complex(wall(opening(), ledger=False))


def piece(name: str, laid: int, *panels: tuple[str, Span, Span], bonded: bool = True) -> Sheet:
    """Return a strip of panels (facet, u, v), each joined to all others."""
    found = [
        Panel(name=f"p{number}", facet=facet, u=u, v=v, bonded=bonded)
        for number, (facet, u, v) in enumerate(panels)
    ]
    seams = [Seam(a.name, b.name, Join.FOLD) for n, a in enumerate(found) for b in found[n + 1 :]]
    return Sheet(
        name=name, words=name, kind=Kind.STRIP, stock=TAPE, panels=tuple(found), seams=tuple(seams), laid=laid
    )


def table(*sheets: Sheet) -> dict[tuple[str, str, str], LapRow]:
    rows = laps(Dressing(complex=PLAIN, sheets=sheets))
    assert len({(row.upper, row.lower, row.way) for row in rows}) == len(rows)
    return {(row.upper, row.lower, row.way.value): row for row in rows}


def test_a_strip_over_a_strip_below_it_laps_up() -> None:
    lower = piece("lower", 1, ("wall", (2.0, 30.0), (2.0, 12.0)))
    upper = piece("upper", 2, ("wall", (2.0, 30.0), (8.0, 20.0)))
    (row,) = table(lower, upper).values()
    assert (row.upper, row.lower, row.way) == ("upper", "lower", Way.UP)
    assert row.inches == pytest.approx(4.0)
    assert row.bonded
    assert row.bond_in == pytest.approx(4.0)
    assert [point[2] for point in row.points] == pytest.approx([8.0, 12.0])


def test_the_same_strips_the_other_way_round_lap_down() -> None:
    lower = piece("lower", 2, ("wall", (2.0, 30.0), (2.0, 12.0)))
    upper = piece("upper", 1, ("wall", (2.0, 30.0), (8.0, 20.0)))
    (row,) = table(lower, upper).values()
    assert (row.upper, row.lower, row.way) == ("lower", "upper", Way.DOWN)
    assert row.inches == pytest.approx(4.0)


def test_strips_side_by_side_lap_sideways_and_are_held_or_not() -> None:
    left = piece("left", 1, ("wall", (2.0, 12.0), (2.0, 20.0)))
    right = piece("right", 2, ("wall", (9.5, 30.0), (2.0, 20.0)), bonded=False)
    (row,) = table(left, right).values()
    assert (row.way, row.bonded, row.bond_in) == (Way.SIDEWAYS, False, 0.0)
    assert row.inches == pytest.approx(2.5)


def test_crossing_strips_have_no_lap_where_their_edges_cross() -> None:
    assert not table(
        piece("down", 1, ("wall", (10.0, 16.0), (2.0, 28.0))),
        piece("across", 2, ("wall", (2.0, 30.0), (10.0, 14.0))),
    )


def test_a_patch_over_the_end_of_a_strip_laps_on_three_sides() -> None:
    rows = table(
        piece("strip", 1, ("wall", (10.0, 16.0), (2.0, 20.0))),
        piece("patch", 2, ("wall", (7.0, 19.0), (17.0, 25.0))),
    )
    assert {way: row.inches for (_, _, way), row in rows.items()} == {"up": pytest.approx(3.0)}


def test_a_lap_over_a_fold_is_as_long_as_the_sheet() -> None:
    """From the edge on the wall 1 1/2 below the sill, over the front edge and 2 inward on the sloped sill."""
    rows = table(
        piece("pan", 1, ("wall", (44.0, 60.0), (20.0, 30.0)), ("A.sill", (44.0, 60.0), (0.0, 2.0))),
        piece("apron", 2, ("wall", (44.0, 60.0), (28.5, 30.0)), ("A.sill", (44.0, 60.0), (0.0, 5.0))),
    )
    (row,) = rows.values()
    assert row.inches == pytest.approx(1.5 + 2.0 * math.hypot(1.0, 0.08), abs=1e-9)
    assert row.facets == ("wall", "A.sill")
    assert row.way is Way.UP


def test_what_lies_between_is_named() -> None:
    rows = table(
        piece("lower", 1, ("wall", (2.0, 30.0), (2.0, 12.0))),
        piece("middle", 2, ("wall", (2.0, 30.0), (5.0, 15.0))),
        piece("upper", 3, ("wall", (2.0, 30.0), (8.0, 20.0))),
    )
    assert rows["upper", "lower", "up"].between == ("middle",)
    assert rows["middle", "lower", "up"].between == ()


@given(crooked_walls)
@settings(max_examples=6, deadline=None)
def test_the_points_of_every_lap_add_up_to_it(own: WallFace) -> None:
    for row in laps(dressed(own)):
        assert math.fsum(math.dist(*ends) for ends in pairwise(row.points)) == pytest.approx(row.inches)
        assert row.bond_in <= row.inches + 1e-9
        assert row.joint is None or row.joint in JOINTS


def lengths(rows: tuple[LapRow, ...], turn: bool = False) -> list[tuple[str, str, str, float]]:
    def name(text: str) -> str:
        swap = {"left": "right", "right": "left"}
        return ".".join(swap.get(part, part) for part in text.split(".")) if turn else text

    return sorted((name(row.upper), name(row.lower), row.way.value, round(row.inches, 6)) for row in rows)


def alike(one: list[tuple[str, str, str, float]], other: list[tuple[str, str, str, float]]) -> bool:
    return len(one) == len(other) and all(
        a[:3] == b[:3] and abs(a[3] - b[3]) < 1e-5 for a, b in zip(one, other, strict=True)
    )


@given(crooked_walls, st.sampled_from([1.5, 3.0, 10.0]))
@settings(max_examples=4, deadline=None)
def test_smaller_cells_change_no_lap(own: WallFace, cell_in: float) -> None:
    sound = dressed(own)
    few = Dressing(
        complex=sound.complex,
        sheets=tuple(
            each
            for each in sound.sheets
            if each.kind in (Kind.PAN, Kind.PATCH, Kind.STRIP, Kind.LEDGER_SHEET)
        ),
    )
    assert alike(lengths(laps(few)), lengths(laps(few, cell_in)))


@given(crooked_walls, st.sampled_from(UnitSet))
@settings(max_examples=6, deadline=None)
def test_a_mirrored_wall_has_mirrored_laps(own: WallFace, unit: UnitSet) -> None:
    one, other = laps(dressed(own, unit=unit)), laps(dressed(mirrored(own), unit=unit))
    assert alike(lengths(one), lengths(other, turn=True)), set(lengths(one)) ^ set(lengths(other, turn=True))


def test_a_formed_pan_and_late_wrap_have_the_joints_of_the_trade() -> None:
    rows = laps(dressed(wall(opening(off=CROOKED)), wrap=WrapWhen.COURSES, pan=PanMake.FORMED))
    found = {(row.upper, row.lower): row.joint for row in rows}
    assert found["A.pan", "wrap.lower"] == "metal_over_below"
    assert found["A.strip.head", "A.strip.left"] == "head_over_jamb"
    assert found["A.strip.head", "A.unit"] == "head_over_fin"
    assert found["A.strip.left", "A.unit"] == "jamb_over_fin"


def test_joints_go_by_kind_and_way() -> None:
    assert joint(Kind.WRAP, Kind.WRAP, Way.UP) == "wrap_horizontal"
    assert joint(Kind.WRAP, Kind.WRAP, Way.SIDEWAYS) == "wrap_vertical"
    assert joint(Kind.WRAP, Kind.STRIP, Way.UP) == "flap_over_head"
    assert joint(Kind.WRAP, Kind.STRIP, Way.SIDEWAYS) is None
    assert joint(Kind.UNIT, Kind.PAN, Way.UP) is None
