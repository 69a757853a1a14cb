from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import OutOfRange
from sillwright.materials import (
    pct_of_deg,
    pct_of_in_per_ft,
    shrinkage,
    slope_deg,
    slope_in_per_ft,
    slope_left_pct,
)

SLOPES = st.floats(-100, 100)


@given(SLOPES)
def test_each_way_to_say_a_slope_leads_back(pct: float) -> None:
    assert pct_of_deg(slope_deg(pct)) == pytest.approx(pct, rel=1e-9, abs=1e-9)
    assert pct_of_in_per_ft(slope_in_per_ft(pct)) == pytest.approx(pct, rel=1e-12, abs=1e-12)


def test_what_settles_at_the_inner_edge_is_lost_from_the_slope() -> None:
    # 6 1/2 percent over 5 1/2 in stands 0.3575 in; 1/16 in less leaves 0.295 in
    assert slope_left_pct(6.5, run=5.5, settles=1 / 16) == pytest.approx(100 * 0.295 / 5.5, rel=1e-12)
    assert slope_left_pct(6.0, run=5.5, settles=0.0) == 6.0
    assert slope_left_pct(1.0, run=5.5, settles=0.1) < 0.0


def test_wet_wood_shrinks_dry_wood_swells_and_settled_wood_stays() -> None:
    assert shrinkage(9.25, from_mc_pct=19) > 0 > shrinkage(9.25, from_mc_pct=6)
    assert shrinkage(9.25, from_mc_pct=8) == 0 == shrinkage(0, from_mc_pct=19)
    assert shrinkage(9.25, from_mc_pct=19, to_mc_pct=12) == pytest.approx(0.002 * 9.25 * 7)


@pytest.mark.parametrize(
    ("height", "start", "end"),
    [(-1, 19, 8), (float("nan"), 19, 8), (9.25, -1, 8), (9.25, 201, 8), (9.25, 19, float("nan"))],
)
def test_wood_that_cannot_be_is_refused(height: float, start: float, end: float) -> None:
    with pytest.raises(OutOfRange):
        shrinkage(height, from_mc_pct=start, to_mc_pct=end)


@pytest.mark.parametrize("angle", [90.0, -90.0, 120.0, float("nan")])
def test_an_upright_is_no_slope(angle: float) -> None:
    with pytest.raises(OutOfRange, match="is no slope"):
        pct_of_deg(angle)


@pytest.mark.parametrize(("slope", "run"), [(6.0, 0.0), (6.0, -1.0), (float("nan"), 5.5)])
def test_no_slope_over_no_depth(slope: float, run: float) -> None:
    with pytest.raises(OutOfRange):
        slope_left_pct(slope, run=run, settles=0.0)
