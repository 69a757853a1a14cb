"""Laws of beams, columns, footings and headers; each limit by its formula in the head."""

from __future__ import annotations

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.structure import (
    HeaderLoads,
    LineLoad,
    Section,
    Service,
    Strength,
    adjusted,
    footing,
    header,
    overhang,
    post_capacity,
    section,
    simple_span,
    span_limits,
)
from sillwright.structure.columns import column_factor
from sillwright.structure.members import beam_stability, effective_length, slenderness
from sillwright.structure.timber import compression_value, reference_values, species_known

EVEN = Strength(
    fb_psi=1000.0, fv_psi=150.0, fc_perp_psi=400.0, e_psi=1.2e6, e_min_psi=4e5, source="round figures"
)
PLANK = Section(breadth=1.5, depth=9.25)
ends = {"bearing_length": 1.5, "deflection_ratio": 360.0}
spans = st.floats(24.0, 240.0)
loads = st.floats(10.0, 500.0)


def _use(span: float, plf: float) -> dict[str, float]:
    found = simple_span(PLANK, EVEN, span=span, load=LineLoad(live_plf=plf), **ends)
    return {check.limit: check.use for check in found.checks}


def test_each_limit_is_its_formula() -> None:
    # 120 plf = 10 pli over 100 in: M = 12,500 in-lb, V = 500 lb, 5 w L^4 / 384 E I
    found = simple_span(PLANK, EVEN, span=100.0, load=LineLoad(live_plf=120.0), **ends)
    demand = {check.limit: check.demand for check in found.checks}
    assert demand["bending"] == pytest.approx(12500.0 / (1.5 * 9.25**2 / 6))
    assert demand["shear"] == pytest.approx(1.5 * 500.0 / (1.5 * 9.25))
    assert demand["bearing"] == pytest.approx(500.0 / (1.5 * 1.5))
    assert demand["deflection"] == pytest.approx(5 * 10.0 * 1e8 / (384 * 1.2e6 * 1.5 * 9.25**3 / 12))
    assert found.governing.use == max(check.use for check in found.checks)


@given(spans, loads, st.floats(1.0, 3.0))
def test_use_grows_with_load_in_proportion(span: float, plf: float, k: float) -> None:
    few, many = _use(span, plf), _use(span, plf * k)
    assert all(many[limit] == pytest.approx(k * few[limit]) for limit in few)


@given(spans, loads)
def test_use_grows_with_the_span_by_its_power(span: float, plf: float) -> None:
    one, two = _use(span, plf), _use(2.0 * span, plf)
    powers = {"bending": 4.0, "shear": 2.0, "bearing": 2.0, "deflection": 8.0}
    assert all(two[limit] == pytest.approx(powers[limit] * one[limit]) for limit in one)


@given(loads)
def test_at_the_greatest_span_the_governing_limit_is_just_used(plf: float) -> None:
    limits = span_limits(PLANK, EVEN, load=LineLoad(live_plf=plf), **ends)
    found = simple_span(PLANK, EVEN, span=limits.least, load=LineLoad(live_plf=plf), **ends)
    assert found.governing.limit == limits.governing
    assert found.governing.use == pytest.approx(1.0)
    assert found.passes
    assert not simple_span(PLANK, EVEN, span=limits.least * 1.01, load=LineLoad(live_plf=plf), **ends).passes


def test_dead_load_bends_but_is_not_in_the_live_deflection() -> None:
    live = span_limits(PLANK, EVEN, load=LineLoad(live_plf=60.0), **ends)
    both = span_limits(PLANK, EVEN, load=LineLoad(live_plf=60.0, dead_plf=60.0), **ends)
    assert both.deflection == live.deflection
    assert both.bending < live.bending
    dead = span_limits(PLANK, EVEN, load=LineLoad(live_plf=0.0, dead_plf=60.0), **ends)
    assert dead.deflection == float("inf")


def test_the_tip_load_of_the_joist_table_adds_to_the_overhang() -> None:
    load = LineLoad(live_plf=53.3, dead_plf=13.3)
    bare = overhang(PLANK, EVEN, back_span=120.0, reach=24.0, load=load)
    tipped = overhang(PLANK, EVEN, back_span=120.0, reach=24.0, load=load, tip_lbf=220.0)
    moment = {c.limit: c.demand for c in tipped.checks}["bending"] * PLANK.modulus
    assert moment == pytest.approx(66.6 / 12 * 24**2 / 2 + 220.0 * 24.0)
    assert all(a.use < b.use for a, b in zip(bare.checks, tipped.checks, strict=True))
    with pytest.raises(OutOfRange, match=r"31 in is more than a quarter of the back span \(30 in\)"):
        overhang(PLANK, EVEN, back_span=120.0, reach=31.0, load=load)


