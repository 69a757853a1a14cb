"""Tests on residuals and the probability of an orthant against printed values and exact formulas."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from tests.published.checks import Check, load

from sillwright.survey.statistics import (
    chi2_limit,
    critical_w,
    global_test,
    noncentrality,
    probability_all_above,
    tau_limit,
)


@pytest.mark.parametrize("check", load("statistics"), ids=lambda check: check.id)
def test_statistics_agree_with_their_source(check: Check) -> None:
    (quantity,) = check.expect
    check.compare({quantity: _found(quantity, check.given)})


def _found(quantity: str, given: Mapping[str, Any]) -> Any:
    if quantity == "orthant":
        return _orthant(given)
    if quantity == "passed":
        return global_test(given["vtpv"], given["dof"]).passed
    kernel: dict[str, Callable[..., float]] = {
        "critical_w": critical_w,
        "delta0": noncentrality,
        "tau": tau_limit,
        "chi2": chi2_limit,
    }
    return kernel[quantity](**given)


def _orthant(given: Mapping[str, Any]) -> float:
    m = given.get("m") or {1: 2, 3: 3}[len(given["rho"])]
    covariance = np.eye(m)
    covariance[np.triu_indices(m, 1)] = given.get("rho", 0.5)
    covariance = np.triu(covariance) + np.triu(covariance, 1).T
    return probability_all_above(np.zeros(m), covariance, np.zeros(m))
