"""Builds the network of a job: unknowns and observations in the order of the job file."""

from __future__ import annotations

from dataclasses import replace

from sillwright.job import Job
from sillwright.survey.faces import wall_string
from sillwright.survey.lasers import DISTRUSTED_TILT_SD, series, set_ups
from sillwright.survey.network import Network, Verdicts
from sillwright.survey.observation import Unknowns
from sillwright.survey.openings import opening
from sillwright.survey.rows import Rows, weighed

NO_VERDICTS = Verdicts()
PLACING = frozenset({"width", "height", "run"})
"""Kinds of reading from which the rough places of an opening are taken."""


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


def reweighted(network: Network, verdicts: Verdicts) -> Network | None:
    """Return a network built without verdicts under some; None where they change more than weights.

    Knocks add unknowns, and widths, heights and running readings set aside move the places of others.
    """
    moved = (o.id for o in network.observations if o.kind in PLACING)
    if verdicts.knocks or not verdicts.excluded.isdisjoint(moved):
        return None
    doubted = {f"assumed.tilt.{first + 1}" for first in verdicts.distrusted}
    observations = [
        replace(o, sd=max(o.own_sd, DISTRUSTED_TILT_SD)) if o.id in doubted else weighed(o, verdicts)
        for o in network.observations
    ]
    return replace(network, observations=observations)


def _datum(job: Job) -> str:
    if job.mark:
        return job.mark[0].name
    named = (shot.mark for setup in job.setup for shot in setup.series if shot.mark is not None)
    return next(named, "beam of the first set-up")
