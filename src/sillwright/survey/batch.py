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

from dataclasses import dataclass

import numpy as np

from sillwright.errors import NotDetermined
from sillwright.survey.like import Array, BatchResult, LikeOpenings, LikeSds

ALONG_READ, UP_READ, DIAGONALS_READ = slice(0, 7), slice(7, 24), slice(24, 26)
"""Columns of the readings that are linear in x, linear in z, and diagonals."""
ALONG_OBSERVED, UP_OBSERVED, DIAGONALS_OBSERVED = slice(0, 9), slice(9, 28), slice(28, 30)
"""The same of the observations; x and z end with two assumed zeros each."""
ALONG_UNKNOWN, UP_UNKNOWN = slice(0, 6), slice(6, 14)

STEP_LIMIT = 1e-11
"""Gauss-Newton ends when no corner difference moves by more than this [in]."""
MOST_STEPS = 30
_ROWS = 16384  # openings worked at a time: enough to hide the cost of calls, small enough for memory


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Half:
    """The common linear part along (x) or up (z): k observations, the first m of them read, w unknowns.

    Attributes:
        design:  (w, k) A'
        weight:  (k,) 1 / sd^2 [1/in2]
        gain:    (m, w) (Q0 A' P)', from readings to unknowns
        reach:   (m, 3) (F Q0 A' P)', from readings to the differences that the diagonals hang on
        shift:   (3, w) F Q0 [in2]
        cov:     (3, 3) F Q0 F' [in2]
        q:       (w,) diagonal of Q0 [in2]
        q_drop:  (6, w) what it loses for each coefficient of `_form` [in4]
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
    q_drop: Array
    r: Array
    r_rise: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Tied:
    """What the diagonals of B openings settle.

    Attributes:
        cos, sin: (2, B) direction of each diagonal, along and up
        pull:     (2, B) K (l - D x0), how hard each diagonal pulls [1/in]
        weight:   (3, B) K_11, K_12, K_22 [1/in2]
        length:   (2, B) adjusted diagonals [in]
    """

    cos: Array
    sin: Array
    pull: Array
    weight: Array
    length: Array


def adjust_batch(openings: LikeOpenings) -> BatchResult:
    """Adjust all openings of a batch by least squares [in].

    x minimises v'Pv over the linear readings, four weak assumptions of straightness and two diagonals
    d = hypot(dx, dz) between corners, which lie on the straight through the two nearest places of each edge.

    Args:    openings: B complete openings with common standard deviations
    Returns: (B, ...) coordinates, standard deviations, residuals, redundancy numbers, v'Pv
    Raises:  NotDetermined: a diagonal so far from the rest that no shape settles in `MOST_STEPS` steps
    Source:  normal equations with a Woodbury update, see the module
    """
    along, up = halves(openings.sds)
    overhang = openings.overhang
    result = BatchResult.empty(len(openings))
    for first in range(0, len(openings), _ROWS):
        rows = slice(first, first + _ROWS)
        read, over = openings.readings[rows], overhang[:, rows]
        tied = _tie(_starts(read, along, up, over), read, openings.sds.diagonal_sd**2, first)
        _fill_linear(along, up, read, tied, over, result, rows)
        _fill_diagonals(read, tied, openings.sds.diagonal_sd**2, result, rows)
    weight = weights(along, up, openings.sds)
    np.einsum("ij,ij,j->i", result.residual, result.residual, weight, out=result.vPv)
    return result


def halves(sds: LikeSds) -> tuple[Half, Half]:
    """Return the factorised linear parts, along and up."""
    s = sds
    along_sds = [s.running_sd] * 2 + [s.width_sd] * 3 + [s.lean_sd] * 2 + [s.jack_bow_sd] * 2
    up_sds = [s.height_sd] * 3 + [s.laser_sd] * 14 + [s.sill_bow_sd, s.head_sag_sd]
    return _factorise(_along_design(), along_sds), _factorise(_up_design(), up_sds)


def weights(along: Half, up: Half, sds: LikeSds) -> Array:
    """Return the weights of all 30 observations [1/in2]."""
    return np.concatenate((along.weight, up.weight, [sds.diagonal_sd**-2] * 2))


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


def _factorise(design: Array, sds: list[float]) -> Half:
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
        q_drop=_products(shift),
        r=1 - weight * np.einsum("ij,jk,ik->i", design, Q, design),
        r_rise=weight * _products(shift @ design.T),
    )


def _products(rows: Array) -> Array:
    """Return the products of a quadratic form in three rows, in the order of `_form`."""
    a, b, m = rows
    return np.stack((a * a, 2 * a * b, b * b, 2 * a * m, 2 * b * m, m * m))


def _starts(read: Array, along: Half, up: Half, over: Array) -> tuple[Array, Array]:
    """Return the corner differences dx, dx', dz, dz' of the linear solution, (4, B), and their cofactors.

    The cofactors (6, B) are those of dx, dx' and dz, dz': 11, 12, 22 each [in2].
    """
    ends, cofactors = [], []
    for columns, half, e in ((ALONG_READ, along, over[0]), (UP_READ, up, over[1])):
        rise, fall, middle = half.reach.T @ read[:, columns].T
        ends += [(1 + e) * rise - e * middle, (1 + e) * fall - e * middle]
        V, o = half.cov, 1 + e
        cofactors += [
            o * o * V[0, 0] - 2 * o * e * V[0, 2] + e * e * V[2, 2],
            o * o * V[0, 1] - o * e * (V[0, 2] + V[1, 2]) + e * e * V[2, 2],
            o * o * V[1, 1] - 2 * o * e * V[1, 2] + e * e * V[2, 2],
        ]
    return np.stack(ends), np.stack(cofactors)


def _tie(starts: tuple[Array, Array], read: Array, variance: float, first: int) -> Tied:
    """Bring in the diagonals by Gauss-Newton, D from the last direction, always from the linear solution.

    A length is homogeneous, d = D y, so the misclosure of a step is l - D y0.
    """
    start, cofactors = starts
    l1, l2 = read[:, DIAGONALS_READ].T
    ends = start
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for _ in range(MOST_STEPS):
            tied, moved = _step(ends, start, cofactors, (l1, l2), variance)
            settled = np.abs(moved - ends).max(axis=0) <= STEP_LIMIT
            ends = moved
            if settled.all():
                return tied
    raise unsettled(first + int(np.flatnonzero(~settled)[0]))


def _step(
    ends: Array, start: Array, cofactors: Array, observed: tuple[Array, Array], variance: float
) -> tuple[Tied, Array]:
    """Return one Gauss-Newton step: what the diagonals settle, and the corner differences after it."""
    (x1, x2, z1, z2), (x10, x20, z10, z20) = ends, start
    X11, X12, X22, Z11, Z12, Z22 = cofactors
    d1, d2 = np.sqrt(x1 * x1 + z1 * z1), np.sqrt(x2 * x2 + z2 * z2)
    c1, s1, c2, s2 = x1 / d1, z1 / d1, x2 / d2, z2 / d2
    # S = P^-1 + D Q0 D', and K its inverse
    S11 = c1 * c1 * X11 + s1 * s1 * Z11 + variance
    S12 = c1 * c2 * X12 + s1 * s2 * Z12
    S22 = c2 * c2 * X22 + s2 * s2 * Z22 + variance
    det = S11 * S22 - S12 * S12
    K11, K12, K22 = S22 / det, -S12 / det, S11 / det
    m1 = observed[0] - c1 * x10 - s1 * z10
    m2 = observed[1] - c2 * x20 - s2 * z20
    pull1, pull2 = K11 * m1 + K12 * m2, K12 * m1 + K22 * m2
    f1, f2, g1, g2 = c1 * pull1, c2 * pull2, s1 * pull1, s2 * pull2
    moved = np.stack(
        (x10 + X11 * f1 + X12 * f2, x20 + X12 * f1 + X22 * f2, z10 + Z11 * g1 + Z12 * g2, z20 + Z12 * g1 + Z22 * g2)
    )
    tied = Tied(
        cos=np.stack((c1, c2)),
        sin=np.stack((s1, s2)),
        pull=np.stack((pull1, pull2)),
        weight=np.stack((K11, K12, K22)),
        length=np.stack((c1 * moved[0] + s1 * moved[2], c2 * moved[1] + s2 * moved[3])),
    )
    return tied, moved


def unsettled(opening: int) -> NotDetermined:
    """Return the error for an opening whose diagonals contradict the rest beyond any shape."""
    return NotDetermined(
        f"openings[{opening}]: the diagonals do not settle with the other readings after {MOST_STEPS} steps."
        " Check both diagonals, or leave this opening out of the batch."
    )


def _fill_linear(
    along: Half, up: Half, read: Array, tied: Tied, over: Array, result: BatchResult, rows: slice
) -> None:
    """Carry the diagonals' pull to the unknowns, readings and assumptions along and up."""
    for half, columns, unknown, observed, cosines, e in (
        (along, ALONG_READ, ALONG_UNKNOWN, ALONG_OBSERVED, tied.cos, over[0]),
        (up, UP_READ, UP_UNKNOWN, UP_OBSERVED, tied.sin, over[1]),
    ):
        linear = read[:, columns]
        x = linear @ half.gain + _force(cosines * tied.pull, e) @ half.shift
        form = _form(cosines, tied.weight, e)
        residual = result.residual[rows, observed]
        result.x[rows, unknown] = x
        np.matmul(x, half.design, out=residual)
        residual[:, :-2] -= linear
        np.sqrt(half.q - form @ half.q_drop, out=result.sd[rows, unknown])
        np.add(half.r, form @ half.r_rise, out=result.redundancy[rows, observed])


