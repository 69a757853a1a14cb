"""Faults that a leak investigator meets, each made on purpose in a sound wall: the model must find it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.water.scenes import (
    LEDGER,
    act_of,
    at,
    dressed,
    laid,
    opening,
    wall,
    with_panel,
    with_sheet,
    without,
)

from sillwright.errors import BadInput
from sillwright.flashing.practice import PanMake, Sizes, UnitSet, WrapWhen
from sillwright.water import (
    Design,
    Dressing,
    Fastener,
    Kind,
    Panel,
    Seam,
    Sheet,
    Stock,
    Verdict,
    Water,
    judge,
)

BREEZE = Design(head_in_water=0.55, cell_in=0.5)
"""2.86 psf, the least water test of a window: 0.192 in of water for 1 psf."""


def water(dressing: Dressing, head: float = BREEZE.head_in_water) -> Water:
    return judge(dressing, replace(BREEZE, head_in_water=head))


def opened(found: Water) -> set[str]:
    return {each.place for each in found.places if Verdict.OPEN in (each.at_head, each.gravity)}


@pytest.mark.parametrize("wrap", WrapWhen)
@pytest.mark.parametrize("unit", UnitSet)
def test_sound_walls_leave_nothing_open(wrap: WrapWhen, unit: UnitSet) -> None:
    assert not opened(water(dressed(wrap=wrap, unit=unit)))


@pytest.mark.parametrize("wrap", WrapWhen)
def test_sound_walls_with_a_ledger_leave_nothing_open(wrap: WrapWhen) -> None:
    assert not opened(water(dressed(wall(ledger=LEDGER), wrap=wrap)))


@pytest.mark.parametrize("wrap", WrapWhen)
@pytest.mark.parametrize("unit", UnitSet)
def test_a_low_opening_beside_a_ledger_leaves_nothing_open(wrap: WrapWhen, unit: UnitSet) -> None:
    """The lap of two courses of wrap at the ledger's height goes on to the jambs of a door beside it."""
    (a, b, c, d), foot = opening("B", 110.0).corners, 16.0
    door = replace(opening("B", 110.0), corners=((a[0], foot), (b[0], foot), c, d))
    face = wall(opening("A"), door, ledger=replace(LEDGER, x=(10.0, 102.0)))
    assert not opened(water(dressed(face, wrap=wrap, unit=unit)))


@pytest.mark.parametrize("pan", PanMake)
def test_sound_pans_leave_nothing_open(pan: PanMake) -> None:
    assert not opened(water(dressed(pan=pan)))


def test_a_row_with_a_narrow_post_leaves_nothing_open() -> None:
    assert not opened(water(dressed(wall(opening("A", 40.0), opening("B", 80.0)))))


def test_a_unit_that_stands_back_leaves_nothing_open() -> None:
    face = wall(opening(front=1.5))
    assert not opened(water(dressed(face, unit=UnitSet.LINED, wrap=WrapWhen.COURSES)))


@pytest.mark.parametrize("drop", [0.0, 0.3])
def test_reverse_lap_at_the_head_is_found(drop: float) -> None:
    """Wrap that is not lifted over the head strip sends the water behind it, wind or none, level or not."""
    left, right, (x, z), top = opening().corners
    sound = dressed(wall(replace(opening(), corners=(left, right, (x, z - drop), top))))
    faulty = with_sheet(sound, "wrap", laid(act_of(sound, "wrap")))
    before, after = water(sound), water(faulty)
    assert at(before, "A.wall.over").gravity is Verdict.SHEDS
    assert at(after, "A.wall.over").gravity is Verdict.HELD
    assert at(before, "A.right").gravity is Verdict.SHEDS
    assert at(after, "A.right").gravity is not Verdict.SHEDS
    left_wet = at(after, "A.left").gravity is not Verdict.SHEDS
    assert left_wet is (drop == 0), "along a head that falls to the right water runs to the right"


