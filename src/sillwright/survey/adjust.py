"""Weighted nonlinear least squares: unknowns, covariance, residuals, redundancy.

Symbols as in the adjustment literature: n observations l with standard deviations sigma, u unknowns x,
A the Jacobian (n x u), P = diag(1/sigma^2), v = adjusted minus observed, N = A'PA, Q = N^-1.
Everything inside is whitened (rows divided by sigma), so P is the identity there.
Source: the formulas are listed in docs/method.md, section "Adjustment", with the works they come from.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lapack

from sillwright.errors import NotDetermined, OutOfRange

Array = NDArray[np.float64]
Model = Callable[[Array], tuple[Array, Array]]
"""x (u,) -> computed observations f(x) (n,) and their Jacobian (n, u)."""

WELL_CONDITIONED = 1e-3
"""Least pivot of the unit-diagonal normal matrix for which its Cholesky factor keeps at least 9 digits."""
_MAX_ITERATIONS = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """The result of one adjustment; shapes in brackets."""

    x: Array
    """Unknowns (u,)."""
    cofactor: Array
    """Q = N^-1 (u, u): covariance of the unknowns when the sigmas are right."""
    residual: Array
    """v = adjusted minus observed (n,)."""
    redundancy: Array
    """r_i = 1 - sigma_i^-2 (A Q A')_ii (n,), 0 to 1: the share of an error that shows in its own residual."""
    design: Array
    """Whitened Jacobian (n, u)."""
    whitened: Array
    """v / sigma (n,)."""
    dof: int
    """n - u + d, with d the datum defect."""
    iterations: int

    @property
    def vtpv(self) -> float:
        """Weighted sum of squared residuals, v'Pv."""
        return float(self.whitened @ self.whitened)

    @property
    def s0(self) -> float:
        """A posteriori standard deviation of unit weight; NaN without redundancy."""
        return float(np.sqrt(self.vtpv / self.dof)) if self.dof > 0 else float("nan")

    @property
    def standardised(self) -> Array:
        """w_i = v_i / (sigma_i sqrt(r_i)) (n,); NaN where nothing checks the reading."""
        checked = self.redundancy > 1e-9
        root = np.sqrt(np.where(checked, self.redundancy, 1.0))
        return np.where(checked, self.whitened / root, np.nan)

    def sd(self, *, posterior: bool = False) -> Array:
        """Standard deviations of the unknowns (u,): a priori, or scaled by s0."""
        prior = np.sqrt(np.clip(np.diag(self.cofactor), 0.0, None))
        return prior * self.s0 if posterior else prior


def adjust(
    model: Model,
    observed: Array,
    *,
    sd: Array,
    start: Array,
    datum: Array | None = None,
    settle: float = 1e-12,
) -> Adjustment:
    """Adjust observations to a model that may be nonlinear.

    Gauss-Newton, each step the least-squares solution of the linearised problem; where a step does not
    lower v'Pv it is damped (Levenberg-Marquardt). A linear model converges in one step.

    Args:
        model: computed observations and Jacobian at x
        observed: l (n,)
        sd: sigma (n,), all positive
        start: approximate x (u,)
        datum: rows G (d, u) of inner constraints G dx = 0 for a free network
        settle: stop when no adjusted observation moves by more than this many of its sigmas
    Raises:
        OutOfRange: a sigma is not positive, or something is not finite
        NotDetermined: the observations do not fix every unknown
    """
    _check(observed, sd, start)
    x = start.astype(np.float64)
    computed, jacobian = model(x)
    misclosure = (observed - computed) / sd
    cost = float(misclosure @ misclosure)
    damping, last = 0.0, float("inf")
    iteration = 0
    while iteration < _MAX_ITERATIONS:
        iteration += 1
        design = jacobian / sd[:, None]
        step = _Factor(design, datum=datum, damping=damping).solve(misclosure)
        trial, trial_jacobian = model(x + step)
        trial_misclosure = (observed - trial) / sd
        trial_cost = float(trial_misclosure @ trial_misclosure)
        moved = float(np.max(np.abs(design @ step)))
        # at the solution v'Pv only changes by rounding, and of an exact fit all of it is rounding
        noise = cost * 1e-9 + 1e-12 if moved < 1e-6 else cost * 1e-12
        if not trial_cost <= cost + noise:
            if damping > 1e14:
                break
            damping = max(damping * 8.0, 1e-4)
            continue
        x = x + step
        jacobian, misclosure, cost = trial_jacobian, trial_misclosure, trial_cost
        if damping == 0.0 and (moved <= settle or (moved < 1e-5 and moved >= last)):
            break
        last = moved
        damping = damping / 16.0 if damping > 1e-10 else 0.0
    else:
        raise NotDetermined("the adjustment did not settle: the readings contradict each other too much")
    return _summary(jacobian / sd[:, None], misclosure, sd, x, datum=datum, iterations=iteration)


def adjust_linear(design: Array, observed: Array, *, sd: Array, datum: Array | None = None) -> Adjustment:
    """Adjust observations that are linear in the unknowns: l = A x. Arguments as for `adjust`."""
    start = np.zeros(design.shape[1])
    return adjust(lambda x: (design @ x, design), observed, sd=sd, start=start, datum=datum)


def _check(observed: Array, sd: Array, start: Array) -> None:
    if not (np.all(np.isfinite(observed)) and np.all(np.isfinite(start))):
        raise OutOfRange("an observation or approximate value is not a finite number")
    if not np.all(np.isfinite(sd)) or np.any(sd <= 0):
        raise OutOfRange("every standard deviation must be a positive, finite number")


def _summary(
    design: Array, misclosure: Array, sd: Array, x: Array, *, datum: Array | None, iterations: int
) -> Adjustment:
    factor = _Factor(design, datum=datum, damping=0.0)
    cofactor = factor.cofactor()
    redundancy = 1.0 - np.einsum("ij,ij->i", design @ cofactor, design)
    n, u = design.shape
    defect = 0 if datum is None else datum.shape[0]
    return Adjustment(
        x=x,
        cofactor=cofactor,
        residual=-misclosure * sd,
        redundancy=np.clip(redundancy, 0.0, 1.0),
        design=design,
        whitened=-misclosure,
        dof=n - u + defect,
        iterations=iterations,
    )


class _Factor:
    """Factor of the whitened, column-scaled design.

    The normal equations by Cholesky where their pivots say they keep their digits, else Householder QR.
    """

    def __init__(self, design: Array, *, datum: Array | None, damping: float) -> None:
        self._n = design.shape[0]
        self._datum = datum
        norm = np.sqrt(np.einsum("ij,ij->j", design, design))
        if datum is None and np.any(norm == 0):
            raise NotDetermined(f"unknown {int(np.argmin(norm))} is in no observation")
        self._scale = np.where(norm == 0, 1.0, norm)
        rows = design if datum is None else np.vstack([design, datum * self._scale.mean()])
        if datum is not None:
            self._scale = np.sqrt(np.einsum("ij,ij->j", rows, rows))
        self._rows = rows / self._scale
        normal = self._rows.T @ self._rows
        normal[np.diag_indices_from(normal)] += damping
        root, info = lapack.dpotrf(normal, lower=0)
        self._cholesky = info == 0 and float(np.min(np.diag(root))) > WELL_CONDITIONED
        if self._cholesky:
            self._root = root
        else:
            self._orthogonal(damping)

    def _orthogonal(self, damping: float) -> None:
        u = self._rows.shape[1]
        if damping:
            self._rows = np.vstack([self._rows, np.sqrt(damping) * np.eye(u)])
        self._q, self._root = np.linalg.qr(self._rows)
        pivots = np.abs(np.diag(self._root))
        if self._rows.shape[0] < u or float(np.min(pivots)) < 1e-13 * float(np.max(pivots)):
            raise NotDetermined("the observations do not fix every unknown")

    def solve(self, misclosure: Array) -> Array:
        """Return the step dx (u,) for the misclosure l - f(x), whitened (n,)."""
        right = np.zeros(self._rows.shape[0])
        right[: self._n] = misclosure
        if self._cholesky:
            step, _ = lapack.dpotrs(self._root, self._rows.T @ right, lower=0)
            refined = right - self._rows @ step
            again, _ = lapack.dpotrs(self._root, self._rows.T @ refined, lower=0)
            return np.asarray((step + again).ravel() / self._scale)
        step, _ = lapack.dtrtrs(self._root, self._q.T @ right, lower=0)
        again, _ = lapack.dtrtrs(self._root, self._q.T @ (right - self._rows @ step), lower=0)
        return np.asarray((step + again).ravel() / self._scale)

    def cofactor(self) -> Array:
        """Return Q (u, u)."""
        inverse, info = lapack.dtrtri(self._root, lower=0)
        if info != 0:
            raise NotDetermined("the observations do not fix every unknown")
        half = inverse / self._scale[:, None]
        cofactor = half @ half.T
        if self._datum is not None:
            # inner constraints: the datum rows lend no information, so their share is taken out
            g = self._rows[self._n :] * self._scale
            gram = np.linalg.inv(g @ g.T)
            cofactor = cofactor - g.T @ gram @ gram @ g
        return np.asarray(cofactor)
