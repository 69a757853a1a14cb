"""The chance that all of several quantities lie above their limits, also where they depend on each other."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.special import ndtr
from scipy.stats import multivariate_normal, norm

from sillwright.errors import OutOfRange
from sillwright.survey.adjust import Array
from sillwright.survey.orthant import MOST, probabilities_all_above, probability_all_above

PROMISED = 1e-4
"""Error allowed above 0.98; elsewhere a plan is told to whole percents."""
ELSEWHERE = 4e-3


def _allowed(chance: float) -> float:
    return PROMISED if chance > 0.98 else ELSEWHERE


def _correlated(seed: int, m: int, rank: int) -> Array:
    root = np.random.default_rng(seed).normal(size=(m, rank))
    return np.asarray(root @ root.T)


def _differences() -> Array:
    """Nine clearances a_i - b_j of three places a and three places b, as rows over (a, b)."""
    rows = [np.eye(6)[i] - np.eye(6)[3 + j] for i in range(3) for j in range(3)]
    return np.array(rows)


@pytest.mark.parametrize("m", [1, 2, 3, 5, 9, 15])
@pytest.mark.parametrize("reach", [0.0, 1.0, 2.0, 3.0])
def test_independent_quantities_multiply_their_chances(m: int, reach: float) -> None:
    found = probability_all_above(np.zeros(m), np.eye(m), np.full(m, -reach))
    wanted = float(ndtr(reach)) ** m
    assert found == pytest.approx(wanted, abs=_allowed(wanted))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("reach", [0.5, 2.0, 3.0])
def test_correlated_quantities_agree_with_the_reference_library(seed: int, reach: float) -> None:
    m = 2 + seed % 6
    covariance = _correlated(seed, m, m + 1)
    mean = np.random.default_rng(100 + seed).normal(size=m)
    limit = mean - reach * np.sqrt(np.diag(covariance))
    rng = np.random.default_rng(seed)
    wanted = float(
        multivariate_normal.cdf(mean - limit, np.zeros(m), covariance, maxpts=200_000, abseps=3e-5, rng=rng)
    )
    assert probability_all_above(mean, covariance, limit) == pytest.approx(
        wanted, abs=_allowed(wanted) + 2e-5
    )


@pytest.mark.parametrize("clearance", [0.0, 1.0, 3.0, 4.0, 5.0, 6.0])
def test_nine_clearances_of_six_places_agree_with_the_exact_integral(clearance: float) -> None:
    # all a_i - b_j > -c is min a > max b - c: one integral over the largest b
    rows = _differences()
    found = probability_all_above(np.zeros(9), rows @ rows.T, np.full(9, -clearance))
    wanted, _ = quad(lambda y: 3 * norm.pdf(y) * norm.cdf(y) ** 2 * norm.sf(y - clearance) ** 3, -10, 10)
    assert found == pytest.approx(wanted, abs=_allowed(wanted))


def test_three_places_all_above_three_others_have_one_chance_in_twenty() -> None:
    # 3! 3! / 6! of the orders of six like places
    rows = _differences()
    assert probability_all_above(np.zeros(9), rows @ rows.T, np.zeros(9)) == pytest.approx(
        0.05, abs=ELSEWHERE
    )


def test_six_places_in_one_given_order_have_one_chance_in_720() -> None:
    rows = np.array([np.eye(6)[i] - np.eye(6)[j] for i in range(6) for j in range(i + 1, 6)])
    found = probability_all_above(np.zeros(15), rows @ rows.T, np.zeros(15))
    assert found == pytest.approx(1.0 / 720.0, abs=PROMISED)


@pytest.mark.parametrize(
    ("rows", "chance"),
    [
        ([[1, 0], [0, 1], [1, 1]], 1 / 4),  # the third follows from the first two
        ([[1, 0], [0, 1], [1, -1]], 1 / 8),  # the third halves the quarter
        ([[1, 0], [1, 0]], 1 / 2),  # the same twice
        ([[1, 0], [-1, 0]], 0.0),  # a thing and its opposite
        ([[2, 0], [0, 3], [-1, -1]], 0.0),
    ],
)
def test_dependent_quantities_keep_exact_chances(rows: list[list[int]], chance: float) -> None:
    root = np.array(rows, dtype=float)
    m = len(root)
    assert probability_all_above(np.zeros(m), root @ root.T, np.zeros(m)) == pytest.approx(chance, abs=1e-3)


@given(st.floats(-3.0, 3.0), st.floats(0.01, 3.0))
def test_a_quantity_and_its_opposite_make_an_interval(low: float, width: float) -> None:
    high = low + width
    covariance = np.array([[1.0, -1.0], [-1.0, 1.0]])
    found = probability_all_above(np.zeros(2), covariance, np.array([low, -high]))
    assert found == pytest.approx(float(ndtr(high) - ndtr(low)), abs=1e-3)


@given(st.integers(0, 50), st.floats(0.2, 4.0), st.sampled_from([1.0 / 12.0, 25.4]))
@settings(max_examples=30)
def test_the_unit_of_length_does_not_matter(seed: int, reach: float, factor: float) -> None:
    covariance, mean = _correlated(seed, 5, 3), np.arange(5.0)
    limit = mean - reach * np.sqrt(np.diag(covariance))
    here = probability_all_above(mean, covariance, limit)
    there = probability_all_above(mean * factor, covariance * factor**2, limit * factor)
    assert there == pytest.approx(here, abs=2.0 * _allowed(here))


@given(st.integers(0, 50), st.floats(1.0, 4.0), st.permutations(range(6)))
@settings(max_examples=30)
def test_the_order_of_quantities_does_not_matter(seed: int, reach: float, order: list[int]) -> None:
    covariance = _correlated(seed, 6, 4)
    limit = -reach * np.sqrt(np.diag(covariance)) * np.linspace(0.8, 1.3, 6)
    here = probability_all_above(np.zeros(6), covariance, limit)
    there = probability_all_above(np.zeros(6), covariance[np.ix_(order, order)], limit[order])
    assert there == pytest.approx(here, abs=2.0 * _allowed(here))


@given(st.integers(0, 50), st.integers(0, 5), st.floats(0.05, 1.0))
@settings(max_examples=30)
def test_asking_for_more_clearance_never_makes_it_likelier(seed: int, which: int, more: float) -> None:
    covariance = _correlated(seed, 6, 4)
    sd = np.sqrt(np.diag(covariance))
    limit = -2.5 * sd
    tighter = limit.copy()
    tighter[which] += more * sd[which]
    easy, hard = probabilities_all_above(np.zeros(6), covariance, np.array([limit, tighter]))
    assert hard <= easy + 2.0 * _allowed(hard)


@given(st.integers(0, 50), st.floats(0.5, 4.0))
@settings(max_examples=30)
def test_the_chance_lies_between_the_bounds_of_boole_and_of_the_least_likely(seed: int, reach: float) -> None:
    covariance = _correlated(seed, 8, 4)
    limit = -reach * np.sqrt(np.diag(covariance)) * np.linspace(0.9, 1.2, 8)
    single = ndtr(-limit / np.sqrt(np.diag(covariance)))
    found = probability_all_above(np.zeros(8), covariance, limit)
    assert 1.0 - float(np.sum(1.0 - single)) - 1e-9 <= found <= float(single.min()) + _allowed(found)


def test_the_same_question_has_the_same_answer() -> None:
    covariance, limits = _correlated(3, 9, 6), np.linspace(-9.0, 1.0, 45).reshape(5, 9)
    first = probabilities_all_above(np.zeros(9), covariance, limits)
    singly = [probability_all_above(np.zeros(9), covariance, limit) for limit in limits]
    assert first.tolist() == singly


def test_a_quantity_known_exactly_holds_or_does_not() -> None:
    covariance = np.diag([1.0, 0.0])
    mean = np.array([0.0, 0.25])
    assert probability_all_above(mean, covariance, np.array([0.0, 0.25])) == pytest.approx(0.5, abs=PROMISED)
    assert probability_all_above(mean, covariance, np.array([0.0, 0.26])) == 0.0
    assert probability_all_above(mean, np.zeros((2, 2)), mean) == 1.0


def test_a_limit_of_minus_infinity_asks_nothing_and_one_of_infinity_cannot_be_met() -> None:
    covariance, none = _correlated(1, 3, 3), np.full(3, -np.inf)
    assert probability_all_above(np.zeros(3), covariance, none) == 1.0
    alone = probability_all_above(np.zeros(3), covariance, np.array([-np.inf, 0.0, -np.inf]))
    assert alone == pytest.approx(0.5, abs=PROMISED)
    assert probability_all_above(np.zeros(3), covariance, np.array([-9.0, np.inf, -9.0])) == 0.0


@pytest.mark.parametrize("reach", [8.0, 40.0, 1e6])
def test_far_limits_are_sure(reach: float) -> None:
    covariance = _correlated(2, 6, 4)
    limit = reach * np.sqrt(np.diag(covariance))
    assert probability_all_above(np.zeros(6), covariance, -limit) == pytest.approx(1.0, abs=1e-12)
    assert probability_all_above(np.zeros(6), covariance, limit) == pytest.approx(0.0, abs=1e-12)


def test_sixty_quantities_can_be_judged_together() -> None:
    covariance = 0.5 + 0.5 * np.eye(MOST)
    found = probability_all_above(np.zeros(MOST), covariance, np.full(MOST, -3.0))
    # one shared and one own part each: an integral over the shared one
    wanted, _ = quad(lambda t: norm.pdf(t) * norm.cdf(3.0 * math.sqrt(2.0) + t) ** MOST, -9, 9)
    assert found == pytest.approx(wanted, abs=1e-3)


REFUSED = {
    "a limit too few": (np.zeros(2), np.eye(2), np.zeros(1)),
    "a covariance of another size": (np.zeros(2), np.eye(3), np.zeros(2)),
    "a negative variance": (np.zeros(2), np.diag([1.0, -1.0]), np.zeros(2)),
    "a mean that is no number": (np.array([0.0, np.nan]), np.eye(2), np.zeros(2)),
    "a limit that is no number": (np.zeros(2), np.eye(2), np.array([0.0, np.nan])),
    "an infinite variance": (np.zeros(2), np.diag([1.0, np.inf]), np.zeros(2)),
    "too many quantities": (np.zeros(MOST + 1), np.eye(MOST + 1), np.zeros(MOST + 1)),
}


@pytest.mark.parametrize(("mean", "covariance", "limit"), REFUSED.values(), ids=REFUSED.keys())
def test_a_question_that_makes_no_sense_is_refused(mean: Array, covariance: Array, limit: Array) -> None:
    with pytest.raises(OutOfRange):
        probability_all_above(mean, covariance, limit)
