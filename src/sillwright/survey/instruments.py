"""Standard deviations of readings: stated, by instrument, or by kind.

Order: what the reading itself states, then its instrument, then `reading_sd` of the job, then a default.
A qualifier (strong, shy) adds its own spread.
"""

from __future__ import annotations

from sillwright.job import Job, Reading, SetUp

DEFAULT_SD = {
    "laser": 0.03,
    "width": 0.03,
    "height": 0.03,
    "diagonal": 0.05,
    "plumb": 0.03,
    "run": 0.06,
    "string": 0.03,
    "thickness": 0.03,
}
"""One standard deviation by kind of reading [in]: a 1/16 in tape rounds with 0.018 in (GUM 4.3.7), the rest
is placing hook, level and eye. Common practice, no source; state your own under [reading_sd]."""

MM_PER_M = 1e-3


def reading_sd(job: Job, *, kind: str, reading: Reading) -> float:
    """Return the standard deviation of one reading [in]."""
    instrument = next((i for i in job.instrument if i.name == reading.instrument), None)
    if reading.sd is not None:
        own = reading.sd
    elif instrument is not None and instrument.sd is not None:
        own = instrument.sd
    else:
        stated = getattr(job.reading_sd, kind)
        own = DEFAULT_SD[kind] if stated is None else stated
    return float((own**2 + reading.spread**2) ** 0.5)


def laser_tilt_sd(job: Job, setup: SetUp) -> float:
    """Return the standard deviation of a beam's slope [in/in] from its maker's bound.

    Source: a bound taken as rectangular, u = a / sqrt(3), GUM (JCGM 100:2008) 4.3.7; 0.3 mm/m is what two
    operating manuals of line lasers allow in their field check (docs/checks.md, laser-03).
    """
    instrument = next((i for i in job.instrument if i.name == setup.instrument), None)
    bound = 0.3 if instrument is None else instrument.tilt_mm_per_m
    return max(bound, 1e-3) * MM_PER_M / 3**0.5


def two_peg(*, near_a: float, near_b: float, far_a: float, far_b: float, apart: float) -> float:
    """Return a laser's slope of beam [in/in], upward away from it, by the two-peg test.

    The laser stands first at peg A, then at peg B; `near_a`, `near_b` are the readings down to pegs A and B
    from the first stand, `far_a`, `far_b` from the second. The true difference of height is the mean of both;
    what is left is the error over the distance.

    e = ((near_b - near_a) - (far_b - far_a)) / 2;  slope = e / apart

    Args:
        near_a: reading on A, laser at A [in]
        near_b: reading on B, laser at A [in]
        far_a: reading on A, laser at B [in]
        far_b: reading on B, laser at B [in]
        apart: distance between the pegs, positive [in]
    Source: common practice of levelling; worked by hand in tests/survey/test_knocks.py.
    """
    return ((near_b - near_a) - (far_b - far_a)) / 2.0 / apart
