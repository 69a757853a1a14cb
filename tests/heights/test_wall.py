"""The usual chain of a wall: heights summed by hand, and where it cannot be built."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.heights.walls import LAYERS, WALL, wall

from sillwright.errors import BadInput
from sillwright.heights import (
    Backing,
    ChainResult,
    DeckHeights,
    Layer,
    Place,
    UnitHeights,
    WallHeights,
    difference,
    solve,
    wall_chain,
)


def _solve(of: WallHeights) -> ChainResult:
    return solve(wall_chain(of))


def _size(result: ChainResult, step: str) -> float:
    size = next(found.size for found in result.steps if found.name == step)
    assert size is not None
    return size


def test_the_heights_of_a_wall_are_those_summed_by_hand() -> None:
    result = _solve(WALL)
    summed = {
        "level line at A": 0.3125,
        "top of sloped strip at A": 0.75,
        "unit bottom at A": 0.8125,
        "unit top at A": 80.3125,
        "threshold at A": 2.1875,
        "walking surface": -0.3125,
        "joist top": -1.3125,
        "joist bottom": -8.5625,
        "ledger top": -1.3125,
        "ledger bottom": -10.5625,
        "beam bottom": -17.8125,
        "footing top": -23.0,
        "footing bottom": -62.0,
    }
    assert not result.conflicts
    assert {name: result.z(name) for name in summed} == pytest.approx(summed, abs=1e-6)
    assert _size(result, "post") == pytest.approx(23.0 - 17.8125, abs=1e-6)
    assert _size(result, "pad on lowest rough sill at A") == pytest.approx(0.3125)
    assert _size(result, "pad on highest rough sill at A") == pytest.approx(0.125)
    assert _size(result, "head clearance at A") == pytest.approx(80.875 - 80.3125)


def test_the_spread_of_the_head_clearance_is_summed_from_the_line_up() -> None:
    spread = difference(_solve(WALL), lower="unit top at A", upper="lowest rough head at A")
    assert spread.worst == pytest.approx(1 / 16 + 1 / 64 + 1 / 64 + 1 / 16)
    assert {share.name for share in spread.shares} == {
        "level line at A",
        "sloped strip at A",
        "membrane at A",
        "unit at A",
    }
    assert spread.shares[0].tolerance == pytest.approx(1 / 16)


def test_an_unknown_line_goes_where_pads_and_head_allow() -> None:
    result = _solve(wall(unit={"line": None, "largest_pad": 0.5}))
    level = result.levels[0]
    assert level.how == "chosen"
    assert level.low == pytest.approx(0.1875)  # the highest place of the sill
    assert level.high == pytest.approx(0.5)  # the largest pad at the lowest
    assert level.z is not None
    assert level.low <= level.z <= level.high


def test_a_unit_too_high_is_named_with_how_much_lower_it_would_have_to_be() -> None:
    result = _solve(wall(unit={"line": None, "frame_height": 80.5}))
    (clash,) = result.conflicts
    # 0.1875 + 0.5 + 80.5 + 0.25 against 80.875
    assert clash.short == pytest.approx(0.5625)
    assert {
        "unit at A",
        "head clearance at A",
        "pad on highest rough sill at A",
        "lowest rough head at A",
    } <= set(clash.names)
    assert {cure.name: cure.by for cure in clash.cures}["unit at A"] == pytest.approx(0.5625)
    assert result.missed == pytest.approx(0.5625)


def test_planing_lets_the_line_down() -> None:
    result = _solve(wall(unit={"line": None, "planing_max": 0.125}))
    assert result.levels[0].low == pytest.approx(0.0625)


@pytest.mark.parametrize(
    ("door", "most"),
    [
        ({"egress": True, "swing": "out"}, 1.5),
        ({"egress": True, "swing": "in"}, 7.75),
        ({"egress": True, "swing": "slides"}, 7.75),
        ({"egress": False, "swing": "out"}, 7.75),
    ],
)
def test_the_step_down_goes_no_lower_than_the_code_lets_this_door(
    door: dict[str, object], most: float
) -> None:
    step = next(
        s for s in wall_chain(wall(door=door, deck={"step_down": 9.0})).steps if s.name == "step down at A"
    )
    assert step.high == most


def test_a_leaf_that_swings_out_keeps_clear_of_the_decking() -> None:
    result = _solve(wall(door={"swing": "out", "swing_clear": 0.75}, deck={"step_down": 0.0}))
    assert _size(result, "step down at A") == pytest.approx(0.75)
    assert [unmet.step.name for unmet in result.unmet] == ["step down at A"]
    assert "swing over walking surface at A" in result.unmet[0].against.names


def test_a_leaf_that_swings_in_keeps_clear_of_the_highest_floor() -> None:
    result = _solve(wall(door={"swing": "in", "swing_clear": 1.25}))
    (clash,) = result.conflicts  # 2.1875 - 1.0 is 1/16 short
    assert "swing over highest finished floor at A" in clash.names
    assert clash.short == pytest.approx(0.0625)


def test_the_required_egress_door_stands_at_most_an_inch_and_a_half_above_the_floor() -> None:
    low = (Place(x=44.0, z=0.625),)
    assert _solve(wall(door={"egress": True, "floor": low})).conflicts
    assert not _solve(wall(door={"egress": False, "floor": low})).conflicts


def test_decking_passes_under_the_nosing() -> None:
    result = _solve(wall(unit={"nosing_thickness": 0.75}, deck={"step_down": 1.5}))
    assert _size(result, "step down at A") == pytest.approx(2.125)
    assert "nosing at A" in result.unmet[0].against.names


def test_a_2x8_ledger_level_with_a_2x8_band_joist_takes_lags_but_not_bolts() -> None:
    band = Backing(top=(Place(x=0.0, z=-1.3125),), depth=7.25)
    deck = {"ledger_depth": 7.25}
    assert not _solve(wall(deck={**deck, "lags": True, "step_down": 2.5}, backing=band)).conflicts
    lower = wall(deck={**deck, "lags": False, "step_down": 2.5}, backing=band)
    result = _solve(lower)
    # the ledger must rise by what 5 1/2 and 2 in ask beyond 7 1/4
    assert _size(result, "step down at A") == pytest.approx(2.25)
    assert set(result.unmet[0].against.names) >= {"lower row below ledger top", "lower row above band bottom"}


def test_a_full_step_down_fits_where_the_joists_hang_low_on_the_ledger() -> None:
    deck = {"step_down": 6.0, "joist_depth": 5.5, "ledger_depth": 11.25}
    level = _solve(wall(deck={**deck, "joist_below_ledger_top": 0.0}))
    low = _solve(wall(deck={**deck, "joist_below_ledger_top": None}))
    assert _size(level, "step down at A") < 3.0
    assert _size(low, "step down at A") == pytest.approx(6.0)
    assert _size(low, "joists hung") > 3.0
    assert next(d.size for d in low.demands if d.name == "hanger seat") == pytest.approx(
        11.25 - 5.5 - _size(low, "joists hung")
    )


def test_the_seat_of_hung_joists_stays_on_the_ledger() -> None:
    result = _solve(wall(deck={"joist_below_ledger_top": 3.0}))
    assert [clash.names for clash in result.conflicts if "hanger seat" in clash.names]
    notched = _solve(wall(deck={"joist_below_ledger_top": 3.0, "joist_notch": 1.25}))
    assert not notched.conflicts


def test_a_platform_on_its_own_posts_has_no_ledger() -> None:
    for depth in (None, 0.0):
        result = _solve(wall(deck={"ledger_depth": depth}, backing=None))
        assert not any("ledger" in level.name or "row" in level.name for level in result.levels)
        assert result.z("walking surface") == pytest.approx(-0.3125)


def test_a_deck_too_near_the_ground_for_its_beam_is_a_clash() -> None:
    assert WALL.ground is not None
    near = replace(WALL.ground, grade=Place(x=0.0, z=-16.0))
    (clash,) = _solve(wall(ground=near)).conflicts
    assert {"post", "beam", "footing above grade"} <= set(clash.names)
    flush = _solve(wall(ground=near, deck={"flush_beam": True}))
    assert not flush.conflicts
    assert _size(flush, "post") == pytest.approx(13.0 - 1.3125 - 9.25)


def test_a_window_without_a_deck_is_a_chain_too() -> None:
    result = _solve(
        WallHeights(units=(UnitHeights(opening="A", frame_height=48.0, line=30.0, layers=LAYERS),))
    )
    assert result.z("unit top at A") == pytest.approx(78.5)


def test_no_layers_set_the_unit_on_the_line() -> None:
    result = _solve(WallHeights(units=(UnitHeights(opening="A", frame_height=48.0, line=30.0),)))
    assert result.z("unit bottom at A") == 30.0


@pytest.mark.parametrize(
    ("bad", "message"),
    [
        (wall(unit={"frame_height": -1.0}), "unit A: frame height: -1 in is below 0"),
        (wall(unit={"layers": (Layer(name="strip", thickness=-0.5),)}), "unit A: strip: -0.5 in is below 0"),
        (wall(deck={"joist_depth": -1.0}), "deck: joists: -1 in is below 0"),
        (wall(backing=Backing(top=(), depth=9.25)), "backing: its top was not measured"),
        (
            WallHeights(
                units=(UnitHeights(opening="A", frame_height=48.0, line=0.0),),
                deck=DeckHeights(decking_thickness=1.0, joist_depth=7.25),
            ),
            "deck: there is no door to step down from",
        ),
    ],
)
def test_a_wall_that_makes_no_sense_is_refused_with_the_place(bad: WallHeights, message: str) -> None:
    with pytest.raises(BadInput) as refused:
        wall_chain(bad)
    assert message in str(refused.value)
