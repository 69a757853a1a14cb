from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import BadInput, OutOfRange
from sillwright.materials import (
    CLASSES,
    back_dam_height,
    end_dam_height,
    head_in_water,
    pressure_of_head_psf,
    velocity_pressure_psf,
    water_test_pressure,
    wind_mph_for,
)
from sillwright.rules import PLACES, amended, rule_book

MODEL, ONTARIO = rule_book("2018"), rule_book("2018", "canada-ontario")
PRESSURES = st.floats(0, 200)


@given(PRESSURES)
def test_head_and_pressure_are_each_others_inverse(pressure_psf: float) -> None:
    assert pressure_of_head_psf(head_in_water(pressure_psf)) == pytest.approx(pressure_psf, rel=1e-12)


@given(st.floats(0, 300))
def test_wind_and_pressure_are_each_others_inverse(wind_mph: float) -> None:
    assert wind_mph_for(velocity_pressure_psf(wind_mph)) == pytest.approx(wind_mph, rel=1e-9, abs=1e-12)


@given(PRESSURES, PRESSURES)
def test_more_pressure_never_asks_for_less_dam_or_a_lower_test(one: float, other: float) -> None:
    low, high = sorted((one, other))
    for book in (MODEL, ONTARIO):
        assert back_dam_height(low, book) <= back_dam_height(high, book)
        assert end_dam_height(low, book) <= end_dam_height(high, book)
        for name in CLASSES:
            tests = [water_test_pressure(name, design_psf=each + 1.0, book=book).psf for each in (low, high)]
            assert tests[0] <= tests[1]


def test_end_dams_go_by_the_rate_of_the_place_or_by_the_head() -> None:
    assert end_dam_height(10.0, MODEL) == back_dam_height(10.0, MODEL) == head_in_water(10.0)
    assert end_dam_height(10.0, ONTARIO) < head_in_water(10.0)  # 1 mm for 10 Pa is a rounded rule


def test_a_test_pressure_says_how_it_comes_about() -> None:
    plain = water_test_pressure("CW", design_psf=50, book=MODEL)
    assert (plain.psf, plain.said) == (7.5, "15 % of 50 psf")
    assert water_test_pressure("AW", design_psf=50, book=MODEL).said == "20 % of 50 psf"
    assert water_test_pressure("R", design_psf=15, book=MODEL).said == "15 % of 15 psf, but at least 2.9 psf"
    capped = water_test_pressure("AW", design_psf=80, book=MODEL)
    assert (capped.psf, capped.said) == (12, "20 % of 80 psf, but at most 12 psf")
    assert capped.source.startswith("NAFS")


def test_a_local_cap_is_used_and_named() -> None:
    text = 'title = "Town"\n[[limit]]\nid = "nafs.cap"\nvalue = 8\n'
    book = amended(MODEL, text, name="town.toml", check_ids=())
    capped = water_test_pressure("CW", design_psf=80, book=book)
    assert (capped.psf, "local amendment: town.toml" in capped.source) == (8, True)


@pytest.mark.parametrize("place", PLACES)
def test_every_place_can_rate_and_dam(place: str) -> None:
    book = rule_book("2021", place)
    assert water_test_pressure("LC", design_psf=30, book=book).psf == 4.5
    assert back_dam_height(4.5, book) > 0.8


@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_no_pressure_below_0_or_without_end(value: float) -> None:
    for function in (head_in_water, pressure_of_head_psf, velocity_pressure_psf, wind_mph_for):
        with pytest.raises(OutOfRange, match="is none to go by"):
            function(value)
    with pytest.raises(OutOfRange):
        end_dam_height(value, ONTARIO)


@pytest.mark.parametrize("design", [0.0, -5.0, float("nan")])
def test_no_test_pressure_without_a_design_pressure(design: float) -> None:
    with pytest.raises(OutOfRange, match="give the one on the label"):
        water_test_pressure("R", design_psf=design, book=MODEL)


def test_an_unknown_class_is_refused() -> None:
    with pytest.raises(BadInput, match=r"there is no performance class 'SHD'\. Known: R, LC, CW, AW"):
        water_test_pressure("SHD", design_psf=30, book=MODEL)  # type: ignore[arg-type]
