"""Builds the network of a job: unknowns and observations in the order of the job file."""

from __future__ import annotations

from sillwright.job import Job
from sillwright.survey.faces import wall_string
from sillwright.survey.lasers import series, set_ups
from sillwright.survey.network import Network, Verdicts
from sillwright.survey.observation import Unknowns
from sillwright.survey.openings import opening
from sillwright.survey.rows import Rows

NO_VERDICTS = Verdicts()


def build(job: Job, verdicts: Verdicts = NO_VERDICTS) -> Network:
    """Return the network of a job under the verdicts on its readings."""
    network = Network(
        unknowns=Unknowns(),
        observations=[],
        openings={},
        heights=[],
        tilts=[],
        stands=[setup.x for setup in job.setup],
        lasers=[],
        marks={},
        points=[],
        jumps={},
        datum=_datum(job),
    )
    rows = Rows(job, verdicts, network)
    set_ups(rows)
    for index in range(len(job.opening)):
        opening(rows, index)
    wall_string(rows)
    for index, setup in enumerate(job.setup):
        series(rows, index, setup)
    return network


def _datum(job: Job) -> str:
    if job.mark:
        return job.mark[0].name
    named = (shot.mark for setup in job.setup for shot in setup.series if shot.mark is not None)
    return next(named, "beam of the first set-up")
