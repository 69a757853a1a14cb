"""Which frame size to order: the largest on offer that fits with the probability asked for."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sillwright.job import Job, Opening, UnitToSet
from sillwright.lengths import from_unit
from sillwright.setting.bearing import Bearings
from sillwright.setting.fit import Room, fit, needs, room
from sillwright.setting.model import Corner, OrderSize, SizeOdds
from sillwright.survey import Wall

STEP = {"in": 1 / 8, "mm": from_unit(5, "mm")}
"""Steps of frame size on offer where the job names none [in]: common practice, no source."""

SCREEN = 0.005
"""Error granted to the screening over cases."""


def order_size(
    job: Job, wall: Wall, bearings: Bearings, asked: UnitToSet, *, line: float, corners: tuple[Corner, ...], trimmed: float
) -> OrderSize:
    """Return the odds of the asked size and the largest that fits.

    Sizes on offer are screened over a lattice of cases; the asked and the largest get their exact odds.
    """
    space = room(wall, bearings, line=line, trimmed=trimmed)
    wanted = job.tolerances.fit_probability

    def exact(width: float, height: float) -> SizeOdds:
        unit = asked.model_copy(update={"frame_width": width, "frame_height": height})
        found = fit(wall, needs(wall, job.kit, replace(bearings, unit=unit), line=line, trimmed=trimmed), net=bearings.net)
        return SizeOdds(width=width, height=height, probability=0.0 if found is None else found.probability)

    known = space.width is not None and space.height is not None
    offered = [
        SizeOdds(width=w, height=h, probability=space.odds(width=w + taken_w(asked), height=h + taken_h(job, asked)))
        for w, h in (_offered(job, asked, space) if known else [])
    ]
    largest = None
    for size in sorted(offered, key=lambda s: (-s.width * s.height, -s.width)):
        if size.probability >= wanted - SCREEN and (sure := exact(size.width, size.height)).probability >= wanted:
            largest = sure
            break
    depths = [asked.jamb_depth + c.extension for c in corners if c.extension is not None and asked.jamb_depth is not None]
    opening = next(o for o in job.opening if o.name == asked.opening)
    return OrderSize(
        id=f"order.{asked.opening}",
        opening=asked.opening,
        asked=exact(asked.frame_width, asked.frame_height) if known else None,
        largest=largest,
        wanted_probability=wanted,
        offered=tuple(offered),
        smallest_tape=_smallest_tape(opening, taken_w(asked), taken_h(job, asked)),
        jamb_depth=(min(depths), max(depths)) if depths else None,
    )


def free_width(job: Job, wall: Wall, bearings: Bearings) -> float:
    """Return the width to plan with for a unit not yet ordered: as asked, or the widest on offer that fits.

    Its height does not count here: it follows from the line.
    """
    unit = bearings.unit
    space = room(wall, bearings, line=0.0)
    if unit.ordered or space.width is None:
        return unit.frame_width
    edge = (1.0 - job.tolerances.fit_probability) / 2.0
    widest = float(np.quantile(space.width, edge)) - taken_w(unit)
    if unit.frame_width <= widest:
        return unit.frame_width
    named = [size.width for size in unit.sizes if size.width <= widest]
    return max(named) if named else _step_down(widest, _step(job, unit))


def taken_w(unit: UnitToSet) -> float:
    """Return what a unit's width leaves to be found at its sides [in]."""
    return 2.0 * unit.least_side_clearance


def taken_h(job: Job, unit: UnitToSet) -> float:
    """Return what lies between line and head besides the unit [in]."""
    return job.kit.stack_above_line + unit.least_head_clearance


def _step(job: Job, unit: UnitToSet) -> float:
    return unit.size_step or STEP[job.units]


def _offered(job: Job, unit: UnitToSet, space: Room) -> list[tuple[float, float]]:
    """Return the sizes to judge: those named in the job, or steps around what fits."""
    if unit.sizes:
        return [(size.width, size.height) for size in unit.sizes]
    step = _step(job, unit)
    edge = (1.0 - job.tolerances.fit_probability) / 2.0
    widest = _step_down(float(np.quantile(_known(space.width), edge)) - taken_w(unit), step)
    highest = _step_down(float(np.quantile(_known(space.height), edge)) - taken_h(job, unit), step)
    around = [(widest + i * step, highest + j * step) for i in (-1, 0, 1) for j in (-1, 0, 1)]
    return [(w, h) for w, h in around if w > 0.0 and h > 0.0]


def _known(cases: np.ndarray[tuple[int], np.dtype[np.float64]] | None) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return cases if cases is not None else np.zeros(1)


def _step_down(value: float, step: float) -> float:
    return float(np.floor(value / step + 1e-9) * step)


def _smallest_tape(opening: Opening, off_width: float, off_height: float) -> tuple[float, float] | None:
    widths = [r.value for face in (opening.width, opening.width_inner) for three in (face.bottom, face.middle, face.top) for r in three or ()]
    heights = [r.value for h in (opening.height.left, opening.height.centre, opening.height.right) for r in h or ()]
    if not widths or not heights:
        return None
    return min(widths) - off_width, min(heights) - off_height
