"""What can be said, what it means in inches, and what is refused where."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.lengths.vectors import VECTORS

from sillwright.errors import BadInput
from sillwright.lengths import Said, Unit, parse

F = Fraction
MM = F(10, 254)  # 1 mm in inches, NIST SP 811 (2008), app. B.8: 1 in = 2.54 cm exactly

INCH_READINGS = {text: F(top, bottom) for text, top, bottom in VECTORS["inches"]}

METRIC_READINGS = {text: F(top, bottom) for text, top, bottom in VECTORS["millimetres"]}


def nearest(value: Fraction) -> float:
    """The float nearest to an exact value, by big-integer division."""
    return value.numerator / value.denominator


@pytest.mark.parametrize(("text", "inches"), INCH_READINGS.items())
def test_reads_inches_exactly(text: str, inches: Fraction) -> None:
    assert Fraction(parse(text).value) == inches


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize(("text", "millimetres"), METRIC_READINGS.items())
def test_reads_a_metric_mark_in_any_job(text: str, millimetres: Fraction | int, unit: Unit) -> None:
    assert parse(text, unit=unit).value == nearest(millimetres * MM)


@pytest.mark.parametrize("text", [text for text in INCH_READINGS if text.rstrip()[-1] in "\"'”″n.st"])
def test_reads_explicit_inches_and_feet_in_a_millimetre_job(text: str) -> None:
    assert Fraction(parse(text, unit="mm").value) == INCH_READINGS[text]


@pytest.mark.parametrize(
    ("bare", "millimetres"), [("1302", F(1302)), ("1302.5", F(2605, 2)), (1302, F(1302))]
)
def test_takes_a_bare_number_in_a_millimetre_job_as_millimetres(
    bare: str | int, millimetres: Fraction
) -> None:
    assert parse(bare, unit="mm").value == nearest(millimetres * MM)


@pytest.mark.parametrize("number", [0, 27, -3, 27.375, 0.1, -0.0, 120_000, 1e-300])
def test_takes_a_plain_number_as_it_is(number: float) -> None:
    said = parse(number)
    assert said.value == number
    assert said.spread == 0
    assert math.copysign(1, said.value) == (1 if number >= 0 else -1)


@pytest.mark.parametrize("whole", range(0, 130, 13))
@pytest.mark.parametrize("division", [2, 4, 8, 16, 32, 64])
def test_every_fraction_of_a_tape_is_exact_in_each_notation(whole: int, division: int) -> None:
    for top in range(1, division):
        exact = whole + Fraction(top, division)
        feet, inches = divmod(whole, 12)
        for text in (
            f"{whole} {top}/{division}",
            f'{whole}-{top}/{division}"',
            f"{whole} {top}⁄{division} in",
            f"{feet}' {inches} {top}/{division}\"",
            f"{feet}ft {inches}-{top}/{division}in",
        ):
            assert Fraction(parse(text).value) == exact, text
            assert Fraction(parse("-" + text).value) == -exact, text


@pytest.mark.parametrize(
    ("text", "graduation"),
    [
        ("27 3/16", F(1, 16)),
        ("27 3/8", F(1, 16)),  # the tape reads to 1/16
        ("27", F(1, 16)),
        ("4'", F(1, 16)),
        ("27 3/32", F(1, 32)),
        ("27 4/64", F(1, 64)),
        ("1302 mm", MM),
        ("130.2 cm", MM),
        ("1.3 m", MM),
    ],
)
def test_implies_the_finest_mark_that_was_read(text: str, graduation: Fraction) -> None:
    assert parse(text).graduation == nearest(graduation)


@pytest.mark.parametrize("text", ["51.25", "4.5 ft", "4ft 3.5in", "1302.5 mm", "130.25 cm", "1.3025 m", 27.5])
def test_decimals_imply_no_mark(text: str | float) -> None:
    assert parse(text).graduation is None


STRONG: list[str] = VECTORS["strong"]
SHY: list[str] = VECTORS["shy"]


# Offset of strong and shy: common practice, no source.
@pytest.mark.parametrize(
    ("word", "side"), [(word, 1) for word in STRONG] + [(word, -1) for word in SHY]
)  # fmt: skip
@pytest.mark.parametrize(("mark", "half"), [(mark, F(top, bottom)) for mark, top, bottom in VECTORS["marks"]])
def test_a_strong_reading_lies_above_its_mark_and_a_shy_one_below(
    word: str, side: int, mark: str, half: Fraction
) -> None:
    plain, said = parse(mark), parse(f"{mark} {word}")
    assert Fraction(said.value) - Fraction(plain.value) == side * half
    assert said.spread == pytest.approx(float(half) / math.sqrt(3), rel=1e-15)  # GUM 4.3.7
    assert said.graduation == plain.graduation


@pytest.mark.parametrize("word", ["strong", "just over", "shy", "just under", "scant"])
def test_a_qualifier_may_come_first(word: str) -> None:
    assert parse(f"{word} 27 3/8") == parse(f"27 3/8 {word}")


@pytest.mark.parametrize(("sign", "word"), [("+", "strong"), ("-", "shy")])
def test_a_trailing_sign_is_a_qualifier_with_or_without_a_space(sign: str, word: str) -> None:
    expected = parse(f"27 3/8 {word}")
    assert parse(f"27 3/8{sign}") == parse(f"27 3/8 {sign}") == parse(f'27 3/8"{sign}') == expected


def test_strong_by_the_metric_tape_is_a_quarter_of_a_millimetre() -> None:
    for text in ("1302 mm strong", "130.2 cm +", "just over 1.302 m"):
        said = parse(text)
        assert said.value == pytest.approx(nearest(F(130225, 100) * MM), rel=1e-15)
        assert said.spread == pytest.approx(0.25 / 25.4 / math.sqrt(3), rel=1e-15)
    assert parse("1302 shy", unit="mm").value == pytest.approx(nearest(F(130175, 100) * MM), rel=1e-15)


def test_strong_grows_the_size_of_a_reading_below_the_mark() -> None:
    assert parse("-7/16 strong").value == -15 / 32
    assert parse("-7/16 shy").value == -13 / 32


def test_an_unqualified_reading_has_no_spread() -> None:
    assert parse("27 3/8") == Said(value=27.375, spread=0, graduation=1 / 16)


REFUSED = [tuple(each) for each in VECTORS["refused"]]
"""Text, unit, character, part, advice."""


@pytest.mark.parametrize(("text", "unit", "character", "part", "advice"), REFUSED)
def test_refuses_at_the_character_and_says_what_to_do(
    text: str, unit: Unit, character: int | None, part: str, advice: str
) -> None:
    with pytest.raises(BadInput) as caught:
        parse(text, unit=unit)
    (fault,) = caught.value.faults
    place = f"at character {character}, '{part}'." if character else "at the end."
    assert fault.what.endswith(f"is not a tape reading: {place}")
    assert advice in fault.advice


def test_the_whole_message_says_where_what_and_what_to_do() -> None:
    with pytest.raises(BadInput) as caught:
        parse("32 7/17")
    assert str(caught.value) == (
        "reading: '32 7/17' is not a tape reading: at character 6, '17'. "
        "Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean 32 7/16?"
    )


NO_LENGTHS = [
    (True, "is not a length"),
    (False, "is not a length"),
    (None, "is not a length"),
    ([27], "is not a length"),
    (float("nan"), "is no length on a house"),
    (float("inf"), "is no length on a house"),
    (float("-inf"), "is no length on a house"),
    (10**400, "is no length on a house"),
    (-(10**4000), "is no length on a house"),
    (120_001, "is no length on a house"),
    *(tuple(each) for each in VECTORS["no_lengths"]),
]


@pytest.mark.parametrize(
    ("value", "what"), NO_LENGTHS, ids=lambda value: str(value)[:20] if isinstance(value, str) else None
)
def test_refuses_what_is_no_length(value: str, what: str) -> None:
    with pytest.raises(BadInput) as caught:
        parse(value)
    assert what in str(caught.value)
    assert caught.value.faults[0].advice
    assert len(str(caught.value)) < 200


def test_refuses_a_number_of_more_digits_than_python_writes() -> None:
    with pytest.raises(BadInput, match="that many digits"):
        parse(10**5000)


@given(
    st.one_of(st.text(max_size=70), st.integers(), st.floats(), st.booleans()), st.sampled_from(["in", "mm"])
)
@settings(derandomize=True, max_examples=500, deadline=None)
def test_any_text_or_number_gives_a_bounded_length_or_bad_input(value: str | float, unit: Unit) -> None:
    try:
        said = parse(value, unit=unit)
    except BadInput:
        return
    assert abs(said.value) <= 120_000
    assert said.spread >= 0
