"""Where both rows fit between ledger and band joist, on level and sloping bands."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import BandAt, Ledger, distances, failing, step_range, zones
from sillwright.structure.zones import band_at, row_zone

IN_BAND = distances("band_joist")


def _ledger(size: str = "2x10", top: float = 0.0) -> Ledger:
    depth = {"2x8": 7.25, "2x10": 9.25, "2x12": 11.25}[size]
    return Ledger(top=top, depth=depth, in_ledger=distances("ledger", size=size), in_band=IN_BAND)


LEVEL = (BandAt(x=0.0, bottom=-9.25, top=0.0), BandAt(x=240.0, bottom=-9.25, top=0.0))
SLOPING = (BandAt(x=0.0, bottom=-9.25, top=0.0), BandAt(x=240.0, bottom=-7.25, top=2.0))


def test_a_flush_ledger_takes_both_rows_at_the_distances_of_the_figure() -> None:
    # IRC 2018 Table R507.9.1.3(2): low row at least 6-1/2 under a 2x10's top and 2 above the band's bottom;
    # high row 2 under the ledger's top
    zone = row_zone(_ledger(), LEVEL[0])
    assert zone.fits
    assert not zone.reason
    assert zone.low == (-7.25, -6.5)
    assert zone.high == (-7.25 + 1.625, -2.0)


@pytest.mark.parametrize(("size", "step"), [("2x8", 1.75), ("2x10", 0.75), ("2x12", -0.25)])
def test_the_largest_step_is_the_band_less_2_and_the_low_rows_distance(size: str, step: float) -> None:
    # 9-1/4 in band: 9.25 - 2 - 5.5 (6.5, 7.5) in; a 2x12 ledger cannot even be flush with it
    found = step_range(_ledger(size), LEVEL, length=240.0)
    assert found.largest_step(0.0) == pytest.approx(step)


def test_lag_screws_in_a_2x8_give_an_inch_more_step() -> None:
    reduced = replace(_ledger("2x8"), in_ledger=distances("ledger", size="2x8", reduced=True))
    assert step_range(reduced, LEVEL, length=240.0).largest_step(0.0) == pytest.approx(2.75)


def test_a_sloping_band_takes_its_rise_off_the_step() -> None:
    level = step_range(_ledger(), LEVEL, length=240.0)
    sloping = step_range(_ledger(), SLOPING, length=240.0)
    assert sloping.lowest_top == pytest.approx(level.lowest_top + 2.0)
    assert sloping.highest_top == pytest.approx(level.highest_top)


def test_where_two_rows_fail_is_told_to_an_eighth() -> None:
    # at top 0 the low row needs the band's bottom at or under -8.5; it rises 1 in in 120: fails from 90 on
    (stretch,) = failing(_ledger(), SLOPING, length=240.0)
    assert stretch[0] == pytest.approx(90.0, abs=0.126)
    assert stretch[1] == 240.0
    assert failing(_ledger(), LEVEL, length=240.0) == ()


def test_a_zone_without_room_says_so() -> None:
    zone = row_zone(_ledger(top=-3.0), LEVEL[0])
    assert not zone.fits
    assert "overlap too little for two rows" in zone.reason


@given(
    st.floats(-6.0, 8.0),
    st.floats(-3.0, 3.0),
    st.sampled_from(["2x8", "2x10", "2x12"]),
    st.floats(8.0, 12.0),
)
def test_the_range_of_heights_is_where_both_rows_fit(
    top: float, rise: float, size: str, depth: float
) -> None:
    band = (BandAt(x=0.0, bottom=-depth, top=0.0), BandAt(x=100.0, bottom=rise - depth, top=rise))
    ledger = _ledger(size, top)
    found = step_range(ledger, band, length=100.0)
    if min(abs(top - found.lowest_top), abs(top - found.highest_top)) < 1e-6:
        return
    fits = all(zone.fits for zone in zones(ledger, band, length=100.0))
    assert fits == (found.lowest_top < top < found.highest_top)


@given(st.floats(-50.0, 50.0))
def test_raising_everything_raises_the_range(shift: float) -> None:
    raised = tuple(replace(b, bottom=b.bottom + shift, top=b.top + shift) for b in SLOPING)
    here, there = (step_range(_ledger(), band, length=240.0) for band in (SLOPING, raised))
    assert there.lowest_top - here.lowest_top == pytest.approx(shift)
    assert there.highest_top - here.highest_top == pytest.approx(shift)


def test_a_band_too_shallow_for_two_rows_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"3.5 in deep has no room for two rows, which need 4.375 in"):
        step_range(_ledger(), (BandAt(x=0.0, bottom=-3.5, top=0.0),), length=100.0)


def test_the_band_is_straight_between_its_places_and_level_beyond() -> None:
    assert band_at(SLOPING, 120.0).top == 1.0
    assert band_at(SLOPING, -5.0).top == 0.0
    assert band_at(SLOPING, 300.0).top == 2.0


@pytest.mark.parametrize("band", [(), (LEVEL[1], LEVEL[0])])
def test_a_band_without_places_or_out_of_order_is_refused(band: tuple[BandAt, ...]) -> None:
    with pytest.raises(BadInput, match="from left to right"):
        zones(_ledger(), band, length=100.0)


def test_a_band_upside_down_is_refused() -> None:
    with pytest.raises(BadInput, match="band_depth: -1 cannot be used"):
        BandAt(x=0.0, bottom=1.0, top=0.0)
