"""How a length reads on a tape, and that reading it again gives the length back."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.lengths.vectors import VECTORS

from sillwright.errors import OutOfRange
from sillwright.lengths import from_unit, glyphs, parse, show, show_feet, to_unit

F = Fraction
MM = F(10, 254)  # NIST SP 811 (2008), app. B.8: 1 in = 2.54 cm exactly
INCH_GRADUATIONS = [1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32, 1 / 64]
LENGTHS = st.floats(min_value=-2000, max_value=2000, allow_nan=False)
quiet = settings(derandomize=True, max_examples=300, deadline=None)


@pytest.mark.parametrize(("length", "graduation", "shown"), [tuple(each) for each in VECTORS["shown_inches"]])
def test_shows_inches_in_lowest_terms_and_carries(
    length: float, graduation: float | None, shown: str
) -> None:
    assert show(length, graduation=graduation) == shown


@pytest.mark.parametrize(
    ("millimetres", "graduation", "shown"), [tuple(each) for each in VECTORS["shown_millimetres"]]
)
def test_shows_millimetres_with_ties_to_the_even_graduation(
    millimetres: float, graduation: float | None, shown: str
) -> None:
    assert show(from_unit(millimetres, "mm"), unit="mm", graduation=graduation) == shown


def test_the_mark_follows_when_asked_for() -> None:
    assert show(27.375, mark=True) == '27 3/8"'
    assert show(0, mark=True) == '0"'
    assert show(from_unit(1302, "mm"), unit="mm", mark=True) == "1302 mm"


@pytest.mark.parametrize(("length", "shown"), [tuple(each) for each in VECTORS["shown_feet"]])
def test_shows_feet_and_inches_and_carries_into_feet(length: float, shown: str) -> None:
    assert show_feet(length) == shown


@pytest.mark.parametrize("graduation", INCH_GRADUATIONS)
def test_ties_go_to_the_even_graduation(graduation: float) -> None:
    """NIST Handbook 44, sec. 10.3 (second-hand): midway, the graduation whose value is even."""
    for count in range(-200, 200):
        tie = (count + 0.5) * graduation
        read = Fraction(parse(show(tie, graduation=graduation)).value) / Fraction(graduation)
        assert read in (count, count + 1)
        assert read % 2 == 0


@pytest.mark.parametrize(("graduation", "per_mm"), [(1.0, 1), (0.5, 2), (0.1, 10)])
def test_ties_in_millimetres_go_to_the_even_graduation(graduation: float, per_mm: int) -> None:
    """The same rule, although a millimetre comes back from inches a last digit off."""
    for count in range(2000):
        tie = from_unit((2 * count + 1) / (2 * per_mm), "mm")
        shown = Fraction(show(tie, unit="mm", graduation=graduation)) * per_mm
        assert shown == count + count % 2


@pytest.mark.parametrize("graduation", INCH_GRADUATIONS)
def test_every_graduation_reads_back_as_itself(graduation: float) -> None:
    for count in range(-1000, 3000):
        length = count * graduation
        for text in (
            show(length, graduation=graduation),
            show(length, graduation=graduation, mark=True),
            show_feet(length, graduation=graduation),
            glyphs(show(length, graduation=graduation)),
        ):
            assert parse(text).value == length, text


@pytest.mark.parametrize(
    ("graduation", "per_mm"), [(1.0, 1), (0.5, 2), (0.1, 10), (5.0, F(1, 5)), (10.0, F(1, 10))]
)
def test_every_millimetre_graduation_reads_back_as_itself(graduation: float, per_mm: Fraction | int) -> None:
    for count in range(-1000, 3000):
        exact = count / Fraction(per_mm) * MM
        length = exact.numerator / exact.denominator
        text = show(length, unit="mm", graduation=graduation)
        near = pytest.approx(length, rel=4e-16, abs=0)  # two roundings, of 99.9 and of the division
        assert parse(text, unit="mm").value == (length if graduation != 0.1 else near), text
        assert parse(show(length, unit="mm", graduation=graduation, mark=True)).value == near, text
        assert show(parse(text, unit="mm").value, unit="mm", graduation=graduation) == text


@given(LENGTHS, st.sampled_from(INCH_GRADUATIONS))
@quiet
def test_shows_the_nearest_graduation_by_exact_arithmetic(length: float, graduation: float) -> None:
    count = round(Fraction(length) / Fraction(graduation))  # of a Fraction: exact, half to even
    assert Fraction(parse(show(length, graduation=graduation)).value) == count * Fraction(graduation)
    assert Fraction(parse(show_feet(length, graduation=graduation)).value) == count * Fraction(graduation)


@given(LENGTHS, st.sampled_from([1.0, 0.5, 0.1]))
@quiet
def test_shown_millimetres_are_within_half_a_graduation(length: float, graduation: float) -> None:
    shown = Fraction(show(length, unit="mm", graduation=graduation))
    assert abs(shown - Fraction(length) / MM) <= Fraction(graduation) / 2 + F(1, 10**6)


@given(LENGTHS, LENGTHS, st.sampled_from(INCH_GRADUATIONS))
@quiet
def test_a_longer_length_never_shows_shorter(one: float, other: float, graduation: float) -> None:
    short, long = sorted((one, other))
    assert parse(show(short, graduation=graduation)).value <= parse(show(long, graduation=graduation)).value
    assert Fraction(show(short, unit="mm")) <= Fraction(show(long, unit="mm"))


@given(LENGTHS, st.sampled_from(INCH_GRADUATIONS))
@quiet
def test_fractions_are_shown_in_lowest_terms(length: float, graduation: float) -> None:
    fraction = re.search(r"(\d+)/(\d+)$", show(length, graduation=graduation))
    if fraction:
        assert math.gcd(int(fraction[1]), int(fraction[2])) == 1


@given(LENGTHS)
@quiet
def test_a_mirrored_length_shows_mirrored(length: float) -> None:
    shown = show(abs(length))
    assert show(-abs(length)) == ("0" if shown == "0" else f"-{shown}")


@given(LENGTHS, st.sampled_from(["in", "mm"]))
@quiet
def test_units_go_there_and_back(length: float, unit: str) -> None:
    assert unit in ("in", "mm")
    there = to_unit(length, "mm" if unit == "mm" else "in")
    assert from_unit(there, "mm" if unit == "mm" else "in") == pytest.approx(length, rel=4e-16, abs=5e-324)


def test_unit_factors_are_exact() -> None:
    """NIST SP 811 (2008), app. B.8: 1 in = 2.54 cm exactly."""
    assert to_unit(1, "mm") == 25.4
    assert from_unit(25.4, "mm") == 1
    assert to_unit(27.375, "in") == from_unit(27.375, "in") == 27.375
    for inches in range(1, 500):
        assert to_unit(inches, "mm") == float(inches / MM)
        assert from_unit(inches, "mm") == float(inches * MM)


@pytest.mark.parametrize(("text", "set_small"), [tuple(each) for each in VECTORS["glyphs"]])
def test_tape_fractions_are_set_small_and_nothing_else(text: str, set_small: str) -> None:
    assert glyphs(text) == set_small


@pytest.mark.parametrize("length", [float("nan"), float("inf"), float("-inf"), 1e308, -2e9])
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_refuses_to_show_what_is_not_finite(length: float, unit: str) -> None:
    with pytest.raises(OutOfRange, match="finite"):
        show(length, unit="mm" if unit == "mm" else "in")


def test_refuses_a_graduation_no_tape_has_and_lists_those_there_are() -> None:
    with pytest.raises(OutOfRange, match=r"1/64, 1/32, 1/16, 1/8, 1/4, 1/2, 1 in$"):
        show(27, graduation=0.1)
    with pytest.raises(OutOfRange, match=r"0\.1, 0\.5, 1, 5, 10 mm$"):
        show(27, unit="mm", graduation=1 / 16)
    with pytest.raises(OutOfRange):
        show_feet(27, graduation=1 / 3)
