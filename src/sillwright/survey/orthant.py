"""The chance that several correlated normal quantities all lie above their limits.

This is the chance that a unit fits: every clearance, each a combination of the same few readings, must be
large enough at once. No random numbers: the same question always gives the same answer.

Two methods, each where it is the more accurate (`RARE`).

Where failing is likely: A. Genz, Numerical computation of multivariate normal probabilities, J. Comput.
Graph. Statist. 1 (1992), 141-149: the integral over an orthant becomes one over the unit cube, one variable
after another, each given those before it. The variable least likely to hold goes first (Gibson, Glasbey and
Elston 1994). The cube is sampled at a Richtmyer lattice (multiples of square roots of primes), folded to be
periodic.

Where failing is rare: A. B. Owen, Y. Maximov and M. Chertkov, Importance sampling the union of rare events
with an application to power systems analysis, Electron. J. Statist. 13 (2019), 231-254, at the same lattice.

Departure from Genz: a quantity that is a combination of earlier ones (clearances share readings, so
their covariance is singular) has no integral of its own. It narrows the interval of the last variable it
depends on, so the answer stays right however many rows depend on each other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, ndtri

from sillwright.errors import OutOfRange

Array = NDArray[np.float64]

POINTS = 4096
"""Lattice points: error below 1e-4 for chances above 0.98 (tests/survey/test_orthant.py)."""
_DEPENDENT = 1e-10
"""Share of its variance left given the earlier variables, below which a quantity depends on them."""
_NO_PART = 1e-7
"""Share of a standard deviation below which a dependent quantity does not contain a variable."""
_TINY, _BELOW_ONE = 1e-300, 1.0 - 1e-16
MOST = 60
"""Quantities that can be judged together."""
RARE = 0.5
"""Sum of the single chances to fail up to which the failures are sampled, above it the successes."""


@dataclass(frozen=True, slots=True)
class _Stage:
    """One variable y_k of the factorisation: the rows whose last variable it is."""

    rows: Array
    """Their factor rows (j, k + 1), scaled to unit variance; the last column multiplies y_k."""
    upper: Array
    """Their limits h (j,): row y <= h."""


def probability_all_above(mean: Array, covariance: Array, limit: Array, *, points: int = POINTS) -> float:
    """Return the probability that every X_j is above limit_j, X normal.

    Args:
        mean: (m,)
        covariance: (m, m), may be singular; a row of zeros is a quantity known exactly
        limit: (m,), minus infinity where there is none
        points: number of lattice points
    Raises:  OutOfRange: shapes that do not fit, a negative variance, numbers that are not finite
    Source:  Genz 1992, see the module
    """
    return float(probabilities_all_above(mean, covariance, limit[None, :], points=points)[0])


def probabilities_all_above(mean: Array, covariance: Array, limits: Array, *, points: int = POINTS) -> Array:
    """Return the probability that every X_j is above limits[i, j], for each row i of limits (k, m)."""
    sd = _check(mean, covariance, limits)
    varies = sd > 0.0
    scale = sd[varies]
    correlation = covariance[np.ix_(varies, varies)] / np.outer(scale, scale)
    certain = np.all(limits[:, ~varies] <= mean[~varies], axis=1)
    upper = (mean[varies] - limits[:, varies]) / scale
    chances = [
        _all_below(correlation, h, points) if ok else 0.0 for h, ok in zip(upper, certain, strict=True)
    ]
    return np.array(chances)


def _check(mean: Array, covariance: Array, limits: Array) -> Array:
    m = mean.shape[0]
    if covariance.shape != (m, m) or limits.ndim != 2 or limits.shape[1] != m:
        raise OutOfRange(f"{m} means need a covariance of {m} x {m} and {m} limits")
    if not (np.all(np.isfinite(mean)) and np.all(np.isfinite(covariance))) or np.any(np.isnan(limits)):
        raise OutOfRange("a mean, covariance or limit is not a number")
    variance = np.diag(covariance)
    if np.any(variance < 0):
        raise OutOfRange("a variance is negative")
    if m > MOST:
        raise OutOfRange(f"{m} quantities: at most {MOST} can be judged together")
    return np.sqrt(variance)


def _all_below(correlation: Array, upper: Array, points: int) -> float:
    """Return P(Z <= upper), Z standard normal with the given correlation (m, m)."""
    if np.any(upper == -np.inf):
        return 0.0
    bounded = upper < np.inf
    if not np.any(bounded):
        return 1.0
    correlation, upper = correlation[np.ix_(bounded, bounded)], upper[bounded]
    if float(ndtr(-upper).sum()) <= RARE:
        # this method is the cheaper one: twice the points in the same time
        return 1.0 - _any_above(correlation, upper, 2 * points)
    return _separated(_stages(correlation, upper), points)


def _separated(stages: list[_Stage], points: int) -> float:
    """Return the mean over the lattice of the product of conditional chances, one stage after another."""
    cube = _lattice(len(stages), points)
    y = np.empty((len(stages), points))
    chance = np.ones(points)
    for k, stage in enumerate(stages):
        low, high = _interval(stage, y[:k])
        low_p, high_p = ndtr(low), ndtr(high)
        share = np.maximum(high_p - low_p, 0.0)
        chance *= share
        if k < len(stages) - 1:
            y[k] = ndtri(np.clip(low_p + cube[k] * share, _TINY, _BELOW_ONE))
    return float(chance.mean())


def _interval(stage: _Stage, y: Array) -> tuple[Array, Array]:
    """Return the interval of the stage's own variable, given the earlier ones (k, points)."""
    own = stage.rows[:, -1:]
    bound = (stage.upper[:, None] - stage.rows[:, :-1] @ y) / own
    rising = own[:, 0] > 0
    high = bound[rising].min(axis=0, initial=np.inf)
    low = bound[~rising].max(axis=0, initial=-np.inf)
    return low, high


