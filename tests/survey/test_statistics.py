"""Tests on residuals and uncertainties against the reference library, their laws and their limits."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from sillwright.errors import NotDetermined, OutOfRange
from sillwright.survey.statistics import (
    chi2_limit,
    chi2_tail,
    combine,
    critical_w,
    estimated_error,
    family_alpha,
    global_test,
    minimal_detectable,
    noncentrality,
    rounding_sd,
    tape_mpe,
    tau_limit,
    welch_satterthwaite,
)

shares = st.floats(1e-6, 0.999)
lengths = st.floats(0.0, 600.0)
OUTSIDE = [0.0, 1.0, -0.1, 1.5, float("nan")]


@given(shares)
def test_the_critical_value_is_the_two_sided_normal_quantile(alpha: float) -> None:
    assert critical_w(alpha) == pytest.approx(stats.norm.isf(alpha / 2.0), rel=1e-9, abs=1e-12)


@given(st.floats(1e-4, 0.05), st.floats(0.5, 0.99))
def test_an_error_of_delta0_is_found_with_the_stated_power(alpha: float, power: float) -> None:
    # leaves out the far tail, so never promises more than it finds
    found = stats.norm.sf(critical_w(alpha) - noncentrality(alpha, power))
    assert found == pytest.approx(power, rel=1e-9)


@given(shares, st.integers(1, 60))
def test_the_alphas_of_a_family_make_up_its_alpha(alpha: float, n: int) -> None:
    each = family_alpha(alpha, n)
    assert 1.0 - (1.0 - each) ** n == pytest.approx(alpha, rel=1e-8)
    assert alpha / n <= each * (1.0 + 1e-12) <= alpha * (1.0 + 1e-9)


@given(st.integers(1, 200), shares)
def test_chi_square_agrees_with_the_reference_library(dof: int, probability: float) -> None:
    limit = chi2_limit(dof, probability)
    assert limit == pytest.approx(stats.chi2.ppf(probability, dof), rel=1e-9)
    assert chi2_tail(limit, dof) == pytest.approx(1.0 - probability, rel=1e-8)


@given(st.integers(2, 200), st.floats(1e-5, 0.5))
def test_tau_agrees_with_its_formula_from_the_t_of_the_reference_library(dof: int, alpha: float) -> None:
    t = stats.t.isf(alpha / 2.0, dof - 1)
    wanted = t * math.sqrt(dof) / math.sqrt(dof - 1 + t**2)
    assert tau_limit(dof, alpha) == pytest.approx(wanted, rel=1e-8)
    assert tau_limit(dof, alpha) <= math.sqrt(dof)


def test_tau_nears_the_normal_limit_with_many_readings() -> None:
    assert tau_limit(100_000) == pytest.approx(critical_w(), abs=1e-3)
    assert tau_limit(5) < tau_limit(50)


@given(st.floats(1e-3, 1.0), st.floats(1e-3, 1.0))
def test_a_better_checked_reading_hides_a_smaller_error(sd: float, redundancy: float) -> None:
    bound = float(minimal_detectable(sd, redundancy))
    assert bound == pytest.approx(noncentrality() * sd / math.sqrt(redundancy), rel=1e-12)
    assert bound >= float(minimal_detectable(sd, 1.0)) * (1.0 - 1e-12)
    assert float(minimal_detectable(sd, redundancy, power=0.95)) > bound


def test_where_nothing_checks_a_reading_any_error_hides_and_none_is_estimated() -> None:
    assert minimal_detectable([0.1, 0.1], [0.0, 0.5]).tolist()[0] == math.inf
    assert np.isnan(estimated_error([0.0, 0.2], [0.0, 0.5])).tolist() == [True, False]


def test_a_reading_too_long_is_estimated_as_too_long() -> None:
    # observed minus true = -v / r: a reading 1 in too long of which a quarter shows
    assert float(estimated_error(-0.25, 0.25)) == 1.0


@given(st.floats(0.0, 60.0), st.integers(1, 20), st.floats(0.5, 0.999))
def test_the_global_test_passes_exactly_up_to_its_limit(vtpv: float, dof: int, probability: float) -> None:
    test = global_test(vtpv, dof, probability=probability)
    assert test.passed == (vtpv <= stats.chi2.ppf(probability, dof))
    assert test.tail == pytest.approx(stats.chi2.sf(vtpv, dof), rel=1e-9, abs=1e-15)
    assert (test.statistic, test.dof) == (vtpv, dof)


def test_without_redundancy_there_is_no_global_test() -> None:
    with pytest.raises(NotDetermined, match="no reading checks another"):
        global_test(0.0, 0)


@given(lengths, lengths, st.sampled_from(["I", "II", "III"]))
def test_a_longer_tape_reading_is_never_more_certain(one: float, other: float, mid_class: str) -> None:
    short, long = sorted((one, other))
    assert tape_mpe(short, mid_class=mid_class) <= tape_mpe(long, mid_class=mid_class)
    assert tape_mpe(short, mid_class=mid_class) < tape_mpe(short, mid_class=mid_class, from_hook=True)


@given(lengths)
def test_a_lower_tape_class_is_worse(length: float) -> None:
    assert tape_mpe(length, mid_class="I") < tape_mpe(length) < tape_mpe(length, mid_class="III")


@pytest.mark.parametrize("metres", range(1, 16))
def test_whole_metres_given_in_inches_are_not_rounded_up(metres: int) -> None:
    assert tape_mpe(metres * 1000.0 / 25.4) * 25.4 == pytest.approx(0.3 + 0.2 * metres, rel=1e-12)
    assert tape_mpe(metres * 1000.0 / 25.4 + 1e-3) * 25.4 == pytest.approx(0.5 + 0.2 * metres, rel=1e-12)


@given(st.floats(1e-3, 1.0))
def test_a_reading_to_the_nearest_graduation_is_spread_like_a_rectangle(graduation: float) -> None:
    wanted = stats.uniform.std(loc=-graduation / 2.0, scale=graduation)
    assert rounding_sd(graduation) == pytest.approx(wanted, rel=1e-9)


def test_components_combine_by_their_squares() -> None:
    assert combine(3.0, 4.0) == 5.0
    assert combine(0.02) == 0.02


@given(st.integers(1, 10), st.floats(0.1, 5.0), st.integers(1, 50))
def test_like_components_pool_their_degrees_of_freedom(n: int, u: float, dof: int) -> None:
    assert welch_satterthwaite([u] * n, [dof] * n) == pytest.approx(n * dof, rel=1e-9)


@given(st.lists(st.tuples(st.floats(0.01, 5.0), st.integers(1, 50)), min_size=1, max_size=6))
def test_effective_degrees_of_freedom_lie_between_the_least_and_the_sum(
    rows: list[tuple[float, int]],
) -> None:
    components, dof = zip(*rows, strict=True)
    assert min(dof) * (1.0 - 1e-9) <= welch_satterthwaite(components, dof) <= sum(dof) * (1.0 + 1e-9)


def test_components_taken_as_exact_leave_the_degrees_of_freedom_without_limit() -> None:
    assert welch_satterthwaite([1.0, 2.0], [math.inf, math.inf]) == math.inf


@pytest.mark.parametrize("share", OUTSIDE)
def test_a_probability_outside_0_to_1_is_refused(share: float) -> None:
    for refuse in (
        lambda: critical_w(share),
        lambda: family_alpha(share, 3),
        lambda: noncentrality(0.001, share),
        lambda: minimal_detectable(1.0, 0.5, power=share),
        lambda: chi2_limit(3, share),
        lambda: global_test(1.0, 3, probability=share),
        lambda: tau_limit(5, share),
    ):
        with pytest.raises(OutOfRange, match="between 0 and 1"):
            refuse()


@pytest.mark.parametrize("dof", [0, -1, float("nan"), float("inf")])
def test_chi_square_without_degrees_of_freedom_is_refused(dof: float) -> None:
    with pytest.raises(OutOfRange, match="dof"):
        chi2_limit(dof, 0.95)
    with pytest.raises(OutOfRange, match="dof"):
        chi2_tail(1.0, dof)


@pytest.mark.parametrize("value", [-0.1, float("nan")])
def test_a_chi_square_below_zero_is_refused(value: float) -> None:
    with pytest.raises(OutOfRange, match="never negative"):
        chi2_tail(value, 3)


@pytest.mark.parametrize("dof", [-1, 0, 1])
def test_tau_below_two_degrees_of_freedom_is_refused(dof: int) -> None:
    with pytest.raises(OutOfRange, match="two degrees of freedom"):
        tau_limit(dof)


def test_a_family_of_no_tests_is_refused() -> None:
    with pytest.raises(OutOfRange, match="at least one test"):
        family_alpha(0.05, 0)


@pytest.mark.parametrize("length", [-0.001, float("nan"), float("inf")])
def test_a_tape_does_not_read_below_zero_or_for_ever(length: float) -> None:
    with pytest.raises(OutOfRange, match="from 0 up"):
        tape_mpe(length)


def test_a_tape_class_that_does_not_exist_is_refused_with_those_that_do() -> None:
    with pytest.raises(OutOfRange, match="I, II, III"):
        tape_mpe(36.0, mid_class="IV")


@pytest.mark.parametrize("graduation", [0.0, -0.0625, float("nan")])
def test_a_graduation_must_be_positive(graduation: float) -> None:
    with pytest.raises(OutOfRange, match="graduation"):
        rounding_sd(graduation)


@pytest.mark.parametrize(("components", "dof"), [([1.0, 2.0], [3.0]), ([1.0], [0.0]), ([1.0], [-2.0])])
def test_each_component_needs_its_own_positive_degrees_of_freedom(
    components: list[float], dof: list[float]
) -> None:
    with pytest.raises(OutOfRange, match="degrees of freedom"):
        welch_satterthwaite(components, dof)
