"""Laws of the yield-limit equations, withdrawal, group action and distances."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import (
    Dowel,
    FastenerRow,
    Side,
    adjusted_lateral,
    bearing_strength,
    bolt,
    combined,
    common_nail,
    double_shear,
    edge_distance,
    geometry_factor,
    gravity,
    group_action,
    lag_length,
    lag_screw,
    single_shear,
    spacing_by_calculation,
    thread_length,
    withdrawal,
    withdrawal_per_inch,
    wood_screw,
)
from sillwright.structure.dowels import hankinson
from sillwright.structure.withdrawal import combined_value

lengths = st.floats(0.5, 8.0)
strengths = st.floats(1500.0, 8000.0)
angles = st.floats(0.0, 90.0)
HALF = bolt(0.5)


def _side(length: float = 1.5, fe: float = 3150.0, angle: float = 0.0) -> Side:
    return Side(bearing_length=length, fe_psi=fe, angle_deg=angle)


@given(lengths, lengths, strengths, strengths)
def test_exchanging_the_members_exchanges_the_modes(lm: float, ls: float, fem: float, fes: float) -> None:
    here = single_shear(HALF, main=_side(lm, fem), side=_side(ls, fes))
    there = single_shear(HALF, main=_side(ls, fes), side=_side(lm, fem))
    assert here.z_lbf == pytest.approx(there.z_lbf, rel=1e-9)
    for a, b in (("Im", "Is"), ("IIIm", "IIIs"), ("II", "II"), ("IV", "IV")):
        assert here.modes[a] == pytest.approx(there.modes[b], rel=1e-9)


@given(lengths, lengths, strengths, strengths, st.floats(1.0, 2.0))
def test_longer_bearing_and_harder_wood_never_carry_less(
    lm: float, ls: float, fem: float, fes: float, more: float
) -> None:
    least = single_shear(HALF, main=_side(lm, fem), side=_side(ls, fes)).z_lbf
    assert single_shear(HALF, main=_side(lm * more, fem), side=_side(ls, fes)).z_lbf >= least * (1 - 1e-9)
    harder = single_shear(HALF, main=_side(lm, fem * more), side=_side(ls, fes * more))
    assert harder.z_lbf >= least * (1 - 1e-9)


@given(lengths, strengths, angles, angles)
def test_turning_the_load_across_the_grain_never_carries_more(
    length: float, fe: float, a: float, b: float
) -> None:
    little, much = sorted((a, b))
    side = _side(length, fe)
    found = [single_shear(HALF, main=_side(length, fe, t), side=side).z_lbf for t in (little, much)]
    assert found[0] >= found[1] - 1e-9


@given(lengths, lengths, strengths, strengths, st.floats(0.3, 3.0))
def test_a_joint_scaled_in_all_lengths_carries_with_their_square(
    lm: float, ls: float, fem: float, fes: float, k: float
) -> None:
    if not 0.25 <= 0.5 * k <= 1.0:
        return
    small = single_shear(HALF, main=_side(lm, fem), side=_side(ls, fes))
    large = single_shear(bolt(0.5 * k), main=_side(lm * k, fem), side=_side(ls * k, fes))
    assert large.z_lbf == pytest.approx(small.z_lbf * k**2, rel=1e-9)
    assert large.mode == small.mode


@given(lengths, lengths, strengths, strengths, st.floats(0.0, 2.0))
def test_without_a_gap_the_general_form_is_that_of_the_standard_and_a_gap_carries_less(
    lm: float, ls: float, fem: float, fes: float, gap: float
) -> None:
    # NDS 2018 Table 12.3.1A by its k1, k2, k3; the program has the general form of AWC TR 12
    d, fyb, re, rt = 0.5, 45000.0, fem / fes, lm / ls
    k1 = (math.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + math.sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2))
    k3 = -1 + math.sqrt(2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * ls**2))
    main, side = Side(bearing_length=lm, fe_psi=fem), Side(bearing_length=ls, fe_psi=fes)
    touching = single_shear(bolt(d), main=main, side=side).modes
    assert touching == pytest.approx(
        {
            "Im": d * lm * fem / 4.0,
            "Is": d * ls * fes / 4.0,
            "II": k1 * d * ls * fes / 3.6,
            "IIIm": k2 * d * lm * fem / ((1 + 2 * re) * 3.2),
            "IIIs": k3 * d * ls * fem / ((2 + re) * 3.2),
            "IV": d**2 / 3.2 * math.sqrt(2 * fem * fyb / (3 * (1 + re))),
        }
    )
    apart = single_shear(bolt(d), main=main, side=side, gap=gap).modes
    assert all(apart[mode] <= touching[mode] + 1e-9 for mode in touching)
    assert (apart["Im"], apart["Is"]) == (touching["Im"], touching["Is"])


def test_far_apart_a_dowel_carries_its_two_moments_over_the_gap() -> None:
    # statics: two plastic hinges M = Fyb D^3 / 6, a gap apart, carry P g = 2 M as the bearing gets short
    side = Side(bearing_length=6.0, fe_psi=1e7)
    z = single_shear(bolt(0.5), main=side, side=side, gap=10.0).modes["IV"]
    assert z * 3.2 * 10.0 == pytest.approx(2 * 45000.0 * 0.5**3 / 6.0, rel=0.01)


@given(lengths, lengths, strengths, strengths)
def test_double_shear_has_the_crush_of_one_main_member_and_two_side_members(
    lm: float, ls: float, fem: float, fes: float
) -> None:
    one = single_shear(HALF, main=_side(lm, fem), side=_side(ls, fes))
    two = double_shear(HALF, main=_side(lm, fem), side=_side(ls, fes))
    assert two.modes["Im"] == one.modes["Im"]
    for mode in ("Is", "IIIs", "IV"):
        assert two.modes[mode] == pytest.approx(2.0 * one.modes[mode])
    assert two.z_lbf == min(two.modes.values()) == two.modes[two.mode]


@given(st.floats(0.31, 0.73), st.floats(0.25, 1.0), angles)
def test_bearing_lies_between_along_and_across(g: float, d: float, angle: float) -> None:
    along = bearing_strength(g, diameter=d)
    across = bearing_strength(g, diameter=d, angle_deg=90.0)
    between = bearing_strength(g, diameter=d, angle_deg=angle)
    assert min(along, across) * (1 - 1e-9) <= between <= max(along, across) * (1 + 1e-9)
    assert hankinson(along, across, angle_deg=0.0) == pytest.approx(along)


def test_thin_dowels_bear_alike_in_every_direction() -> None:
    assert bearing_strength(0.5, diameter=0.2) == bearing_strength(0.5, diameter=0.2, angle_deg=90.0)


def test_a_thin_rooted_screw_is_still_reduced_for_the_grain() -> None:
    # Table 12.3.1B footnote: 1/4 in lag screw, root 0.173 in, KD times K theta = 1.25 across the grain
    screw = lag_screw(0.25)
    along = single_shear(screw, main=_side(2.0, 4000.0, 0.0), side=_side(1.5, 4000.0))
    across = single_shear(screw, main=_side(2.0, 4000.0, 90.0), side=_side(1.5, 4000.0))
    assert along.z_lbf / across.z_lbf == pytest.approx(1.25)


def test_an_ordinary_band_joist_gives_a_half_inch_lag_too_little_wood() -> None:
    # 4 D is 2 in; a 2x band has 1-1/2: the standard has no value (SEAINT message in the reference notes)
    with pytest.raises(OutOfRange, match=r"of 0.5 in needs 2 in of hold in the main member and has 1.5 in"):
        single_shear(lag_screw(0.5), main=_side(1.5), side=_side(1.5))


@pytest.mark.parametrize(
    ("make", "error", "said"),
    [
        (lambda: bolt(1.25), OutOfRange, "1.25 in is more than the 1 in"),
        (lambda: bolt(0.125), OutOfRange, "less than the 1/4 in"),
        (lambda: bolt(0.0), BadInput, "diameter: 0 cannot be used"),
        (lambda: lag_screw(0.4), OutOfRange, "diameter 0.4 is not in NDS 2018"),
        (lambda: wood_screw("11"), OutOfRange, "gauge 11 is not in NDS 2018"),
        (lambda: common_nail(0.3), OutOfRange, "not between 0.099 and 0.236"),
        (lambda: wood_screw("8g"), OutOfRange, "it has 6, 8, 9, 10, 12, 14"),
        (lambda: gravity("balsa"), BadInput, "species: balsa is not known here"),
        (lambda: _side(angle=91.0), OutOfRange, "91 degrees is not between 0 and 90"),
        (lambda: _side(length=-1.0), BadInput, "bearing_length: -1 cannot be used"),
        (lambda: bearing_strength(0.9, diameter=0.5), OutOfRange, "0.9 is not between 0.31 and 0.73"),
        (lambda: bearing_strength(0.5, diameter=0.5, angle_deg=-1.0), OutOfRange, "-1 degrees"),
    ],
)
def test_a_joint_outside_the_standard_is_refused(make: object, error: type[Exception], said: str) -> None:
    with pytest.raises(error) as refusal:
        make()  # type: ignore[operator]
    assert said in str(refusal.value)


@pytest.mark.parametrize(("diameter", "fyb"), [(0.113, 1e5), (0.148, 9e4), (0.192, 8e4)])
def test_thicker_nails_are_softer(diameter: float, fyb: float) -> None:
    assert common_nail(diameter).fyb_psi == fyb


def test_a_wood_screw_shears_at_its_root_and_pulls_by_its_shank() -> None:
    # NDS appendix L, No. 10: shank 0.190, root 0.152 in
    screw = wood_screw("10")
    assert (screw.nominal, screw.diameter, screw.tip) == (0.19, 0.152, 0.38)


def test_the_lag_comes_out_past_the_band() -> None:
    # 1-1/2 ledger + 1/2 sheathing + 1-1/2 band + 5/16 tip = 3-13/16: a 4 in lag
    assert lag_length(ledger=1.5, gap=0.5, band=1.5, tip=0.3125) == 4.0
    assert lag_length(ledger=1.5, gap=0.0, band=1.6875, tip=0.3125) == 3.5
    assert lag_length(ledger=1.5, gap=0.0, band=1.75, tip=0.3125) == 4.0


def test_the_thread_of_a_stock_lag_is_half_its_length_and_a_half_to_6_in() -> None:
    assert thread_length(7.0, tip=0.21875) == 3.78125
    assert thread_length(14.0, tip=0.3125) == 6.0 - 0.3125
    assert thread_length(1.0, tip=0.1) == 0.9


@given(st.floats(100.0, 2000.0), st.floats(100.0, 2000.0), angles)
def test_pull_and_shear_together_lie_between_the_two(w: float, z: float, angle: float) -> None:
    found = combined_value(w, z_adjusted_lbf=z, angle_deg=angle)
    assert min(w, z) * (1 - 1e-9) <= found <= max(w, z) * (1 + 1e-9)


def test_pure_shear_and_pure_pull_use_their_own_value() -> None:
    assert combined(400.0, z_adjusted_lbf=200.0, lateral_lbf=100.0, pull_lbf=0.0) == pytest.approx(0.5)
    assert combined(400.0, z_adjusted_lbf=200.0, lateral_lbf=0.0, pull_lbf=100.0) == pytest.approx(0.25)
    with pytest.raises(BadInput, match="there is no load"):
        combined(400.0, z_adjusted_lbf=200.0, lateral_lbf=0.0, pull_lbf=0.0)


def test_end_grain_holds_lags_at_three_quarters_and_other_screws_not_at_all() -> None:
    lag = withdrawal_per_inch("lag screw", specific_gravity=0.5, diameter=0.5)
    end = withdrawal_per_inch("lag screw", specific_gravity=0.5, diameter=0.5, end_grain=True)
    assert end == pytest.approx(0.75 * lag)
    with pytest.raises(OutOfRange, match="wood screw may not be loaded in withdrawal from end grain"):
        withdrawal_per_inch("wood screw", specific_gravity=0.5, diameter=0.19, end_grain=True)
    with pytest.raises(BadInput, match="kind: rivet is not known here"):
        withdrawal_per_inch("rivet", specific_gravity=0.5, diameter=0.19)


def test_withdrawal_takes_duration_and_moisture() -> None:
    assert withdrawal(300.0, thread_in_main=2.0, duration=1.6, wet=0.7) == pytest.approx(672.0)


ROW = FastenerRow(count=8, spacing=4.0, diameter=1.0, stiffness_main_lbf=7e6, stiffness_side_lbf=7e6)


@given(st.integers(1, 20), st.floats(0.25, 1.0), st.floats(1e6, 1e8), st.floats(1e6, 1e8))
def test_more_fasteners_in_a_row_bring_less_each(n: int, d: float, em: float, es: float) -> None:
    rows = [
        FastenerRow(count=k, spacing=4.0, diameter=d, stiffness_main_lbf=em, stiffness_side_lbf=es)
        for k in (n, n + 1)
    ]
    few, many = (group_action(row) for row in rows)
    assert 0.0 < many <= few + 1e-9 <= 1.0 + 2e-9
    assert many * (n + 1) >= few * n - 1e-9


def test_one_fastener_or_thin_ones_have_no_group_action() -> None:
    assert group_action(replace(ROW, count=1)) == 1.0
    assert group_action(replace(ROW, diameter=0.2)) == 1.0
    assert group_action(replace(ROW, metal_side=True)) < group_action(ROW)


@pytest.mark.parametrize(("distance", "factor"), [(3.5, 1.0), (9.0, 1.0), (2.625, 0.75), (1.75, 0.5)])
def test_a_near_end_takes_its_share_off(distance: float, factor: float) -> None:
    found = geometry_factor("end_tension_softwood", distance=distance, diameter=0.5)
    assert found == pytest.approx(factor)


def test_nearer_than_the_least_there_is_no_value() -> None:
    with pytest.raises(OutOfRange, match=r"end tension softwood of 1.7 in is less than 3.5 D, 1.75 in"):
        geometry_factor("end_tension_softwood", distance=1.7, diameter=0.5)
    with pytest.raises(BadInput, match="rule: end is not known here"):
        geometry_factor("end", distance=1.7, diameter=0.5)
    assert geometry_factor("end_tension_softwood", distance=0.5, diameter=0.19) == 1.0
    assert edge_distance("along_grain", diameter=0.5) == 0.75


def test_factors_multiply() -> None:
    found = adjusted_lateral(200.0, duration="two_months_snow", wet=True, group=0.9, geometry=0.8)
    assert found == pytest.approx(200.0 * 1.15 * 0.7 * 0.9 * 0.8)
    with pytest.raises(BadInput, match="duration: impact is not known here"):
        adjusted_lateral(200.0, duration="impact")


@given(st.floats(50.0, 500.0), st.floats(4.0, 20.0), st.floats(30.0, 100.0))
def test_spacing_times_load_is_what_one_fastener_carries(z: float, span: float, psf: float) -> None:
    spacing = spacing_by_calculation(z, load_psf=psf, joist_span_ft=span)
    assert spacing / 12.0 * psf * span / 2.0 == pytest.approx(z)


def test_a_dowel_of_no_strength_is_refused() -> None:
    with pytest.raises(BadInput, match="fyb_psi: inf cannot be used"):
        Dowel(kind="bolt", nominal=0.5, diameter=0.5, fyb_psi=math.inf)