@given(st.floats(500.0, 3000.0), st.floats(100.0, 50000.0))
def test_stability_only_takes_off_and_less_so_for_stocky_beams(fb: float, fbe: float) -> None:
    cl = beam_stability(fb, fbe_psi=fbe)
    assert 0.0 < cl < 1.0
    assert cl * fb < fbe
    assert beam_stability(fb, fbe_psi=fbe * 2.0) > cl


def test_a_beam_too_slender_or_a_row_that_does_not_hold_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"slenderness 54.0 is more than 50"):
        slenderness(Section(breadth=1.5, depth=11.25), effective_length=584.0)
    with pytest.raises(OutOfRange, match=r"lu / d of 5.0 is under 7"):
        effective_length(50.0, depth=10.0)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"span": 0.0}, "span: 0 cannot be used. Give a number above 0."),
        ({"span": -12.0}, "span: -12 cannot be used."),
        ({"bearing_length": 0.0}, "bearing_length: 0 cannot be used."),
        ({"deflection_ratio": 0.0}, "deflection_ratio: 0 cannot be used."),
    ],
)
def test_a_span_that_cannot_be_is_told(changed: dict[str, float], said: str) -> None:
    with pytest.raises(BadInput) as error:
        simple_span(PLANK, EVEN, load=LineLoad(live_plf=60.0), **({"span": 100.0} | ends | changed))
    assert str(error.value).startswith(said)


def test_a_negative_load_is_told_and_so_is_none() -> None:
    with pytest.raises(BadInput, match="live_plf: -1 cannot be used"):
        LineLoad(live_plf=-1.0)
    with pytest.raises(BadInput, match="load_plf: 0 cannot be used"):
        LineLoad(live_plf=0.0)


def test_plies_add_breadth_and_their_size_is_kept() -> None:
    found = section("3-2x10")
    assert (found.breadth, found.depth, found.plies, found.size) == (4.5, 9.25, 3, "2x10")
    assert found.inertia == pytest.approx(3 * section("2x10").inertia)


@pytest.mark.parametrize(
    ("name", "said"), [("2x9", "size: 2x9 is not known"), ("9-2x8", "not a number of plies")]
)
def test_a_size_nobody_sells_is_told(name: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        section(name)


def test_an_unknown_species_is_told_with_those_known() -> None:
    with pytest.raises(BadInput, match=r"species: hemfir is not known here; .* Did you mean hem_fir"):
        reference_values("hemfir", size="2x8")
    with pytest.raises(OutOfRange, match=r"grade No.1 is not in"):
        reference_values("southern_pine", grade="No.1", size="2x8")


def test_wet_use_reduces_bending_only_above_1150_psi() -> None:
    # NDS Supplement Table 4A: Fb CF of Douglas fir 2x6 is 1,170 psi, of hem-fir 2x6 1,105
    for species, factor in (("douglas_fir_larch", 0.85), ("hem_fir", 1.0)):
        dry, wet = (adjusted(species, size="2x6", service=Service(wet=w)) for w in (False, True))
        assert wet.fb_psi / dry.fb_psi == pytest.approx(factor)
        assert wet.e_psi / dry.e_psi == pytest.approx(0.9)
        assert wet.fc_perp_psi / dry.fc_perp_psi == pytest.approx(0.67)
        assert wet.fv_psi / dry.fv_psi == pytest.approx(0.97)


@pytest.mark.parametrize("species", species_known())
def test_incising_and_permanent_load_take_off_and_company_adds(species: str) -> None:
    plain = adjusted(species, size="2x8", service=Service())
    incised = adjusted(species, size="2x8", service=Service(incised=True))
    lasting = adjusted(species, size="2x8", service=Service(duration="permanent"))
    joined = adjusted(species, size="2x8", service=Service(repetitive=True))
    assert incised.fb_psi == pytest.approx(0.8 * plain.fb_psi)
    assert incised.e_psi == pytest.approx(0.95 * plain.e_psi)
    assert lasting.fb_psi == pytest.approx(0.9 * plain.fb_psi)
    assert lasting.fc_perp_psi == plain.fc_perp_psi
    assert joined.fb_psi == pytest.approx(1.15 * plain.fb_psi)


def test_a_stability_factor_above_one_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"1.2 is not between 0 and 1"):
        adjusted("hem_fir", size="2x8", service=Service(), stability=1.2)
    with pytest.raises(BadInput, match="duration: summer is not known"):
        Service(duration="summer")


