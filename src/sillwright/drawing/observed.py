"""Heights at which the laser readings of a sill put it, for plotting beside the adjusted sill."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from sillwright.job import Job
from sillwright.plan import Plan
from sillwright.survey.model import OpeningShape, Station

_SHOT = re.compile(r"setup\[(\d+)\]\.series\[(\d+)\]\.down(\[\d+\])?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Plotted:
    """One laser reading of a sill as a point."""

    reading: str
    opening: str
    x: float
    z: float
    outer: bool
    set_aside: bool


def plotted(job: Job, plan: Plan) -> tuple[Plotted, ...]:
    """Return every sill reading at the height it gives: the adjusted sill, plus adjusted less observed."""
    shapes = {shape.name: shape for shape in plan.survey.openings}
    found: list[Plotted] = []
    for reading in plan.survey.readings:
        match = _SHOT.fullmatch(reading.path)
        if match is None:
            continue
        shot = job.setup[int(match[1])].series[int(match[2])]
        if shot.sill is None or shot.x is None or shot.sill not in shapes:
            continue
        outer = shot.edge == "outer"
        stations = sill_of(shapes[shot.sill], outer=outer)
        if stations:
            found.append(
                Plotted(
                    reading=reading.id,
                    opening=shot.sill,
                    x=shot.x,
                    outer=outer,
                    z=height_at(stations, shot.x) + reading.residual,
                    set_aside=reading.status == "set aside",
                )
            )
    return tuple(found)


def sill_of(shape: OpeningShape, *, outer: bool) -> tuple[Station, ...]:
    """Return the sill's edge; the outer one stands for an inner edge that was not shot."""
    return shape.sill_outer if outer or not shape.sill_inner else shape.sill_inner


def height_at(stations: tuple[Station, ...], x: float) -> float:
    """Return the height of a drawn line at x, level beyond its ends."""
    for one, other in pairwise(stations):
        if one.at <= x <= other.at and other.at > one.at:
            return one.value + (other.value - one.value) * (x - one.at) / (other.at - one.at)
    return stations[0].value if x < stations[0].at else stations[-1].value
