"""Which size to order: the odds of the asked one, and the largest on offer that fits surely."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from sillwright.job import Job, Opening, Readings, UnitToSet
from sillwright.lengths import from_unit
from sillwright.setting.bearing import Bearings
from sillwright.setting.fit import needs, odds
from sillwright.setting.model import Corner, OrderSize, SizeOdds
from sillwright.setting.room import Meeting, meeting, resized, stack_height
from sillwright.survey import Wall

Floats = NDArray[np.float64]

STEP = {"in": 1 / 8, "mm": from_unit(5, "mm")}
"""Steps of frame size on offer where the job names none [in]: common practice, no source."""
POINTS = 2048
SCREEN = 0.005
"""Error granted to the screening over cases."""


@dataclass(frozen=True, slots=True)
class Room:
    """Room for a plumb and level box over equally likely cases (c,) [in]; None where not determined."""

    width: Floats | None
    height: Floats | None

    def odds(self, *, width: float, height: float) -> float:
        """Return the share of cases in which a box goes in."""
        ok = np.ones(POINTS, dtype=bool)
        if self.width is not None:
            ok &= self.width >= width
        if self.height is not None:
            ok &= self.height >= height
        return float(ok.mean())


def room(found: Meeting, *, line: float, trimmed: float = 0.0) -> Room:
    """Return the room in an opening over a fixed lattice of cases.

    The box is plumb and level, wherever along the opening it fits best: its width is the least right-hand
    point less the greatest left-hand point, not the smallest taped width.
    """
    if not len(found.mean):
        return Room(None, None)
    cases = _cases(found.mean, found.covariance)
    left, right, head = ([i for i, _ in points] for points in (found.left, found.right, found.head))
    width = cases[right].min(axis=0) - cases[left].max(axis=0) + trimmed if left else None
    height = (cases[head] - (line - found.head_sill)[:, None]).min(axis=0) if head else None
    return Room(width, height)


def order_size(
    job: Job,
    wall: Wall,
    bearings: Bearings,
    asked: UnitToSet,
    *,
    line: float,
    corners: tuple[Corner, ...],
    trimmed: float,
) -> OrderSize:
    """Return the odds of the asked size and the largest that fits.

    Sizes on offer are screened over a lattice of cases; the asked and the largest get their exact odds.
    """
    found = meeting(wall, resized(bearings, width=asked.frame_width, height=asked.frame_height))
    space = room(found, line=line, trimmed=trimmed)

    def exact(width: float, height: float) -> SizeOdds:
        own, at = found, asked
        if (width, height) != (asked.frame_width, asked.frame_height):
            other = resized(bearings, width=width, height=height)
            own, at = meeting(wall, other), other.unit
        chance = odds(needs(own, job.kit, at, line=line, trimmed=trimmed))
        return SizeOdds(width=width, height=height, probability=chance)

    known = space.width is not None and space.height is not None
    offered = _screened(job, asked, space) if known else ()
    wanted = job.tolerances.fit_probability
    largest = None
    for size in sorted(offered, key=lambda s: (-s.width * s.height, -s.width)):
        if size.probability >= wanted - SCREEN:
            found_sure = exact(size.width, size.height)
            if found_sure.probability >= wanted:
                largest = found_sure
                break
    opening = next(o for o in job.opening if o.name == asked.opening)
    as_asked = exact(asked.frame_width, asked.frame_height) if known else None
    sure = {(size.width, size.height): size for size in (largest, as_asked) if size is not None}
    return OrderSize(
        id=f"order.{asked.opening}",
        opening=asked.opening,
        asked=as_asked,
        largest=largest,
        wanted_probability=wanted,
        offered=tuple(sure.get((size.width, size.height), size) for size in offered),
        smallest_tape=_smallest_tape(opening, _taken_w(asked), stack_height(job.kit, asked)),
        jamb_depth=_depths(asked, corners),
    )


def free_width(job: Job, wall: Wall, bearings: Bearings) -> float:
    """Return the width to plan with for a unit not yet ordered: as asked, or the widest on offer that fits.

    Its height does not count here: it follows from the line.
    """
    unit = bearings.unit
    if unit.ordered:
        return unit.frame_width
    space = room(meeting(wall, bearings), line=0.0)
    if space.width is None:
        return unit.frame_width
    widest = _quantile(job, space.width) - _taken_w(unit)
    if unit.frame_width <= widest:
        return unit.frame_width
    named = [size.width for size in unit.sizes if size.width <= widest]
    return max(named) if named else max(_step_down(widest, _step(job, unit)), _step(job, unit))


def spare_width(job: Job, wall: Wall, bearings: Bearings) -> float:
    """Return by how much the room in width may come out less than expected, at the odds asked for [in]."""
    found = meeting(wall, bearings)
    width = room(found, line=0.0).width
    if width is None:
        return 0.0
    left, right = ([found.mean[i] for i, _ in points] for points in (found.left, found.right))
    expected = float(min(right) - max(left))
    return max(expected - _quantile(job, width), 0.0)


def _quantile(job: Job, cases: Floats) -> float:
    """Return what a room exceeds with half the risk granted: width and height share it."""
    rank = int((1.0 - job.tolerances.fit_probability) / 2.0 * (len(cases) - 1))
    return float(np.partition(cases, rank)[rank])


def _screened(job: Job, asked: UnitToSet, space: Room) -> tuple[SizeOdds, ...]:
    off_w, off_h = _taken_w(asked), stack_height(job.kit, asked)
    return tuple(
        SizeOdds(width=w, height=h, probability=space.odds(width=w + off_w, height=h + off_h))
        for w, h in _offered(job, asked, space)
    )


def _taken_w(unit: UnitToSet) -> float:
    """Return what a unit's width leaves to be found at its sides [in]."""
    return 2.0 * unit.least_side_clearance


