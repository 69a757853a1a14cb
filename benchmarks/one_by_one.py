"""The same openings, one at a time, by a general solver: scipy.optimize.least_squares.

The model is written for that loop's own good: dense weighted design, made once; analytic Jacobian; start from
the least-squares solution without the diagonals.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares, leastsq

from sillwright.survey.like import LikeOpenings

Array = NDArray[np.float64]
Function = Callable[[Array], Array]
Solve = Callable[[Array, Function, Function], Array]

LEFT, RIGHT, SILL, HEAD = (slice(i, i + 3) for i in (0, 3, 6, 9))


class OneByOne:
    """The net of a batch of like openings as functions of one opening's unknowns."""

    def __init__(self, openings: LikeOpenings) -> None:
        s = openings.sds
        self.design, sds = _linear(openings)
        self.root = 1 / sds
        self.weighted = self.design * self.root[:, None]
        self.solver = np.linalg.pinv(self.weighted)
        self.diagonal_root = 1 / s.diagonal_sd
        self.openings = openings

    def problem(self, i: int) -> tuple[Array, Function, Function]:
        """Return the start, the weighted residuals and their Jacobian of opening `i`."""
        weighted, p = self.weighted, self.diagonal_root
        observed = np.concatenate((self.openings.readings[i, :24], np.zeros(4))) * self.root
        target = self.openings.readings[i, 24:]
        corners = self._corners(i)
        jacobian = np.empty((30, 14))
        jacobian[:28] = weighted
        residual = np.empty(30)

        def fun(x: Array) -> Array:
            residual[:28] = weighted @ x - observed
            dx, dx2, dz, dz2 = corners @ x
            residual[28] = p * ((dx * dx + dz * dz) ** 0.5 - target[0])
            residual[29] = p * ((dx2 * dx2 + dz2 * dz2) ** 0.5 - target[1])
            return residual.copy()

        def jac(x: Array) -> Array:
            dx, dx2, dz, dz2 = corners @ x
            first, second = p / (dx * dx + dz * dz) ** 0.5, p / (dx2 * dx2 + dz2 * dz2) ** 0.5
            jacobian[28] = first * dx * corners[0] + first * dz * corners[2]
            jacobian[29] = second * dx2 * corners[1] + second * dz2 * corners[3]
            return jacobian

        return self.solver @ observed, fun, jac

    def _corners(self, i: int) -> Array:
        """Return rows that give dx and dz of both diagonals from the unknowns."""
        o = self.openings
        up, along = o.near / (o.height[i] / 2 - o.near), o.near / (o.width[i] / 2 - o.near)
        rows = np.zeros((4, 14))
        rows[0, RIGHT], rows[0, LEFT] = (0, -up, 1 + up), (-1 - up, up, 0)
        rows[1, RIGHT], rows[1, LEFT] = (1 + up, -up, 0), (0, up, -1 - up)
        rows[2, HEAD], rows[2, SILL] = (0, -along, 1 + along), (-1 - along, along, 0)
        rows[3, HEAD], rows[3, SILL] = (1 + along, -along, 0), (0, along, -1 - along)
        return rows


def _least_squares(method: Literal["lm", "trf", "dogbox"], *, analytic: bool) -> Solve:
    def solve(start: Array, fun: Function, jac: Function) -> Array:
        found = least_squares(fun, start, jac=jac if analytic else "2-point", method=method)
        return np.asarray(found.x)

    return solve


def _leastsq(start: Array, fun: Function, jac: Function) -> Array:
    found = leastsq(fun, start, Dfun=jac)
    return np.asarray(found[0])


METHODS: dict[str, Solve] = {
    "lm, analytic Jacobian": _least_squares("lm", analytic=True),
    "trf, analytic Jacobian": _least_squares("trf", analytic=True),
    "dogbox, analytic Jacobian": _least_squares("dogbox", analytic=True),
    "lm, differences": _least_squares("lm", analytic=False),
    "leastsq": _leastsq,
}
"""Settings of the general solver, all with its own default tolerances; `leastsq` is its older, barer door."""


def _linear(openings: LikeOpenings) -> tuple[Array, Array]:
    """Return the rows of the linear readings and assumptions, and their standard deviations."""
    s, one = openings.sds, np.eye(14)
    left, right, sill, head = one[LEFT], one[RIGHT], one[SILL], one[HEAD]
    rows = [left[:1], right[:1], right - left, left[2:] - left[:1], right[2:] - right[:1], head - sill]
    for beam in (one[12:13], one[13:]):
        rows += [beam, beam - sill, beam - head]
    rows += [edge[1:2] - (edge[:1] + edge[2:]) / 2 for edge in (left, right, sill, head)]
    sds = [s.running_sd] * 2 + [s.width_sd] * 3 + [s.lean_sd] * 2 + [s.height_sd] * 3 + [s.laser_sd] * 14
    sds += [s.jack_bow_sd] * 2 + [s.sill_bow_sd, s.head_sag_sd]
    return np.vstack(rows), np.array(sds)
