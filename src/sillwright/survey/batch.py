"""Many like openings adjusted at once: coordinates, standard deviations, residuals, redundancy numbers.

All readings of like openings but the two diagonals are linear, with coefficients common to the whole batch.
That part, N0, is factorised once; the diagonals are a rank-2 change of it, opening by opening:

    N = N0 + D' P D,   N^-1 = Q0 - Q0 D' K D Q0,   K = (P^-1 + D Q0 D')^-1   (2 x 2, closed form)

A diagonal depends on the unknowns only through six differences F x (two rising and one middle, along and
up), so Gauss-Newton runs on a few numbers for each opening, and every diagonal element of a cofactor matrix
is a common number less a quadratic form with common coefficients.

Symbols: A design, l observation, P = diag(1 / sd^2), Q cofactors of the unknowns, v = A x - l, r redundancy
number. Source: normal equations of least squares and r_i = 1 - p_i (A Q A')_ii (W. Baarda, A testing
procedure for use in geodetic networks, 1968; from memory); Woodbury identity for N^-1 (from memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from sillwright.errors import NotDetermined
from sillwright.survey.diagonals import (
    Pair,
    Step,
    ends,
    ends_cofactors,
    force,
    form,
    gauss_newton_step,
    lengths,
    size_of_step,
)
from sillwright.survey.like import Array, BatchResult, LikeOpenings, LikeSds

ALONG_READ, UP_READ, DIAGONALS_READ = slice(0, 7), slice(7, 24), slice(24, 26)
"""Columns of the readings that are linear in x, linear in z, and diagonals."""
ALONG_OBSERVED, UP_OBSERVED, DIAGONALS_OBSERVED = slice(0, 9), slice(9, 28), slice(28, 30)
"""The same of the observations; x and z end with two assumed zeros each."""
ALONG_UNKNOWN, UP_UNKNOWN = slice(0, 6), slice(6, 14)

STEP_LIMIT = 1e-11
"""Gauss-Newton ends when no corner difference moves by more than this [in]."""
MOST_STEPS = 30
_TIED, _FILLED = 4608, 1536
# openings worked at a time: enough to hide the cost of calls, few enough for cached memory and for the matrix
# products to stay below the size at which a linear algebra library wakes more threads than it gains by


class Half(NamedTuple):
    """The common linear part along (x) or up (z): k observations, the first m of them read, w unknowns.

    Attributes:
        design:  (w, k) A'
        weight:  (k,) 1 / sd^2 [1/in2]
        gain:    (m, w) (Q0 A' P)', from readings to unknowns
        reach:   (m, 3) (F Q0 A' P)', from readings to the differences that the diagonals hang on
        shift:   (3, w) F Q0 [in2]
        cov:     (3, 3) F Q0 F' [in2]
        q:       (w,) diagonal of Q0 [in2]
        q_loss:  (6, w) what each coefficient of `form` adds to it, below 0 on the whole [in4]
        r:       (k,) redundancy numbers without the diagonals
        r_rise:  (6, k) what they gain, likewise [in2]
    """

    design: Array
    weight: Array
    gain: Array
    reach: Array
    shift: Array
    cov: Array
    q: Array
    q_loss: Array
    r: Array
    r_rise: Array


class Net(NamedTuple):
    """What all openings of a batch share: both linear halves and the variance of a diagonal [in2]."""

    along: Half
    up: Half
    variance: float

    @property
    def weight(self) -> Array:
        """Weights of all 30 observations, (30,) [1/in2]."""
        return np.concatenate((self.along.weight, self.up.weight, [1 / self.variance] * 2))


def adjust_batch(openings: LikeOpenings) -> BatchResult:
    """Adjust all openings of a batch by least squares [in].

    x minimises v'Pv over the linear readings, four weak assumptions of straightness and two diagonals
    d = hypot(dx, dz) between corners, which lie on the straight through the two nearest places of each edge.

    Args:    openings: B complete openings with common standard deviations
    Returns: (B, ...) coordinates, standard deviations, residuals, redundancy numbers, v'Pv
    Raises:  NotDetermined: a diagonal so far from the rest that no shape settles in `MOST_STEPS` steps
    Source:  normal equations with a Woodbury update, see the module
    """
    net = factorise(openings.sds)
    overhang = openings.overhang
    result = BatchResult.empty(len(openings))
    for first in range(0, len(openings), _TIED):
        rows = slice(first, first + _TIED)
        read, over = openings.readings[rows], overhang[:, rows]
        step = _tie(net, read, over, first)
        _fill_linear(net, read, over, step, result, rows)
        _fill_diagonals(net, read, step, result, rows)
    np.einsum("ij,ij,j->i", result.residual, result.residual, net.weight, out=result.vPv)
    return result


def factorise(sds: LikeSds) -> Net:
    """Return the linear parts of a batch, factorised."""
    s = sds
    along_sds = [s.running_sd] * 2 + [s.width_sd] * 3 + [s.lean_sd] * 2 + [s.jack_bow_sd] * 2
    up_sds = [s.height_sd] * 3 + [s.laser_sd] * 14 + [s.sill_bow_sd, s.head_sag_sd]
    return Net(_half(_along_design(), along_sds), _half(_up_design(), up_sds), s.diagonal_sd**2)


def _edges(count: int) -> tuple[Array, Array]:
    """Return unit rows that pick the three places of the first and of the second edge."""
    one = np.eye(count)
    return one[:3], one[3:6]


def _straight(edge: Array) -> Array:
    middle_off: Array = edge[1] - (edge[0] + edge[2]) / 2
    return middle_off


def _along_design() -> Array:
    left, right = _edges(6)
    leans = (left[2] - left[0], right[2] - right[0])
    return np.vstack((left[0], right[0], right - left, *leans, _straight(left), _straight(right)))


def _up_design() -> Array:
    sill, head = _edges(8)
    beams = np.eye(8)[6:]
    shots = [rows for beam in beams for rows in (beam, beam - sill, beam - head)]
    return np.vstack((head - sill, *shots, _straight(sill), _straight(head)))


def _half(design: Array, sds: list[float]) -> Half:
    """Return the constant parts of one half; its last two observations are assumed zeros."""
    first, second = _edges(design.shape[1])
    # two rises from near one corner to near the other, and the middle: (left, right) or (sill, head)
    differences = np.stack((second[2] - first[0], second[0] - first[2], second[1] - first[1]))
    weight = np.array(sds) ** -2
    root = np.linalg.inv(np.linalg.qr(design * np.sqrt(weight)[:, None], mode="r"))
    Q = root @ root.T
    gain = (weight[:, None] * (design @ Q))[:-2]
    shift = differences @ Q
    return Half(
        design=np.ascontiguousarray(design.T),
        weight=weight,
        gain=gain,
        reach=gain @ differences.T,
        shift=shift,
        cov=shift @ differences.T,
        q=np.diagonal(Q).copy(),
        q_loss=-_products(shift),
        r=1 - weight * np.einsum("ij,jk,ik->i", design, Q, design),
        r_rise=weight * _products(shift @ design.T),
    )


def _products(rows: Array) -> Array:
    """Return the products of a quadratic form in three rows, in the order of `form`."""
    a, b, m = rows
    return np.stack((a * a, 2 * a * b, b * b, 2 * a * m, 2 * b * m, m * m))


def _tie(net: Net, read: Array, over: Array, first: int) -> Step:
    """Bring in the diagonals by Gauss-Newton until every opening has settled."""
    sides = ((ALONG_READ, net.along, over[0]), (UP_READ, net.up, over[1]))
    x0, z0 = (ends(half.reach.T @ read[:, columns].T, e) for columns, half, e in sides)
    X, Z = (ends_cofactors(half.cov, e) for _, half, e in sides)
    diagonals = Pair(*read[:, DIAGONALS_READ].T.copy())
    at = x0, z0
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for _ in range(MOST_STEPS):
            step = gauss_newton_step(at, (x0, z0), (X, Z), diagonals, net.variance)
            settled = size_of_step(step, at) <= STEP_LIMIT
            if settled.all():
                return step
            at = step.along, step.up
    raise unsettled(first + int(np.flatnonzero(~settled)[0]))


def unsettled(opening: int) -> NotDetermined:
    """Return the error for an opening whose diagonals contradict the rest beyond any shape."""
    return NotDetermined(
        f"openings[{opening}]: the diagonals do not settle with the other readings after {MOST_STEPS} steps."
        " Check both diagonals, or leave this opening out of the batch."
    )


def _fill_linear(net: Net, read: Array, over: Array, step: Step, result: BatchResult, rows: slice) -> None:
    """Carry the diagonals' pull to the unknowns, readings and assumptions, along and up."""
    for half, columns, unknown, observed, cosines, e in (
        (net.along, ALONG_READ, ALONG_UNKNOWN, ALONG_OBSERVED, step.cos, over[0]),
        (net.up, UP_READ, UP_UNKNOWN, UP_OBSERVED, step.sin, over[1]),
    ):
        pull = np.stack(force(cosines, step.pull, e), axis=1)
        products = np.stack(form(cosines, step.K, e), axis=1)
        x, sd = result.x[rows, unknown], result.sd[rows, unknown]
        residual, redundancy = result.residual[rows, observed], result.redundancy[rows, observed]
        for first in range(0, len(read), _FILLED):
            some = slice(first, first + _FILLED)
            linear = read[some, columns]
            adjusted = linear @ half.gain
            adjusted += pull[some] @ half.shift
            x[some] = adjusted
            np.matmul(adjusted, half.design, out=residual[some])
            residual[some, :-2] -= linear
            np.sqrt(half.q + products[some] @ half.q_loss, out=sd[some])
            np.add(half.r, products[some] @ half.r_rise, out=redundancy[some])


def _fill_diagonals(net: Net, read: Array, step: Step, result: BatchResult, rows: slice) -> None:
    """Residuals, and r = sd^2 K_ii, which is 1 - p (S - S K S)_ii without its cancellation."""
    result.residual[rows, DIAGONALS_OBSERVED] = np.stack(lengths(step)).T - read[:, DIAGONALS_READ]
    result.redundancy[rows, 28] = net.variance * step.K.m11
    result.redundancy[rows, 29] = net.variance * step.K.m22
