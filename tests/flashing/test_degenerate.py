"""Walls at the edge of what can be dressed: a finding or a clear error, never a wrong `sheds`."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.water.scenes import LEDGER, ROLLS, at, dressed, opening, to_dress, wall

from sillwright.errors import BadInput
from sillwright.flashing.practice import UnitSet, WrapWhen
from sillwright.water import Design, LedgerBoard, RoughOpening, Verdict, WallFace, judge

BREEZE = Design(head_in_water=0.55, cell_in=1.0)


def told(face: WallFace) -> str:
    with pytest.raises(BadInput) as error:
        dressed(face)
    return str(error.value)


def test_an_opening_past_the_end_of_the_wall_is_refused() -> None:
    face = replace(wall(), x=(41.0, 120.0))
    assert "opening A: it reaches past the end of the wall" in told(face)


def test_a_ledger_wider_than_the_wall_is_refused() -> None:
    face = wall(ledger=replace(LEDGER, x=(-5.0, 60.0)))
    assert "ledger: the ledger reaches past the end of the wall" in told(face)


def test_a_ledger_at_the_sill_is_refused() -> None:
    face = wall(ledger=LedgerBoard(x=(10.0, 100.0), z=(22.0, 31.0), thickness=1.5))
    assert "the ledger's top is not below the sill of opening A" in told(face)


def test_openings_that_overlap_are_refused() -> None:
    assert "it overlaps opening B" in told(wall(opening("A", 40.0), opening("B", 60.0)))


def test_an_opening_without_a_size_is_refused() -> None:
    flat = RoughOpening(name="A", corners=((40, 30), (76, 30), (76, 30), (40, 30)), depth=5.0)
    assert "it has no size" in told(WallFace(x=(0, 120), z=(0, 108), openings=(flat,)))


@pytest.mark.parametrize("wrap", WrapWhen)
def test_an_opening_close_to_the_corner_of_the_wall_never_sheds_more_than_one_in_the_middle(
    wrap: WrapWhen,
) -> None:
    """The strips beside it are cut at the corner: the bond there is no more than it was."""
    face = wall()
    near = replace(face, x=(37.0, 120.0))
    middle, corner = (judge(dressed(each, wrap=wrap), BREEZE) for each in (face, near))
    rank = {Verdict.SHEDS: 0, Verdict.HELD: 1, Verdict.OPEN: 2}
    for each in corner.places:
        if each.place.startswith("A.left"):
            assert rank[each.at_head] >= rank[at(middle, each.place).at_head]


def test_a_sill_that_falls_to_the_room_stands_in_water_and_overtops_a_low_dam_without_wind() -> None:
    """It falls 1/2 in, and the dam is 1/4 in high from there: what stands level with the face is over it."""
    falls = opening(rise=-0.1, dam=0.25)
    found = judge(dressed(wall(falls)), BREEZE)
    assert found.standing[0].depth == pytest.approx(0.5)
    room = at(found, "room.A.dam")
    assert room.at_head is not Verdict.SHEDS
    assert room.head_to_wet == 0.0


def test_a_roll_too_narrow_for_the_pan_leaves_no_apron() -> None:
    """A 6 in roll covers a 5 in sill and a 1 in dam: nothing hangs down the wall, its edge is open."""
    narrow = replace(ROLLS, pan=replace(ROLLS.pan, width=6.0))
    found = judge(dressed(rolls=narrow, wrap=WrapWhen.FACE), BREEZE)
    assert at(found, "A.wall.under").at_head is not Verdict.SHEDS
    assert any(each.at_head is Verdict.OPEN for each in found.places if each.place.startswith("A.sill"))


@pytest.mark.parametrize("unit", UnitSet)
def test_pieces_are_numbered_in_the_order_of_work(unit: UnitSet) -> None:
    pieces = dressed(to_dress(unit=unit).wall, unit=unit).sheets
    acts = [piece.laid for piece in pieces]
    assert acts == sorted(acts)
    assert len(set(acts)) == len(acts)
    assert next(piece.laid for piece in pieces if piece.name == "A.pan") < next(
        piece.laid for piece in pieces if piece.name == "A.unit"
    )
