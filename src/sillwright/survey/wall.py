"""The adjusted wall, asked for values and covariances of anything that is linear in its unknowns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sillwright.survey.adjust import Array
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Terms
from sillwright.survey.outliers import Solution


@dataclass(frozen=True, slots=True)
class Wall:
    """Geometry with uncertainty, for the packages that decide on it."""

    solution: Solution

    @property
    def openings(self) -> dict[str, OpeningNet]:
        """Return the profiles of each opening by name."""
        return self.solution.network.openings

    def value(self, form: Terms) -> float:
        """Return the adjusted value of a linear form [in]."""
        x = self.solution.adjustment.x
        return float(sum(coefficient * x[index] for index, coefficient in form))

    def sd(self, form: Terms) -> float:
        """Return the standard deviation of a linear form [in]."""
        cofactor = self.solution.adjustment.cofactor
        variance = sum(a * b * cofactor[i, j] for i, a in form for j, b in form)
        return float(max(variance, 0.0) ** 0.5)

    def matrix(self, forms: Sequence[Terms]) -> Array:
        """Return forms as rows over all unknowns (m, u)."""
        rows = np.zeros((len(forms), len(self.solution.adjustment.x)))
        for row, form in enumerate(forms):
            for index, coefficient in form:
                rows[row, index] += coefficient
        return rows

    def values(self, forms: Sequence[Terms]) -> Array:
        """Return the adjusted values of forms (m,) [in]."""
        return np.array([self.value(form) for form in forms])

    def covariance(self, forms: Sequence[Terms]) -> Array:
        """Return the covariance of forms (m, m) [in2]."""
        rows = self.matrix(forms)
        return np.asarray(rows @ self.solution.adjustment.cofactor @ rows.T)
