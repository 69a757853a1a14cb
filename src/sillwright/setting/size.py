"""Which frame size to order: the largest on offer that fits with the probability asked for."""

from __future__ import annotations

import numpy as np

from sillwright.job import Job, Opening, UnitToSet
from sillwright.lengths import from_unit
from sillwright.setting.bearing import Bearings
from sillwright.setting.fit import Room, room
from sillwright.setting.model import Corner, OrderSize, SizeOdds
from sillwright.survey import Wall

STEP = {"in": 1 / 8, "mm": from_unit(5, "mm")}
"""Steps of frame size on offer where the job names none [in]: common practice, no source."""


def order_size(
    job: Job, wall: Wall, bearings: Bearings, *, line: float, corners: tuple[Corner, ...], trimmed: float
) -> OrderSize:
    """Return the odds of the asked size and the largest that fits."""
    unit = bearings.unit
    space = room(wall, bearings, line=line, trimmed=trimmed)
    wanted = job.tolerances.fit_probability
    taken_w = 2.0 * unit.least_side_clearance
    taken_h = job.kit.stack_above_line + unit.least_head_clearance

    def odds(width: float, height: float) -> SizeOdds:
        share = space.odds(width=width + taken_w, height=height + taken_h)
        return SizeOdds(width=width, height=height, probability=share)

    known = space.width is not None and space.height is not None
    offered = tuple(odds(w, h) for w, h in _offered(job, unit, space, taken_w, taken_h)) if known else ()
    fitting = [size for size in offered if size.probability >= wanted]
    depths = [unit.jamb_depth + c.extension for c in corners if c.extension is not None and unit.jamb_depth is not None]
    opening = next(o for o in job.opening if o.name == unit.opening)
    return OrderSize(
        id=f"order.{unit.opening}",
        opening=unit.opening,
        asked=odds(unit.frame_width, unit.frame_height) if known else None,
        largest=max(fitting, key=lambda s: (s.width * s.height, s.width)) if fitting else None,
        wanted_probability=wanted,
        offered=offered,
        smallest_tape=_smallest_tape(opening, taken_w, taken_h),
        jamb_depth=(min(depths), max(depths)) if depths else None,
    )


def _offered(job: Job, unit: UnitToSet, space: Room, taken_w: float, taken_h: float) -> list[tuple[float, float]]:
    """Return the sizes to judge: those named in the job, or steps around what fits."""
    if unit.sizes:
        return [(size.width, size.height) for size in unit.sizes]
    step = unit.size_step or STEP[job.units]
    edge = (1.0 - job.tolerances.fit_probability) / 2.0
    widest = _step_down(float(np.quantile(_known(space.width), edge)) - taken_w, step)
    highest = _step_down(float(np.quantile(_known(space.height), edge)) - taken_h, step)
    return [(widest + i * step, highest + j * step) for i in (-1, 0, 1) for j in (-1, 0, 1)]


def _known(cases: np.ndarray[tuple[int], np.dtype[np.float64]] | None) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return cases if cases is not None else np.zeros(1)


def _step_down(value: float, step: float) -> float:
    return float(np.floor(value / step + 1e-9) * step)


def _smallest_tape(opening: Opening, taken_w: float, taken_h: float) -> tuple[float, float] | None:
    widths = [r.value for face in (opening.width, opening.width_inner) for three in (face.bottom, face.middle, face.top) for r in three or ()]
    heights = [r.value for h in (opening.height.left, opening.height.centre, opening.height.right) for r in h or ()]
    if not widths or not heights:
        return None
    return min(widths) - taken_w, min(heights) - taken_h