def _stages(correlation: Array, upper: Array) -> list[_Stage]:
    """Factorise with pivoting: least likely variable first, dependent rows given to their last variable."""
    m = len(upper)
    factor = np.zeros((m, m))
    left = np.ones(m)  # variance given the variables chosen so far
    shift = np.zeros(m)  # mean given that those hold
    free = np.ones(m, dtype=bool)
    rank = 0
    while np.any(candidates := free & (left > _DEPENDENT)):
        root = np.sqrt(np.where(candidates, left, 1.0))
        reach = np.where(candidates, (upper - shift) / root, np.inf)
        pivot = int(np.argmin(np.where(candidates, reach, np.inf)))
        column = (correlation[:, pivot] - factor[:, :rank] @ factor[pivot, :rank]) / root[pivot]
        free[pivot] = False
        factor[:, rank] = np.where(free, column, 0.0)
        factor[pivot, rank] = root[pivot]
        left = left - factor[:, rank] ** 2
        shift = shift + factor[:, rank] * _mean_below(reach[pivot])
        rank += 1
    # a chosen row ends at its own column; a dependent one at the last column it truly contains
    part = np.abs(factor[:, :rank]) > _NO_PART
    last = rank - 1 - np.argmax(part[:, ::-1], axis=1)
    return [_Stage(factor[last == k, : k + 1], upper[last == k]) for k in range(rank)]


def _mean_below(reach: float) -> float:
    """Return the mean of a standard normal variable known to lie below `reach`: -phi / Phi."""
    if reach < -30.0:
        return reach
    density = math.exp(-0.5 * reach * reach) / math.sqrt(2.0 * math.pi)
    return -density / float(ndtr(reach))


def _any_above(correlation: Array, upper: Array, points: int) -> float:
    """Return P(Z_j > upper_j for some j), accurate where that is rare.

    A row j is drawn in proportion to p_j = P(Z_j > upper_j), then a point beyond its limit; the point counts
    1 / S, with S the number of limits it lies beyond, and P = (sum p_j) mean(1 / S).
    """
    root = _root(correlation)
    single = ndtr(-upper)
    total = float(single.sum())
    row = np.searchsorted(np.cumsum(single), (np.arange(points) + 0.5) / points * total)
    row = np.minimum(row, len(upper) - 1)
    cube = _lattice(root.shape[1] + 1, points)
    toward = root.T[:, row]
    free = _normal_lattice(points)[: root.shape[1]]
    beyond = -ndtri(np.maximum(cube[0] * single[row], _TINY))
    z = free + toward * (beyond - np.einsum("ij,ij->j", toward, free))
    count = np.count_nonzero(root @ z > upper[:, None], axis=0)
    return total * float(np.mean(1.0 / np.maximum(count, 1)))


def _root(correlation: Array) -> Array:
    """Return F (m, rank) with F F' = correlation."""
    value, vector = np.linalg.eigh(correlation)
    kept = value > _DEPENDENT
    return np.asarray(vector[:, kept] * np.sqrt(value[kept]))


@lru_cache(maxsize=4)
def _normal_lattice(points: int) -> Array:
    """Return standard normal deviates (dimensions, points) at a lattice that skips the first dimension."""
    return np.asarray(ndtri(np.clip(_lattice(MOST + 1, points)[1:], _TINY, _BELOW_ONE)))


@lru_cache(maxsize=64)
def _lattice(dimensions: int, points: int) -> Array:
    """Return a Richtmyer lattice (dimensions, points) in the unit cube, folded so that it is periodic."""
    root = np.sqrt(_primes(dimensions))
    place = np.mod(root[:, None] * (np.arange(points) + 0.5), 1.0)
    cube: Array = np.abs(2.0 * place - 1.0)
    cube.flags.writeable = False
    return cube


def _primes(count: int) -> Array:
    """Return the first primes (count,), count at most MOST + 1."""
    number = np.arange(2, 300)
    prime = [n for n in number if np.all(n % np.arange(2, n))]
    return np.array(prime[:count], dtype=float)
