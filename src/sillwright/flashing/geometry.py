"""The true shape of an opening as water sees it, out of the adjusted readings: never of what was not read."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sillwright.flashing.assumed import Assumed
from sillwright.job import Job
from sillwright.lengths import show
from sillwright.survey.model import OpeningShape, Station
from sillwright.water import RoughOpening

Flat = tuple[float, float]
BACK_DAM = 1.0
"""Height of the back dam where a job does not say it [in]: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """An opening without a water plan."""

    opening: str
    reason: str
    advice: str


def rough_opening(job: Job, shape: OpeningShape, *, set_back: float, alone: bool) -> RoughOpening | LeftOut:
    """Return an opening with its adjusted corners and its depth, or why it cannot be had.

    Args:    set_back: of its unit [in]; alone: nothing else is on the wall, so that its place does not matter
    """
    lacks = _lacks(shape, alone=alone)
    if lacks is not None:
        return LeftOut(opening=shape.name, reason=lacks[0], advice=lacks[1])
    depth = wall_depth(job, shape)
    if depth is None:
        reason = "the depth of its wall is not known"
        advice = "Read wall_thickness in its [[opening]], or state water.wall_pieces."
        return LeftOut(opening=shape.name, reason=reason, advice=advice)
    if set_back >= depth:
        reason = "its unit is set back further than the wall is deep"
        return LeftOut(opening=shape.name, reason=reason, advice="Check set_back in its [[unit]].")
    return RoughOpening(
        name=shape.name,
        corners=_corners(shape),
        depth=depth,
        sill_rise=_sill_rise(job, shape, depth),
        dam=BACK_DAM if job.water.back_dam is None else job.water.back_dam,
        front=set_back,
    )


def _lacks(shape: OpeningShape, *, alone: bool) -> tuple[str, str] | None:
    if not shape.level_known:
        return "its height and level are not known", "Shoot its sill."
    if not (alone or shape.position_known):
        return "its place along the wall is not known", "Tape one of its jacks from the wall mark."
    if not shape.sill_outer:
        return "its sill was not read", "Shoot its sill at both ends, at the face of the sheathing."
    if not shape.head_outer:
        return "its head was not read", "Tape a height in it, or shoot its head."
    if not (shape.left_jack and shape.right_jack):
        return "its width was not read", "Tape a width in it."
    return None


def wall_depth(job: Job, shape: OpeningShape) -> float | None:
    """Return how deep an opening is from the sheathing's face to the room [in]; None: not known."""
    if job.water.wall_pieces:
        return sum(job.water.wall_pieces) or None
    read = [station.value for station in shape.wall_thickness.values()]
    return sum(read) / len(read) if read else None


def _corners(shape: OpeningShape) -> tuple[Flat, Flat, Flat, Flat]:
    left, right = shape.left_jack, shape.right_jack
    sill = _along(left, 0.0), _along(right, 0.0)
    head = _along(right, shape.height), _along(left, shape.height)
    a, b = ((x, _along(shape.sill_outer, x)) for x in sill)
    c, d = ((x, _along(shape.head_outer, x)) for x in head)
    return a, b, c, d


def _along(stations: tuple[Station, ...], at: float) -> float:
    """Return the value at a place, straight between stations and on beyond the last ones."""
    if len(stations) == 1:
        return stations[0].value
    ordered = sorted(stations, key=lambda each: each.at)
    pairs = list(pairwise(ordered))
    low, high = next((pair for pair in pairs if at <= pair[1].at), pairs[-1])
    share = (at - low.at) / (high.at - low.at) if high.at > low.at else 0.0
    return low.value + share * (high.value - low.value)


def _sill_rise(job: Job, shape: OpeningShape, depth: float) -> float:
    if job.water.sill_slope_pct is not None:
        return job.water.sill_slope_pct / 100.0
    strip = job.kit.sloped_strip
    wedge = strip.thick - strip.thin if strip is not None else 0.0
    return ((shape.fall_outward or 0.0) + wedge) / depth


def assumed_of_shape(job: Job, shapes: list[OpeningShape]) -> list[Assumed]:
    """Return what is taken of the openings' shape without a word in the job."""
    found = []
    if job.water.back_dam is None:
        high = show(BACK_DAM, unit=job.units, mark=True)
        found.append(Assumed(key="water.back_dam", text=f"a back dam of {high}"))
    unread = [each.name for each in shapes if each.fall_outward is None]
    if unread and job.water.sill_slope_pct is None:
        text = f"sills that are level from front to back but for a sloped strip: {', '.join(unread)}"
        found.append(Assumed(key="water.sill_slope_pct", text=text))
    return found