def test_reverse_lap_at_the_jamb_is_found() -> None:
    """A jamb strip under the pan's upturn catches what runs down it and leads it behind the pan."""
    sound = dressed(unit=UnitSet.STRIPS_UNDER)
    before_pan = act_of(sound, "A.pan") - 0.5
    faulty = with_sheet(sound, "A.strip.left", laid(before_pan))
    assert at(water(sound), "A.left").gravity is Verdict.SHEDS
    lapped, reversed_ = at(water(sound), "A.left.foot"), at(water(faulty), "A.left.foot")
    assert reversed_.bond_in is not None
    assert lapped.bond_in is not None
    assert reversed_.bond_in <= lapped.bond_in


def test_a_patch_left_out_leaves_the_corner_to_nobody() -> None:
    faulty = water(without(dressed(wrap=WrapWhen.FACE), "A.patch.sill.left"))
    corner = next(each for each in faulty.corners if each.corner == "A.sill.left")
    assert corner.held_by == ()
    assert opened(faulty) & {"A.sill.left", "A.left.foot", "A.wall.under.left"}
    assert not opened(faulty) & {"A.sill.right", "A.right.foot", "A.wall.under.right"}


def test_a_pan_behind_the_wrap_lets_water_in_behind_the_wrap() -> None:
    """The sill drains into the wall: no wind is needed."""
    sound = dressed(wrap=WrapWhen.COURSES)
    faulty = with_sheet(sound, "A.pan", laid(0.2))
    faulty = with_sheet(faulty, "A.patch.sill.left", laid(0.1))
    faulty = with_sheet(faulty, "A.patch.sill.right", laid(0.1))
    assert at(water(sound, 0.0), "A.wall.under").gravity is Verdict.HELD
    assert at(water(faulty, 0.0), "A.wall.under").gravity is Verdict.OPEN


def test_without_a_back_dam_a_head_of_an_inch_and_a_half_reaches_the_room() -> None:
    """The sill rises 0.4 in over its depth, and the air seal at the sill is left out."""
    low = _no_seal_at_sill(dressed(wall(opening(dam=0.0))))
    high = _no_seal_at_sill(dressed(wall(opening(dam=2.0))))
    assert at(water(low, 1.5), "room.A.sill").at_head is Verdict.OPEN
    assert not any(each.startswith("room.A.dam") for each in opened(water(high, 1.5)))


def test_the_head_that_overtops_a_back_dam_is_its_height_and_the_rise_of_the_sill() -> None:
    """A weak spot a quarter inch behind the face of the wall lets water in 0.02 in above the sill's edge."""
    found = water(_no_seal_at_sill(dressed(wall(opening(dam=1.25)))), 3.0)
    head = at(found, "room.A.dam").head_to_open
    assert head == pytest.approx(0.08 * 5.0 + 1.25, abs=0.13)


def _no_seal_at_sill(dressing: Dressing) -> Dressing:
    def loose(sheet: Sheet) -> Sheet:
        panels = tuple(
            replace(panel, bonded=False) if "seal" in panel.name else panel for panel in sheet.panels
        )
        return replace(sheet, panels=panels)

    return with_sheet(dressing, "A.unit", loose)


def test_a_slit_longer_than_the_patch_is_found() -> None:
    """The pan is slit between sill and upturn to 2 3/4 in; the patch below it reaches 2 in."""

    def slit(sheet: Sheet) -> Sheet:
        upturn = next(panel for panel in sheet.panels if panel.name == "left")
        front = replace(upturn, name="left front", u=(0.0, 2.75))
        back = replace(upturn, name="left", u=(2.75, 5.0))
        rest = [panel for panel in sheet.panels if panel.name != "left"]
        seams = tuple(
            replace(seam, one="left front") if (seam.one, seam.other) == ("left", "left wing") else seam
            for seam in sheet.seams
        )
        return replace(sheet, panels=(*rest, front, back), seams=(*seams, Seam("left", "left front")))

    sound = dressed(wrap=WrapWhen.FACE, sizes=Sizes(patch=2.0))
    assert not opened(water(sound))
    assert "A.left.foot" in opened(water(with_sheet(sound, "A.pan", slit)))


