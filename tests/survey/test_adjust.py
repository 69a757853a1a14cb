"""Laws of the adjustment. Values from outside are in tests/published."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import least_squares

from sillwright.errors import NotDetermined, OutOfRange
from sillwright.survey.adjust import Adjustment, Array, Model, adjust, adjust_linear

Net = tuple[Array, Array, Array]  # design, observed, sd

LEVEL_LOOP = np.array([[1.0, 0, 0], [-1, 1, 0], [0, -1, 1], [0, 0, -1], [0, 1, 0]])
"""Five differences from a benchmark over three points and back, with one cross line."""


@st.composite
def nets(draw: st.DrawFn, *, spare: int = 1) -> Net:
    """Draw a linear net of 1 to 4 unknowns with at least `spare` readings more than that."""
    u = draw(st.integers(1, 4))
    n = draw(st.integers(u + spare, u + 5))
    step = st.integers(-3, 3).map(float)
    design = np.array(draw(st.lists(st.lists(step, min_size=u, max_size=u), min_size=n, max_size=n)))
    assume(float(np.linalg.svd(design, compute_uv=False)[-1]) > 0.3)
    length = st.floats(-100.0, 100.0).map(lambda v: round(v, 3))
    observed = np.array(draw(st.lists(length, min_size=n, max_size=n)))
    sd = np.array(draw(st.lists(st.floats(0.02, 0.2), min_size=n, max_size=n)))
    return design, observed, sd


def _solve(net: Net) -> Adjustment:
    design, observed, sd = net
    return adjust_linear(design, observed, sd=sd)


def _close(found: NDArray[Any], wanted: NDArray[Any], *, size: float = 1.0) -> None:
    np.testing.assert_allclose(found, wanted, rtol=1e-7, atol=1e-7 * size)


def _distances(fixed: Array) -> Model:
    """Distances from fixed points (n, 2) to one unknown point."""

    def model(x: Array) -> tuple[Array, Array]:
        away = x - fixed
        length = np.linalg.norm(away, axis=1)
        return length, away / length[:, None]

    return model


def test_the_adjusted_value_of_like_readings_is_their_mean() -> None:
    # GUM (JCGM 100:2008) 4.2.3: the mean of n readings has the standard deviation sigma / sqrt(n)
    observed = np.array([36.25, 36.3125, 36.1875, 36.375])
    result = adjust_linear(np.ones((4, 1)), observed, sd=np.full(4, 0.06))
    assert result.x[0] == pytest.approx(36.28125, abs=1e-12)
    assert result.sd()[0] == pytest.approx(0.03, rel=1e-12)
    _close(result.redundancy, np.full(4, 0.75))
    assert result.s0 * 0.06 == pytest.approx(np.std(observed, ddof=1), rel=1e-9)


def test_a_residual_is_adjusted_minus_observed() -> None:
    result = adjust_linear(np.ones((2, 1)), np.array([1.0, 2.0]), sd=np.ones(2))
    _close(result.residual, np.array([0.5, -0.5]))


def test_a_better_reading_pulls_harder() -> None:
    # weights 1 / sigma^2: 4 to 1
    result = adjust_linear(np.ones((2, 1)), np.array([0.0, 1.0]), sd=np.array([0.5, 1.0]))
    assert result.x[0] == pytest.approx(0.2, abs=1e-12)


@given(nets())
def test_a_linear_net_agrees_with_the_reference_library(net: Net) -> None:
    design, observed, sd = net
    result = _solve(net)
    wanted, *_ = np.linalg.lstsq(design / sd[:, None], observed / sd, rcond=None)
    _close(result.x, wanted, size=100.0)
    _close(result.cofactor, np.linalg.inv((design.T / sd**2) @ design))


@given(nets())
def test_residuals_are_square_to_every_unknown(net: Net) -> None:
    # normal equations: A'Pv = 0
    design, _, sd = net
    pull = design.T @ (_solve(net).residual / sd**2)
    np.testing.assert_allclose(pull, 0.0, atol=1e-7 * float(np.sum(1.0 / sd**2)))


@given(nets(spare=0))
def test_redundancy_numbers_lie_between_0_and_1_and_sum_to_the_degrees_of_freedom(net: Net) -> None:
    result = _solve(net)
    assert result.redundancy.min() >= 0.0
    assert result.redundancy.max() <= 1.0
    assert result.redundancy.sum() == pytest.approx(result.dof, abs=1e-9)
    assert result.dof == len(net[1]) - net[0].shape[1]


@given(nets(spare=0), st.lists(st.integers(-3, 3), min_size=4, max_size=4), st.floats(0.02, 0.5))
def test_one_more_reading_never_makes_an_unknown_less_certain(
    net: Net, row: list[int], row_sd: float
) -> None:
    design, observed, sd = net
    before = _solve(net)
    extra = np.array(row[: design.shape[1]], dtype=float)
    more = np.append(observed, extra @ before.x)  # consistent with the rest
    after = adjust_linear(np.vstack([design, extra]), more, sd=np.append(sd, row_sd))
    assert np.all(after.sd() <= before.sd() * (1.0 + 1e-9))
    _close(after.x, before.x, size=100.0)
    assert after.vtpv == pytest.approx(before.vtpv, rel=1e-6, abs=1e-6)


@given(nets(), st.sampled_from([1.0 / 12.0, 25.4, 1e3]))
def test_the_unit_of_length_does_not_matter(net: Net, factor: float) -> None:
    design, observed, sd = net
    inches, other = _solve(net), adjust_linear(design, observed * factor, sd=sd * factor)
    _close(other.x / factor, inches.x, size=100.0)
    _close(other.sd() / factor, inches.sd())
    _close(other.redundancy, inches.redundancy)
    assert other.vtpv == pytest.approx(inches.vtpv, rel=1e-6, abs=1e-6)


@given(nets(), st.sampled_from([0.25, 3.0, 10.0]))
def test_doubting_all_readings_alike_changes_no_geometry(net: Net, factor: float) -> None:
    design, observed, sd = net
    sure, doubtful = _solve(net), adjust_linear(design, observed, sd=sd * factor)
    _close(doubtful.x, sure.x, size=100.0)
    _close(doubtful.sd(), sure.sd() * factor)
    _close(doubtful.sd(posterior=True), sure.sd(posterior=True), size=10.0)


@given(nets(), st.lists(st.floats(-50.0, 50.0), min_size=4, max_size=4))
def test_moving_the_origin_moves_the_unknowns_and_nothing_else(net: Net, shift: list[float]) -> None:
    design, observed, sd = net
    move = np.array(shift[: design.shape[1]])
    here, there = _solve(net), adjust_linear(design, observed + design @ move, sd=sd)
    _close(there.x, here.x + move, size=100.0)
    _close(there.residual, here.residual, size=100.0)
    _close(there.cofactor, here.cofactor)


@given(nets(), st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter(net: Net, random: object) -> None:
    order = list(range(len(net[1])))
    random.shuffle(order)  # type: ignore[attr-defined]
    here, there = _solve(net), _solve((net[0][order], net[1][order], net[2][order]))
    _close(there.x, here.x, size=100.0)
    _close(there.cofactor, here.cofactor)
    _close(there.residual, here.residual[order], size=100.0)
    _close(there.redundancy, here.redundancy[order])


@given(nets(), st.data())
def test_a_planted_error_shows_by_its_redundancy_number(net: Net, data: st.DataObject) -> None:
    # dv_i = -r_i e and dw_i = -e sqrt(r_i) / sigma_i (Baarda 1968)
    design, observed, sd = net
    i = data.draw(st.integers(0, len(observed) - 1))
    error = np.zeros(len(observed))
    error[i] = data.draw(st.sampled_from([-2.0, 0.5, 1.0]))
    clean, wrong = _solve(net), adjust_linear(design, observed + error, sd=sd)
    r = clean.redundancy[i]
    _close(wrong.residual[i] - clean.residual[i], -r * error[i], size=100.0)
    if r > 1e-3:
        shift = wrong.standardised[i] - clean.standardised[i]
        assert shift == pytest.approx(-error[i] * np.sqrt(r) / sd[i], rel=1e-5, abs=1e-4)


@given(nets(), st.data())
def test_a_reading_taken_as_two_of_half_the_weight_changes_nothing(net: Net, data: st.DataObject) -> None:
    design, observed, sd = net
    i = data.draw(st.integers(0, len(observed) - 1))
    doubled = sd.copy()
    doubled[i] *= np.sqrt(2.0)
    once = _solve(net)
    rows = [*range(len(observed)), i]
    twice = adjust_linear(design[rows], observed[rows], sd=doubled[rows])
    _close(twice.x, once.x, size=100.0)
    _close(twice.cofactor, once.cofactor)


@given(st.lists(st.floats(-2.0, 2.0), min_size=5, max_size=5))
def test_residuals_of_a_free_net_do_not_depend_on_its_datum(errors: list[float]) -> None:
    design = np.column_stack([np.array([-1.0, 0, 0, 1, -1]), LEVEL_LOOP])  # the benchmark is free as well
    observed = design @ np.array([0.0, 3.0, 5.0, 4.0]) + np.array(errors)
    sd = np.array([0.5, 1.0, 1.0, 2.0, 1.0])
    fixed = adjust_linear(LEVEL_LOOP, observed, sd=sd)
    for weight in ([1.0, 1, 1, 1], [1.0, 0, 0, 0], [0.0, 1, 1, 0]):
        free = adjust_linear(design, observed, sd=sd, datum=np.array([weight]))
        assert free.dof == fixed.dof
        _close(free.residual, fixed.residual, size=10.0)
        assert np.dot(weight, free.x) == pytest.approx(0.0, abs=1e-9)


def test_a_free_net_has_the_redundancy_numbers_of_the_fixed_one() -> None:
    design = np.column_stack([np.array([-1.0, 0, 0, 1, -1]), LEVEL_LOOP])
    sd = np.array([0.5, 1.0, 1.0, 2.0, 1.0])
    fixed = adjust_linear(LEVEL_LOOP, np.zeros(5), sd=sd)
    free = adjust_linear(design, np.zeros(5), sd=sd, datum=np.ones((1, 4)))
    _close(free.redundancy, fixed.redundancy)
    # all four heights share the doubt evenly: the constrained sum has none
    assert np.ones(4) @ free.cofactor @ np.ones(4) == pytest.approx(0.0, abs=1e-9)


@given(st.floats(-30.0, 30.0), st.floats(20.0, 60.0), st.lists(st.floats(-0.1, 0.1), min_size=4, max_size=4))
def test_a_point_from_distances_agrees_with_the_reference_library(
    x: float, y: float, errors: list[float]
) -> None:
    fixed = np.array([[-50.0, 0.0], [50.0, 0.0], [0.0, -10.0], [60.0, 90.0]])
    model, sd = _distances(fixed), np.full(4, 0.05)
    observed = model(np.array([x, y]))[0] + np.array(errors)
    result = adjust(model, observed, sd=sd, start=np.array([5.0, 30.0]))

    def misfit(place: Array) -> Array:
        return np.asarray((model(place)[0] - observed) / sd)

    wanted = least_squares(misfit, [x, y], xtol=1e-15, ftol=1e-15, gtol=1e-12)
    np.testing.assert_allclose(result.x, wanted.x, atol=1e-6)
    assert result.redundancy.sum() == pytest.approx(2.0, abs=1e-9)


@given(st.floats(0.0, 6.2), st.floats(-1e4, 1e4))
def test_turning_and_moving_a_net_turns_and_moves_its_answer(angle: float, shift: float) -> None:
    fixed = np.array([[-50.0, 0.0], [50.0, 0.0], [0.0, -10.0], [60.0, 90.0]])
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    observed, sd = np.array([64.1, 58.3, 50.2, 72.9]), np.full(4, 0.05)
    here = adjust(_distances(fixed), observed, sd=sd, start=np.array([5.0, 30.0]))
    start = turn @ np.array([5.0, 30.0]) + shift
    there = adjust(_distances(fixed @ turn.T + shift), observed, sd=sd, start=start)
    np.testing.assert_allclose(there.x, turn @ here.x + shift, atol=1e-6)
    np.testing.assert_allclose(there.cofactor, turn @ here.cofactor @ turn.T, atol=1e-8)
    np.testing.assert_allclose(there.residual, here.residual, atol=1e-6)


def test_a_reading_that_nothing_checks_has_no_standardised_residual() -> None:
    design = np.array([[1.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
    result = adjust_linear(design, np.array([1.0, 1.5, 7.0]), sd=np.ones(3))
    assert result.redundancy[2] == pytest.approx(0.0, abs=1e-12)
    assert np.isnan(result.standardised).tolist() == [False, False, True]


def test_without_spare_readings_there_is_no_s0() -> None:
    result = adjust_linear(np.eye(2), np.array([1.0, 2.0]), sd=np.full(2, 0.1))
    assert result.dof == 0
    assert np.isnan(result.s0)
    _close(result.sd(), np.full(2, 0.1))


SINGULAR = {
    "an unknown in no reading": np.array([[1.0, 0.0], [1.0, 0.0], [2.0, 0.0]]),
    "fewer readings than unknowns": np.array([[1.0, 1.0, 0.0], [0.0, 1.0, 2.0]]),
    "unknowns that only occur together": np.array([[1.0, 1.0], [2.0, 2.0], [3.0, 3.0]]),
    "a level net without a benchmark": np.array([[-1.0, 1, 0], [0, -1, 1], [1, 0, -1], [1, -1, 0]]),
}


@pytest.mark.parametrize("design", SINGULAR.values(), ids=SINGULAR.keys())
def test_readings_that_do_not_fix_every_unknown_are_refused(design: Array) -> None:
    with pytest.raises(NotDetermined):
        adjust_linear(design, np.arange(float(len(design))), sd=np.ones(len(design)))


def test_a_point_whose_distances_run_along_one_line_is_not_determined() -> None:
    fixed = np.array([[-10.0, 0.0], [10.0, 0.0], [30.0, 0.0]])
    with pytest.raises(NotDetermined):
        adjust(_distances(fixed), np.array([12.0, 8.0, 28.0]), sd=np.ones(3), start=np.array([2.0, 0.0]))


def test_a_reading_that_no_unknown_can_meet_does_not_settle() -> None:
    # a cosine of 2: the best is at the crest, where the slope that would fix the unknown is 0
    with pytest.raises(NotDetermined, match="did not settle"):
        adjust(lambda x: (np.cos(x), -np.diag(np.sin(x))), np.array([2.0]), sd=np.ones(1), start=np.ones(1))


def test_readings_that_agree_exactly_settle() -> None:
    # all of v'Pv is rounding here
    design = np.array([[0.0, 0, 0], [0, 0, 2], [1, 0, 1], [1, 1, 0], [3, 0, 0]])
    true = np.array([0.04850935390203233, 0.1, -0.3])
    result = adjust_linear(design, design @ true, sd=np.array([0.125, 0.125, 0.125, 0.125, 0.0625]))
    _close(result.x, true)
    assert result.vtpv < 1e-20


@pytest.mark.parametrize("bad", [0.0, -0.1, float("nan"), float("inf")])
def test_a_standard_deviation_that_is_not_positive_and_finite_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="standard deviation"):
        adjust_linear(np.ones((2, 1)), np.zeros(2), sd=np.array([1.0, bad]))


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_a_reading_or_approximate_value_that_is_not_finite_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="not a finite number"):
        adjust_linear(np.ones((2, 1)), np.array([1.0, bad]), sd=np.ones(2))
    with pytest.raises(OutOfRange, match="not a finite number"):
        adjust(_distances(np.eye(2)), np.ones(2), sd=np.ones(2), start=np.array([0.0, bad]))
