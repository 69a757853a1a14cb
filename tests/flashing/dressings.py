"""Walls with a water section, invented, and what comes of them without the search for ways of water."""

from __future__ import annotations

from typing import Any

from tests.setting.walls import Hole, job_of

from sillwright.flashing import Dressed, dressed
from sillwright.job import Job
from sillwright.setting import set_wall
from sillwright.survey import Wall, cleanse, report
from sillwright.water import Dressing

PIECES = ["1/2", "3 1/2", "1/2"]
"""A wall of 4 1/2 in."""


def a_job(*holes: Hole, **water: Any) -> Job:
    """Return the job of one opening, or of others, with a wall 4 1/2 in deep and more keys of [water]."""
    return job_of(*(holes or (Hole(name="A", left=30.0),)), water={"wall_pieces": PIECES} | water)


def dress_job(job: Job) -> Dressed:
    """Return a job's wall dressed, without a deck."""
    solution = cleanse(job)
    survey = report(job, solution)
    return dressed(job, survey, set_wall(job, Wall(solution), survey), None)


def dressing_of(job: Job) -> Dressing:
    """Return the dressing of a job that has one."""
    found = dress_job(job).dressing
    assert found is not None
    return found


def names(dressing: Dressing) -> list[str]:
    """Return the names of the pieces in the order of work."""
    return [sheet.name for sheet in sorted(dressing.sheets, key=lambda sheet: sheet.laid)]
