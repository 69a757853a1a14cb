from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import OutOfRange
from sillwright.materials import ALDUCHOV_ESKRIDGE, CONSTANTS, OLDER, Magnus, dew_point_c, dew_point_f

SETS = st.sampled_from(list(CONSTANTS.values()))
AIR, HUMIDITY = st.floats(0, 35), st.floats(1, 100)


@given(SETS, AIR)
def test_the_dew_point_of_full_air_is_its_own_temperature(constants: Magnus, air: float) -> None:
    assert dew_point_c(air, humidity_pct=100, constants=constants) == pytest.approx(air, abs=1e-9)


@given(SETS, AIR, HUMIDITY, HUMIDITY)
def test_drier_air_has_a_lower_dew_point(constants: Magnus, air: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    dry, damp = (dew_point_c(air, humidity_pct=each, constants=constants) for each in (low, high))
    assert dry <= damp + 1e-12 <= air + 1e-9


@given(AIR, st.floats(20, 100))
def test_all_sets_of_constants_agree_within_the_error_stated_for_them(air: float, humidity: float) -> None:
    found = [dew_point_c(air, humidity_pct=humidity, constants=each) for each in CONSTANTS.values()]
    assert max(found) - min(found) < 0.4  # stated of the older set


@given(st.floats(32, 95), st.floats(1, 100))
def test_degrees_fahrenheit_are_the_same_dew_point(air_f: float, humidity: float) -> None:
    celsius = dew_point_c((air_f - 32) / 1.8, humidity_pct=humidity)
    assert dew_point_f(air_f, humidity_pct=humidity) == pytest.approx(32 + 1.8 * celsius, abs=1e-9)


@pytest.mark.parametrize(
    ("air", "constants"), [(-40.1, ALDUCHOV_ESKRIDGE), (50.1, ALDUCHOV_ESKRIDGE), (-1, OLDER)]
)
def test_beyond_the_range_of_its_constants_it_is_refused(air: float, constants: Magnus) -> None:
    with pytest.raises(OutOfRange, match="for which these constants hold"):
        dew_point_c(air, humidity_pct=50, constants=constants)


@pytest.mark.parametrize("humidity", [0.0, -1.0, 100.1, float("nan")])
def test_a_humidity_that_cannot_be_is_refused(humidity: float) -> None:
    with pytest.raises(OutOfRange, match="give one over 0, at most 100"):
        dew_point_c(20, humidity_pct=humidity)
    with pytest.raises(OutOfRange):
        dew_point_f(float("nan"), humidity_pct=50)