def _step(job: Job, unit: UnitToSet) -> float:
    return unit.size_step or STEP[job.units]


def _offered(job: Job, unit: UnitToSet, space: Room) -> list[tuple[float, float]]:
    """Return the sizes to judge: those named in the job, or steps around what fits."""
    if unit.sizes:
        return [(size.width, size.height) for size in unit.sizes]
    if space.width is None or space.height is None:
        return []
    step = _step(job, unit)
    widest = _step_down(_quantile(job, space.width) - _taken_w(unit), step)
    highest = _step_down(_quantile(job, space.height) - stack_height(job.kit, unit), step)
    around = [(widest + i * step, highest + j * step) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    return [(w, h) for w, h in around if w > 0.0 and h > 0.0]


def _step_down(value: float, step: float) -> float:
    return float(np.floor(value / step + 1e-9) * step)


def _depths(asked: UnitToSet, corners: tuple[Corner, ...]) -> tuple[float, float] | None:
    extensions = [corner.extension for corner in corners if corner.extension is not None]
    if asked.jamb_depth is None or not extensions:
        return None
    return asked.jamb_depth + min(extensions), asked.jamb_depth + max(extensions)


def _smallest_tape(opening: Opening, off_width: float, off_height: float) -> tuple[float, float] | None:
    widths = _read(
        w for face in (opening.width, opening.width_inner) for w in (face.bottom, face.middle, face.top)
    )
    across = (opening.height, opening.height_inner)
    heights = _read(h for face in across for h in (face.left, face.centre, face.right))
    return (min(widths) - off_width, min(heights) - off_height) if widths and heights else None


def _read(many: Iterable[Readings | None]) -> list[float]:
    return [reading.value for readings in many for reading in readings or ()]


def _cases(mean: Floats, covariance: Floats) -> Floats:
    """Return equally likely cases (m, POINTS) of a normal vector on a Richtmyer lattice, not random."""
    value, vector = np.linalg.eigh(covariance)
    kept = value > 1e-12 * max(float(value.max()), 1e-300)
    root = vector[:, kept] * np.sqrt(value[kept])
    return np.asarray(mean[:, None] + root @ _normal_lattice(root.shape[1]))


@lru_cache(maxsize=64)
def _normal_lattice(dimensions: int) -> Floats:
    primes = [n for n in range(2, 400) if all(n % p for p in range(2, int(n**0.5) + 1))]
    steps = np.arange(1, POINTS + 1)[None, :] * np.sqrt(primes[:dimensions])[:, None]
    return np.asarray(ndtri(np.clip(steps % 1.0, 1e-9, 1 - 1e-9)))
