"""Whether a laser's beam is level: by the test of two pegs that marks and turned set-ups make."""

from __future__ import annotations

from typing import Literal

from sillwright.job import Job
from sillwright.lengths import Unit, show
from sillwright.survey.instruments import MM_PER_M, laser_tilt_sd
from sillwright.survey.model import LaserCheck, SetUpResult
from sillwright.survey.outliers import Solution

Verdict = Literal["within its statement", "out of true", "not checked"]
TELLING = 1.96
"""Standard deviations of a bound that is right 95 times in 100."""
CHECKED = 0.5
"""A beam counts as checked when its slope is known to this share of what its maker's statement leaves."""
TEN_FEET = 120.0


def set_ups(job: Job, solution: Solution) -> tuple[SetUpResult, ...]:
    """Return height and slope of the beam of each set-up."""
    network, x, sd = solution.network, solution.adjustment.x, solution.adjustment.sd()
    return tuple(
        SetUpResult(
            number=i + 1,
            name=setup.name,
            height=float(x[network.heights[i]]),
            height_sd=float(sd[network.heights[i]]),
            slope_mm_per_m=float(x[network.tilts[i]]) / MM_PER_M,
            slope_sd_mm_per_m=float(sd[network.tilts[i]]) / MM_PER_M,
        )
        for i, setup in enumerate(job.setup)
    )


def lasers(job: Job, solution: Solution) -> tuple[LaserCheck, ...]:
    """Return, for each laser, whether its set-ups show its beam level."""
    groups = enumerate(solution.network.lasers, start=1)
    return tuple(_laser(job, solution, [i for i, _ in group], number) for number, group in groups)


def _laser(job: Job, solution: Solution, setups: list[int], number: int) -> LaserCheck:
    first = setups[0]
    index = solution.network.tilts[first]
    slope, sd = float(solution.adjustment.x[index]), float(solution.adjustment.sd()[index])
    prior = laser_tilt_sd(job, job.setup[first])
    stated = prior * 3**0.5
    distrusted = first in solution.verdicts.distrusted
    checked = sd < CHECKED * prior or distrusted
    out = distrusted or (checked and abs(slope) - TELLING * sd > stated)
    verdict: Verdict = "out of true" if out else "within its statement" if checked else "not checked"
    return LaserCheck(
        id=f"laser.{number}",
        setups=tuple(i + 1 for i in setups),
        slope_mm_per_m=slope / MM_PER_M,
        slope_sd_mm_per_m=sd / MM_PER_M,
        stated_mm_per_m=stated / MM_PER_M,
        verdict=verdict,
        sentence=_sentence(job.units, verdict, setups, slope=slope, sd=sd, stated=stated),
    )


def _sentence(
    unit: Unit, verdict: Verdict, setups: list[int], *, slope: float, sd: float, stated: float
) -> str:
    which = f"{'set-up' if len(setups) == 1 else 'set-ups'} {' and '.join(str(i + 1) for i in setups)}"
    if verdict == "not checked":
        return (
            f"Nothing checks that the beam of {which} is level; it is trusted to {_slope(stated, unit)}. "
            "Turn the laser round and shoot two marks far apart again to know."
        )
    if verdict == "out of true":
        way = "right" if slope > 0 else "left"
        return (
            f"The laser of {which} is out of true: as it stood in set-up {setups[0] + 1} its beam climbs to "
            f"the {way} by {_slope(abs(slope), unit)} (± {TELLING * sd / MM_PER_M:.2f}); its maker states "
            f"{stated / MM_PER_M:.2f}. The plan has taken this out; have it mended."
        )
    return f"The laser of {which} is level within {_slope(abs(slope) + TELLING * sd, unit)}."


def _slope(slope: float, unit: Unit) -> str:
    """Return a slope as lasers are rated, and on an inch job as it shows over ten feet."""
    said = f"{slope / MM_PER_M:.2f} mm per m"
    return (
        said
        if unit == "mm"
        else f"{said}, or {show(slope * TEN_FEET, graduation=1 / 64, mark=True)} in 10 ft"
    )
