"""A three-opening wall planned end to end, and its packet, against one plain adjustment of the same wall."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from statistics import median

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from benchmarks.measure import Row, seconds
from sillwright.job import Job, load_job
from sillwright.packet import packet_pdf
from sillwright.plan import plan
from sillwright.survey.build import build
from sillwright.survey.network import Verdicts
from sillwright.survey.observation import Equations
from sillwright.survey.outliers import solve

Floats = NDArray[np.float64]

EXAMPLE = Path(__file__).parent.parent / "examples" / "farmhouse-three-casements.toml"
RUNS = 25
PACKETS = 5
PLAN_LIMIT_S = 0.050
PACKET_LIMIT_S = 2.0
WATER_LIMIT_S = 2.0


def dry(job: Job) -> Job:
    """Return a job that wants no water plan."""
    return job.model_copy(update={"water": job.water.model_copy(update={"scheme": "none"})})


def _with_dam(job: Job, height: float) -> Job:
    """Return a job with another back dam, so that nothing of its water was worked out before."""
    return job.model_copy(update={"water": job.water.model_copy(update={"back_dam": height})})


def plan_with_water() -> Row:
    """A wall planned with its water, against the same wall without: pieces, verdicts, laps, cut sizes."""
    job = load_job(EXAMPLE).job
    bare = dry(job)
    planned = plan(job)
    assert planned.water is not None, "the wall has no water plan"
    assert plan(bare).water is None
    walls = [_with_dam(job, 1.0 + n / 64) for n in range(1, PACKETS + 1)]  # results of a wall are kept
    ours = tuple(seconds(partial(plan, wall)) for wall in walls)
    theirs = tuple(seconds(lambda: plan(bare)) for _ in range(PACKETS))
    verdict = "met" if median(ours) < WATER_LIMIT_S else "missed"
    water = planned.water
    size = f"{len(water.pieces)} pieces, {len(water.places)} places, {len(water.laps)} laps"
    return Row(
        ours="plan of a three-opening wall with water",
        ours_s=ours,
        theirs="the same without water",
        theirs_s=theirs,
        target=0.01,
        notes=(size, f"limit {WATER_LIMIT_S:g} s median: {verdict}"),
    )


def plan_end_to_end() -> Row:
    """All but water and packet, against SciPy adjusting the readings once, without looking for mistakes."""
    job = dry(load_job(EXAMPLE).job)
    plan(job)
    theirs, adjusted = [], _adjusted_by_scipy(job)
    assert float(np.abs(adjusted - solve(job, Verdicts()).adjustment.x).max()) < 1e-6, "answers differ"
    ours = []
    for _ in range(RUNS):
        ours.append(seconds(lambda: plan(job)))
        theirs.append(seconds(lambda: _adjusted_by_scipy(job)))
    verdict = "met" if median(ours) < PLAN_LIMIT_S else "missed"
    return Row(
        ours="plan of a three-opening wall, without water",
        ours_s=tuple(ours),
        theirs="scipy.optimize.least_squares, the adjustment alone, derivatives by differences",
        theirs_s=tuple(theirs),
        target=0.5,
        notes=(f"limit {PLAN_LIMIT_S * 1e3:.0f} ms median: {verdict}",),
    )


def packet() -> Row:
    """The packet's PDF, against planning the wall."""
    job = load_job(EXAMPLE).job
    planned = plan(job)
    packet_pdf(job, planned)
    ours = tuple(seconds(lambda: packet_pdf(job, planned)) for _ in range(PACKETS))
    theirs = tuple(seconds(lambda: plan(job)) for _ in range(PACKETS))
    verdict = "met" if median(ours) < PACKET_LIMIT_S else "missed"
    return Row(
        ours="packet",
        ours_s=ours,
        theirs="whole plan of the same wall",
        theirs_s=theirs,
        target=PLAN_LIMIT_S / PACKET_LIMIT_S,
        notes=(f"limit {PACKET_LIMIT_S:.0f} s: {verdict}",),
    )


def _adjusted_by_scipy(job: Job) -> Floats:
    network = build(job, Verdicts())
    equations = Equations(tuple(network.observations), len(network.unknowns.start))
    scale = np.maximum(np.abs(np.array(network.unknowns.start)), 1.0)
    tilts = np.array(network.tilts)
    scale[tilts] = 1e-3
    start = np.array(network.unknowns.start) / scale

    def misclosure(y: Floats) -> Floats:
        return np.asarray((equations(y * scale)[0] - equations.value) / equations.sd)

    return np.asarray(least_squares(misclosure, start, method="lm", xtol=1e-12, ftol=1e-12).x * scale)