def _force(pull: Array, e: Array) -> Array:
    """Return the pull of both diagonals on the three differences, (B, 3) [1/in]."""
    force = np.empty((len(e), 3))
    force[:, 0], force[:, 1] = (1 + e) * pull
    force[:, 2] = -e * (pull[0] + pull[1])
    return force


def _form(cosines: Array, weight: Array, e: Array) -> Array:
    """Return the coefficients of G' K G in the three differences, (B, 6) [1/in2]."""
    k11, k12, k22 = weight[0] * cosines[0] ** 2, weight[1] * cosines[0] * cosines[1], weight[2] * cosines[1] ** 2
    one, cross = (1 + e) ** 2, -e * (1 + e)
    form = np.empty((len(e), 6))
    form[:, 0], form[:, 1], form[:, 2] = one * k11, one * k12, one * k22
    form[:, 3], form[:, 4] = cross * (k11 + k12), cross * (k12 + k22)
    form[:, 5] = e * e * (k11 + 2 * k12 + k22)
    return form


def _fill_diagonals(read: Array, tied: Tied, variance: float, result: BatchResult, rows: slice) -> None:
    result.residual[rows, DIAGONALS_OBSERVED] = tied.length.T - read[:, DIAGONALS_READ]
    result.redundancy[rows, DIAGONALS_OBSERVED] = variance * tied.weight[::2].T
