"""Limits at a door, risers, notches and the table of limits; see tests/published/heights.toml too."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.errors import OutOfRange
from sillwright.heights import even_risers, guard_needed, limits, most_drop, notch_faults
from sillwright.heights.limits import lower_row


@given(st.floats(0.0, 500.0))
def test_risers_are_as_few_as_the_limit_allows(rise: float) -> None:
    count, riser = even_risers(rise)
    assert count * riser == pytest.approx(rise)
    assert riser <= 7.75 + 1e-8
    assert count == 1 or rise / (count - 1) > 7.75


def test_a_rise_that_goes_down_is_refused() -> None:
    with pytest.raises(OutOfRange, match="goes down"):
        even_risers(-1.0)


@given(st.booleans(), st.sampled_from(["inside", "outside"]), st.booleans())
def test_the_required_egress_door_is_never_allowed_more(egress: bool, side: str, over: bool) -> None:
    strict = most_drop(egress=True, side=side, swings_over=over)  # type: ignore[arg-type]
    other = most_drop(egress=egress, side=side, swings_over=over)  # type: ignore[arg-type]
    assert strict.value <= other.value


@given(st.lists(st.tuples(st.floats(0, 60), st.floats(0, 40)), min_size=1, max_size=4), st.floats(0, 10))
def test_a_deeper_drop_never_does_without_the_guard(places: list[tuple[float, float]], deeper: float) -> None:
    profile = tuple(sorted(places))
    if guard_needed(profile):
        assert guard_needed(tuple((out, drop + deeper) for out, drop in profile))


def test_every_limit_has_a_value_a_unit_and_a_source() -> None:
    for limit in limits().values():
        assert limit.value > 0
        assert limit.unit
        assert limit.source


def test_what_was_not_read_says_so() -> None:
    assert limits()["stair.spread"].source == "IRC 2018, R311.7.5.1 (from memory)"
    assert limits()["stair.riser"].source == "IRC 2018, R311.7.5.1"
    assert limits()["step_down_least"].source == "common practice, no source"


@pytest.mark.parametrize(
    ("depth", "row"), [(7.25, 5.5), (7.244, 5.5), (7.375, 5.5), (9.25, 6.5), (11.25, 7.5)]
)
def test_a_board_is_known_by_its_size_wet_or_dry(depth: float, row: float) -> None:
    assert lower_row(depth, lags=False).value == row


@pytest.mark.parametrize("depth", [5.5, 7.4, 7.48, 10.0, 13.25])
def test_no_row_is_made_up_between_or_beyond_those_of_the_table(depth: float) -> None:
    with pytest.raises(OutOfRange, match="needs an engineer"):
        lower_row(depth, lags=True)


@pytest.mark.parametrize(
    ("notch", "faults"),
    [
        ({"depth": 1.5, "length": 3.0, "at_end": False}, ()),
        ({"depth": 1.625, "length": 3.0, "at_end": False}, ("notch_elsewhere",)),
        ({"depth": 1.5, "length": 3.25, "at_end": False}, ("notch_length",)),
        ({"depth": 2.25, "length": 9.0, "at_end": True}, ()),
        ({"depth": 2.375, "length": 1.0, "at_end": True}, ("notch_at_end",)),
    ],
)
def test_notches_in_a_2x10_joist(notch: dict[str, float], faults: tuple[str, ...]) -> None:
    assert notch_faults(joist_depth=9.25, **notch) == faults  # type: ignore[arg-type]