@given(st.floats(100.0, 2000.0), st.floats(1e5, 1e6), st.floats(1.0, 50.0))
def test_a_column_crushes_when_short_and_buckles_when_long(fc: float, e: float, ratio: float) -> None:
    cp = column_factor(fc, e_min_psi=e, slenderness=ratio)
    assert 0.0 < cp < 1.0
    assert cp * fc < 0.822 * e / ratio**2
    assert column_factor(fc, e_min_psi=e, slenderness=ratio / 2.0) > cp


def test_a_very_short_post_carries_its_crushing_load() -> None:
    short = post_capacity("4x4", species="hem_fir", height=1.0, service=Service())
    crush = compression_value("hem_fir", size="4x4", service=Service()) * 3.5**2
    assert short.capacity_lbf == pytest.approx(crush, rel=1e-3)
    assert crush == pytest.approx(1300.0 * 1.15 * 12.25)


@pytest.mark.parametrize("size", ["4x4", "6x6", "8x8"])
def test_a_taller_or_wetter_post_carries_less(size: str) -> None:
    found = [
        post_capacity(size, species="douglas_fir_larch", height=h, service=Service(wet=w)).capacity_lbf
        for h, w in ((48.0, False), (96.0, False), (96.0, True))
    ]
    assert found == sorted(found, reverse=True)
    assert len(set(found)) == 3


def test_a_post_too_slender_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"le / d of 51.4 is more than 50"):
        post_capacity("4x4", species="hem_fir", height=180.0, service=Service())
    with pytest.raises(BadInput, match="species: western_cedar is not known"):
        post_capacity("6x6", species="western_cedar", height=96.0, service=Service())


@given(st.floats(1000.0, 20000.0), st.sampled_from([1500.0, 2000.0, 3000.0]))
def test_a_footing_spreads_its_load_to_what_the_soil_bears(load: float, soil: float) -> None:
    found = footing(load, soil_psf=soil)
    assert found.side >= 12.0
    assert load / (found.side / 12.0) ** 2 <= soil * (1 + 1e-9)
    assert pi * found.diameter**2 / 4.0 == pytest.approx(found.side**2)
    assert footing(load, soil_psf=soil, thickness=12.0).side >= found.side


def test_soil_that_cannot_carry_the_concrete_is_refused() -> None:
    with pytest.raises(OutOfRange, match="weighs as much as 100 psf"):
        footing(1000.0, soil_psf=100.0, thickness=12.0)
    with pytest.raises(BadInput, match="load_lbf: 0 cannot be used"):
        footing(0.0, soil_psf=1500.0)


LOADS = HeaderLoads(dead_plf=300.0, snow_plf=500.0, floor_live_plf=200.0)


def test_a_header_is_checked_under_every_combination_with_its_duration() -> None:
    assert [(name, d, round(load.total_plf)) for name, d, load in LOADS.combinations()] == [
        ("D", "permanent", 300),
        ("D + L", "ten_years_live", 500),
        ("D + S", "two_months_snow", 800),
        ("D + 0.75 (L + S)", "two_months_snow", 825),
    ]


def test_a_deeper_header_is_used_less_and_a_wider_opening_more() -> None:
    uses = [
        header(size, species="hem_fir", opening=60.0, loads=LOADS, jacks=2).result.governing.use
        for size in ("2-2x8", "2-2x10", "2-2x12", "3-2x12")
    ]
    assert uses == sorted(uses, reverse=True)
    wide = header("2-2x12", species="hem_fir", opening=72.0, loads=LOADS, jacks=2)
    assert wide.result.governing.use > uses[2]
    assert wide.note == "for your engineer"


def test_jack_studs_are_as_many_as_the_bearing_asks() -> None:
    # 825 plf over 61.5 in: 2,114 lbf on 3 x 1.5 in at 405 psi, 1,822 lbf: two jacks
    found = header("2-2x10", species="hem_fir", opening=60.0, loads=LOADS)
    assert found.jacks == 2
    assert header("2-2x10", species="hem_fir", opening=30.0, loads=LOADS).jacks == 1
    with pytest.raises(OutOfRange, match="crushes even on 4 jack studs"):
        header("2-2x10", species="hem_fir", opening=400.0, loads=LOADS)
    with pytest.raises(BadInput, match="opening: 0 cannot be used"):
        header("2-2x10", species="hem_fir", opening=0.0, loads=LOADS)
