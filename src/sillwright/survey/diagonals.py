"""The two diagonals of an opening as a rank-2 change of its linear adjustment.

Every function works on one opening (floats) or on many at once (arrays of one shape), and is short enough for
a compiler to take into a loop. `e` is how far a corner lies beyond the outer place of an edge, as a share of
the spacing of its places. With rise, fall (outer place to opposite outer place) and middle of two edges, the
corners lie (1 + e) rise - e middle and (1 + e) fall - e middle apart.

Symbols: c, s direction of a diagonal (along, up); X, Z cofactors of the corner differences without diagonals
(11, 12, 22); S = P^-1 + D Q0 D'; K = S^-1; l the readings. Source: Woodbury identity (from memory).
"""

from __future__ import annotations

from typing import Any, NamedTuple, TypeAlias

import numpy as np

from sillwright.survey.like import Array

Number: TypeAlias = Any
"""A float of one opening, or an array (B,) of many."""


class Pair(NamedTuple):
    """Something of the first and of the second diagonal."""

    first: Number
    second: Number


class Symmetric(NamedTuple):
    """A symmetric 2 x 2 matrix."""

    m11: Number
    m12: Number
    m22: Number


class Step(NamedTuple):
    """A Gauss-Newton step: directions, pull K (l - D y0) [1/in], K [1/in2], corner differences after it."""

    cos: Pair
    sin: Pair
    pull: Pair
    K: Symmetric
    along: Pair
    up: Pair


def ends(differences: Number, e: Number) -> Pair:
    """Return both diagonals' corner differences on one axis, from rise, fall and middle [in]."""
    rise, fall, middle = differences[0], differences[1], differences[2]
    return Pair((1 + e) * rise - e * middle, (1 + e) * fall - e * middle)


def ends_cofactors(V: Array, e: Number) -> Symmetric:
    """Return their cofactors from V (3, 3), those of rise, fall and middle [in2]."""
    o = 1 + e
    return Symmetric(
        o * o * V[0, 0] - 2 * o * e * V[0, 2] + e * e * V[2, 2],
        o * o * V[0, 1] - o * e * (V[0, 2] + V[1, 2]) + e * e * V[2, 2],
        o * o * V[1, 1] - 2 * o * e * V[1, 2] + e * e * V[2, 2],
    )


def gauss_newton_step(
    at: tuple[Pair, Pair],
    start: tuple[Pair, Pair],
    XZ: tuple[Symmetric, Symmetric],
    read: Pair,
    variance: float,
) -> Step:
    """Bring in both diagonals with the directions they have at `at`, from the linear solution `start`.

    A length is homogeneous in its differences, d = D y, so the misclosure is l - D y0.
    """
    x, z = at
    x0, z0 = start
    X, Z = XZ
    d1, d2 = np.sqrt(x.first**2 + z.first**2), np.sqrt(x.second**2 + z.second**2)
    c1, s1, c2, s2 = x.first / d1, z.first / d1, x.second / d2, z.second / d2
    S11 = c1 * c1 * X.m11 + s1 * s1 * Z.m11 + variance
    S12 = c1 * c2 * X.m12 + s1 * s2 * Z.m12
    S22 = c2 * c2 * X.m22 + s2 * s2 * Z.m22 + variance
    det = S11 * S22 - S12 * S12
    K = Symmetric(S22 / det, -S12 / det, S11 / det)
    m1 = read.first - c1 * x0.first - s1 * z0.first
    m2 = read.second - c2 * x0.second - s2 * z0.second
    pull = Pair(K.m11 * m1 + K.m12 * m2, K.m12 * m1 + K.m22 * m2)
    cos, sin = Pair(c1, c2), Pair(s1, s2)
    return Step(cos, sin, pull, K, _moved(x0, X, cos, pull), _moved(z0, Z, sin, pull))


def _moved(start: Pair, cofactors: Symmetric, cosines: Pair, pull: Pair) -> Pair:
    f1, f2 = cosines.first * pull.first, cosines.second * pull.second
    return Pair(
        start.first + cofactors.m11 * f1 + cofactors.m12 * f2,
        start.second + cofactors.m12 * f1 + cofactors.m22 * f2,
    )


def size_of_step(step: Step, at: tuple[Pair, Pair]) -> Number:
    """Return how far a step moved the corner differences [in]: the sum of the four moves."""
    x, z = at
    along = np.abs(step.along.first - x.first) + np.abs(step.along.second - x.second)
    size: Number = along + np.abs(step.up.first - z.first) + np.abs(step.up.second - z.second)
    return size


def lengths(step: Step) -> Pair:
    """Return the diagonals after the last step [in]."""
    cos, sin, x, z = step.cos, step.sin, step.along, step.up
    return Pair(cos.first * x.first + sin.first * z.first, cos.second * x.second + sin.second * z.second)


def force(cosines: Pair, pull: Pair, e: Number) -> tuple[Number, Number, Number]:
    """Return the diagonals' pull on rise, fall and middle [1/in]."""
    f1, f2 = cosines.first * pull.first, cosines.second * pull.second
    return (1 + e) * f1, (1 + e) * f2, -e * (f1 + f2)


def form(cosines: Pair, K: Symmetric, e: Number) -> tuple[Number, Number, Number, Number, Number, Number]:
    """Return D' K D in rise, fall and middle (11, 12, 22, 13, 23, 33) [1/in2]."""
    k11 = K.m11 * cosines.first * cosines.first
    k12 = K.m12 * cosines.first * cosines.second
    k22 = K.m22 * cosines.second * cosines.second
    one, cross = (1 + e) * (1 + e), -e * (1 + e)
    return (
        one * k11,
        one * k12,
        one * k22,
        cross * (k11 + k12),
        cross * (k12 + k22),
        e * e * (k11 + 2 * k12 + k22),
    )


FORMULAS = (ends, ends_cofactors, _moved, gauss_newton_step, size_of_step, lengths, force, form)
"""All of them, for the compiler."""
