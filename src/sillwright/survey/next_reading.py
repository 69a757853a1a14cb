"""What to measure next: the readings not yet taken that would most reduce the doubt of a decision.

A decision rests on one linear form g of the unknowns, with variance g'Qg. A further reading with row a and
standard deviation s takes (g'Qa)^2 / (s^2 + a'Qa) off it. The best is taken, Q updated, the next one found.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sillwright.job import Job
from sillwright.survey.adjust import Array
from sillwright.survey.candidates import Candidate, again, untaken
from sillwright.survey.model import NextReading
from sillwright.survey.observation import Terms
from sillwright.survey.wall import Wall

WORTHWHILE = 0.08
"""Share of the variance a reading must take off to be named."""
WORTH_REPEATING = 0.02
"""The same for a reading taken again, which is quickly done."""


def measure_next(
    job: Job, wall: Wall, question: Terms, *, decision: str, count: int = 3
) -> tuple[NextReading, ...]:
    """Return the readings that would most reduce the standard deviation of a linear form.

    Readings not yet taken come first; readings to be repeated only fill up.

    Args:
        job: the job, for what was taken and how exactly
        wall: the wall as adjusted
        question: the form that the decision rests on
        decision: that decision in words
        count: how many, each given those before it
    """
    if not question:
        return ()
    doubt = _Doubt(g=wall.matrix([question])[0], q=wall.solution.adjustment.cofactor.copy())
    found: list[NextReading] = []
    offers = ((untaken(job, wall, question), WORTHWHILE), (again(wall, question), WORTH_REPEATING))
    for candidates, least in offers:
        rows = wall.matrix([c.form for c in candidates])
        taken = _best(doubt, candidates, rows, least=least, count=count - len(found))
        found += [replace(reading, decision=decision) for reading in taken]
    return tuple(found)


@dataclass(slots=True)
class _Doubt:
    """The form asked about and the covariance of the unknowns so far."""

    g: Array
    q: Array

    @property
    def variance(self) -> float:
        return max(float(self.g @ self.q @ self.g), 0.0)


def _best(
    doubt: _Doubt, candidates: list[Candidate], rows: Array, *, least: float, count: int
) -> list[NextReading]:
    """Take the best candidates one after the other; the covariance is updated in place."""
    variance = np.array([c.sd for c in candidates]) ** 2
    left = np.ones(len(candidates), dtype=bool)
    found: list[NextReading] = []
    while len(found) < count and left.any():
        now = doubt.variance
        reach = rows @ doubt.q
        spread = np.einsum("ij,ij->i", reach, rows) + variance
        gain = np.where(left, (reach @ doubt.g) ** 2 / spread, 0.0)
        best = int(np.argmax(gain))
        if now <= 1e-12 or gain[best] < least * now:
            break
        left[best] = False
        doubt.q -= np.outer(reach[best], reach[best]) / spread[best]
        then = float(np.sqrt(doubt.variance))
        found.append(
            NextReading(
                label=candidates[best].label,
                opening=candidates[best].opening,
                decision="",
                sd_now=float(np.sqrt(now)),
                sd_then=then,
                reduction=1.0 - then / float(np.sqrt(now)),
            )
        )
    return found
