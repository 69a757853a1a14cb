"""The beam of a set-up found again from its marks, after pads were fixed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtrc

from sillwright.errors import BadInput, Fault
from sillwright.job import Job, SetUp
from sillwright.survey import Survey, laser_tilt_sd, reading_sd

DOUBT = 0.001
"""Chance of marks that disagree so much by error of reading alone, below which they are not believed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """Height and slope of a beam; x counts from the set-up."""

    height: float
    slope: float
    covariance: NDArray[np.float64]
    """Of height and slope (2, 2)."""
    stands_at: float
    agrees: bool
    """The marks agree with each other as far as their readings can tell."""
    spread: float
    """Largest less smallest beam height that the marks give [in]."""

    def at(self, x: float) -> tuple[float, float]:
        """Return the beam's height at a place along the wall and its standard deviation [in]."""
        form = np.array([1.0, x - self.stands_at])
        return self.height + self.slope * form[1], float(np.sqrt(form @ self.covariance @ form))


def beam_of(job: Job, survey: Survey, number: int, setup: SetUp) -> Beam:
    """Return the beam of a set-up, by weighted least squares over its marks and its maker's bound of slope.

    Raises: BadInput: no mark of the survey was shot
    """
    marks = {mark.name: mark for mark in survey.marks}
    shots = [(marks[s.mark], r) for s in setup.series if s.mark in marks for r in s.down]
    if not shots:
        names = ", ".join(marks) or "none"
        what = "no mark of the survey was shot, so its beam has no height."
        raise BadInput(Fault(f"reshoot[{number}]", what, f"Marks: {names}."))
    seen = np.array([mark.z + r.value for mark, r in shots])
    sd = np.array([np.hypot(mark.sd, reading_sd(job, kind="laser", reading=r)) for mark, r in shots])
    away = np.array([mark.x - setup.x for mark, _ in shots])
    # the last row is the maker's statement: the beam is level within its bound
    design = np.vstack([np.column_stack([np.ones(len(seen)), away]), [0.0, 1.0]])
    weight = 1.0 / np.append(sd, laser_tilt_sd(job, setup)) ** 2
    values = np.append(seen, 0.0)
    cofactor = np.linalg.inv(design.T @ (weight[:, None] * design))
    found = cofactor @ (design.T @ (weight * values))
    misfit = float(np.sum(weight * (values - design @ found) ** 2))
    dof = len(seen) - 1
    return Beam(
        height=float(found[0]),
        slope=float(found[1]),
        covariance=cofactor,
        stands_at=setup.x,
        agrees=dof == 0 or float(chdtrc(dof, misfit)) > DOUBT,
        spread=float(seen.max() - seen.min()),
    )
