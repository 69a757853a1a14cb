"""The page of checks is complete and up to date, and a check cannot pass by comparing nothing."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.published import table
from tests.published.checks import HERE, Check, half_unit, load


def _check(**changed: object) -> Check:
    row: dict[str, object] = {
        "subject": "s",
        "source": "a book",
        "where": "p. 1",
        "kind": "handbook",
        "given": {},
    }
    row |= {"expect": {"x": 1.25}, "tol": "half of the last printed digit"} | changed
    return Check(**row)  # type: ignore[arg-type]


def test_the_page_of_checks_is_up_to_date() -> None:
    assert table.PAGE.read_text() == table.page(), "stale: run python -m tests.published.table"


def test_every_subject_is_tested_somewhere() -> None:
    texts = [path.read_text() for path in HERE.parent.rglob("test_*.py") if path != Path(__file__)]
    for subject in table.subjects():
        named = (f'"{subject}"', f"{subject}.toml", f"published.{subject} ")
        assert any(name in text for text in texts for name in named), f"nothing tests {subject}.toml"


@pytest.mark.parametrize("subject", sorted(path.stem for path in HERE.glob("*.toml")))
def test_no_check_of_a_subject_stands_there_twice(subject: str) -> None:
    ids = [f"{check.id}: {check.given}" for check in load(subject)]
    assert len(ids) == len(set(ids)), sorted(i for i in set(ids) if ids.count(i) > 1)


@pytest.mark.parametrize(
    ("printed", "half"),
    [("4.10", 0.005), (3.2905, 0.00005), (32, 0.5), ("1.5e3", 50.0), ("2.35E-06", 5e-9), ("-0.02", 0.005)],
)
def test_half_of_the_last_printed_digit_is_read_from_the_number_as_written(
    printed: object, half: float
) -> None:
    assert half_unit(printed) == pytest.approx(half, rel=1e-12)


@pytest.mark.parametrize("found", [{"x": 1.25}, {"x": 1.2549}, {"x": 1.245}])
def test_a_value_within_half_a_digit_agrees(found: dict[str, float]) -> None:
    _check().compare(found)


@pytest.mark.parametrize(
    "found", [{"x": 1.256}, {"x": 1.244}, {"x": float("nan")}, {"x": None}, {"y": 1.25}, {}]
)
def test_a_value_that_is_off_or_missing_fails(found: dict[str, float]) -> None:
    with pytest.raises(AssertionError, match=r"a book, p\. 1"):
        _check().compare(found)


def test_the_number_of_digits_is_a_relative_tolerance() -> None:
    check = _check(expect={"x": 2000.0}, tol="3 digits")
    check.compare({"x": 2001.9})
    with pytest.raises(AssertionError):
        check.compare({"x": 2002.1})


@pytest.mark.parametrize("found", ["right", True, 1])
def test_an_exact_answer_in_words_must_be_the_same(found: object) -> None:
    check = _check(expect={"x": "left"}, tol="exact")
    check.compare({"x": "left"})
    with pytest.raises(AssertionError):
        check.compare({"x": found})


@pytest.mark.parametrize("changed", [{"kind": "hearsay"}, {"tol": "near enough"}, {"expect": {}}])
def test_a_row_of_unknown_kind_or_tolerance_or_without_values_is_refused(changed: dict[str, object]) -> None:
    with pytest.raises(ValueError, match=r"s, p\. 1"):
        _check(**changed)