def test_a_ledger_sheet_over_the_pan_is_a_reverse_lap() -> None:
    """Metal over the ledger holds to nothing but the beads at its ends: water from the pan goes behind it."""

    def metal(sheet: Sheet) -> Sheet:
        return replace(sheet, panels=tuple(replace(panel, bonded=False) for panel in sheet.panels))

    board = replace(LEDGER, z=(16.0, 27.0))
    sound = with_sheet(dressed(wall(ledger=board)), "ledger.sheet", metal)
    act = act_of(sound, "ledger.sheet")
    beads = tuple(_bead(span, act - 0.5) for span in ((10.0, 13.0), (97.0, 100.0)))
    sound = replace(sound, sheets=(*sound.sheets, *beads))
    faulty = with_sheet(sound, "ledger.sheet", laid(act_of(sound, "A.pan") + 0.5))
    assert at(water(sound, 0.0), "ledger.top").gravity is not Verdict.OPEN
    assert at(water(faulty, 0.0), "ledger.top").gravity is Verdict.OPEN


def _bead(span: tuple[float, float], act: float) -> Sheet:
    panel = Panel(name="bead", facet="ledger.top", u=span, v=(0.0, 1.5), bonded=True, bonds_above=True)
    return Sheet(
        name=f"bead at {span[0]}",
        words="bead",
        kind=Kind.BEAD,
        stock=Stock(name="bead", family="butyl tape"),
        panels=(panel,),
        laid=act,  # type: ignore[arg-type]
    )


def test_an_end_dam_left_off_lets_water_run_off_the_end_of_a_formed_pan() -> None:
    def no_end_dams(sheet: Sheet) -> Sheet:
        gone = {"left", "left wing", "left ear"}
        return replace(
            sheet,
            panels=tuple(panel for panel in sheet.panels if panel.name not in gone),
            seams=tuple(seam for seam in sheet.seams if not {seam.one, seam.other} & gone),
        )

    sound = dressed(wrap=WrapWhen.FACE, pan=PanMake.FORMED)
    faulty = with_sheet(sound, "A.pan", no_end_dams)
    assert not opened(water(sound))
    found = water(faulty)
    assert {"A.left.foot", "A.sill.left"} <= opened(found)
    assert at(found, "A.left.foot").head_to_open == pytest.approx(0.0, abs=0.02)


def test_bare_sheathing_is_open_to_the_rain() -> None:
    found = at(water(without(dressed(), "wrap")), "A.wall.under.left")
    assert found.gravity is Verdict.OPEN
    assert found.way is not None
    assert "nothing covers it" in found.way.sentence


def test_a_sill_that_falls_to_the_room_is_told_with_its_depth() -> None:
    found = water(dressed(wall(opening(rise=-0.05))))
    assert [each.facet for each in found.standing] == ["A.sill"]
    assert found.standing[0].depth == pytest.approx(0.25)


def test_an_unsealed_fastener_lets_water_behind_the_ledger() -> None:
    sound = dressed(wall(ledger=LEDGER), wrap=WrapWhen.COURSES)
    bolt = Fastener(
        name="bolt 1",
        words="bolt 1",
        facet="ledger.face",
        u=30.0,
        v=20.0,
        through="ledger",
        laid=act_of(sound, "ledger"),
    )
    open_backing = replace(sound, fasteners=(bolt,))
    assert at(water(open_backing), "ledger.behind").at_head is not Verdict.OPEN
    plain = with_sheet(
        open_backing,
        "ledger.backing",
        lambda sheet: replace(sheet, stock=replace(sheet.stock, self_seals=False)),
    )
    assert at(water(plain), "ledger.behind").at_head is Verdict.OPEN
    sealed = replace(plain, fasteners=(replace(bolt, sealed=True),))
    assert at(water(sealed), "ledger.behind").at_head is not Verdict.OPEN


def test_sheets_woven_through_each_other_are_refused() -> None:
    sound = dressed()
    early = with_sheet(sound, "A.pan", with_panel("left wing", lambda panel: replace(panel, laid=0)))
    with pytest.raises(BadInput) as told:
        water(early)
    assert "under" in str(told.value)
