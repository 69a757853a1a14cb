"""The stock cannot make the pads: which shim would, or how far pads would have to miss the line."""

from __future__ import annotations

import numpy as np

from sillwright.errors import OutOfRange
from sillwright.job import HeadLine, Job, Shim
from sillwright.lengths import from_unit
from sillwright.setting.choose import choose
from sillwright.setting.model import Conflict, Demand
from sillwright.setting.seat import RowSeats, on_lines
from sillwright.setting.stock import Stock, shim_size, stock_of
from sillwright.setting.words import FINE, small

TRIED = {
    "in": (1 / 4, 3 / 16, 1 / 8, 3 / 32, 1 / 16, 1 / 32, 1 / 64),
    "mm": tuple(from_unit(t, "mm") for t in (6, 5, 4, 3, 2, 1, 0.5)),
}
"""Shims that could be bought, thick ones first [in]: common practice, no source."""
MOST_MISS = 16


def stock_conflict(
    job: Job, stock: Stock, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], number: int
) -> Conflict:
    """Return the conflict of rows whose pads the shims on hand cannot make within the tolerance."""
    seats = [seat for row in rows for seat in row.seats]
    unmade = tuple(seat.name for seat in seats if not seat.costs.feasible.any()) or tuple(
        s.name for s in seats
    )
    sizes = ", ".join(shim_size(s.thickness, job.units) for s in job.kit.shims if s.count != 0) or "none"
    off = small(job.tolerances.pad, job.units)
    text = f"pads within {off} of the line in {', '.join(unmade)}, from the shims on hand ({sizes})"
    cure, by = _cure(job, stock, rows, head_lines)
    return Conflict(
        id=f"conflict.{number}",
        openings=unmade,
        in_rows=tuple(tuple(row.row.openings) for row in rows),
        demands=(Demand(name="stock", text=text),),
        cure=cure,
        by=by,
    )


def _cure(
    job: Job, stock: Stock, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...]
) -> tuple[str, float]:
    """Return the thickest single shim that helps, else the tolerance that does."""
    for thickness in TRIED[job.units]:
        kit = job.kit.model_copy(
            update={"shims": (*job.kit.shims, Shim.model_construct(thickness=thickness))}
        )
        try:
            more = stock_of(kit, job.units)
        except OutOfRange:
            continue
        if _works(job.model_copy(update={"kit": kit}), more, rows, head_lines):
            return f"Get shims of {shim_size(thickness, job.units)}.", thickness
    for steps in range(1, MOST_MISS + 1):
        pad = job.tolerances.pad + steps * FINE[job.units]
        loose = job.tolerances.model_copy(update={"pad": pad})
        if _works(job.model_copy(update={"tolerances": loose}), stock, rows, head_lines):
            return f"Let pads miss the line by {small(pad, job.units)}.", pad - job.tolerances.pad
    return "Get thinner shims, several kinds.", 0.0


def _works(job: Job, stock: Stock, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...]) -> bool:
    again = tuple(on_lines(job, stock, row, np.asarray(row.lines)) for row in rows)
    way = choose(again, head_lines, kit=job.kit, tolerances=job.tolerances, unit=job.units, lines_only=True)
    return way is not None
