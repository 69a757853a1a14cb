from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.drawing import Figures, chance

INCH, MM = Figures("in"), Figures("mm")


def test_places_read_to_a_sixteenth_or_a_millimetre() -> None:
    assert INCH.place(34.63) == "34 5/8"
    assert MM.place(34.63) == "880"


def test_thicknesses_read_to_a_thirty_second_or_half_a_millimetre() -> None:
    assert INCH.fine(0.157) == "5/32"
    assert MM.fine(0.157) == "4"
    assert MM.fine(4.5 / 25.4) == "4.5"


def test_a_band_is_ninety_five_percent_rounded_up() -> None:
    assert INCH.band(0.03) == "±1/16"  # 1.96 x 0.03 = 0.0588
    assert INCH.band(0.032) == "±3/32"  # 1.96 x 0.032 = 0.0627, just above 1/16
    assert MM.band(1 / 25.4) == "±2"  # 1.96 mm


@given(st.floats(min_value=1e-6, max_value=5))
def test_a_band_never_reads_smaller_than_it_is(sd: float) -> None:
    whole, _, fraction = INCH.band(sd).removeprefix("±").rpartition(" ")
    top, _, bottom = fraction.partition("/")
    assert (float(whole or 0) + float(top) / float(bottom or 1)) >= 1.96 * sd - 1e-6


def test_differences_carry_their_sign_and_nothing_has_none() -> None:
    assert (INCH.signed(0.0625), INCH.signed(-0.0625), INCH.signed(0.001)) == ("+1/16", "-1/16", "0")


def test_small_lengths_in_decimals_have_no_negative_nought() -> None:
    assert (INCH.decimal(-0.0123), INCH.decimal(-0.0001), MM.decimal(0.1)) == ("-0.012", "0", "2.54")


@pytest.mark.parametrize(
    ("probability", "words"),
    [(0.99, "99 %"), (0.9973, "99.7 %"), (0.87, "87 %"), (1.0, "above 99.9 %"), (0.0, "below 0.1 %")],
)
def test_no_chance_is_said_to_be_certain(probability: float, words: str) -> None:
    assert chance(probability) == words
