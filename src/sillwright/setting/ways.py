"""The next best ways to set a row that differ in kind from the chosen one."""

from __future__ import annotations

from collections.abc import Set

import numpy as np

from sillwright.job import HeadLine, Job
from sillwright.setting.choose import Chosen, Kind, choose, kind_of, kinds
from sillwright.setting.seat import RowSeats

ALTERNATIVES = 2


def alternatives(
    job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], number: int, chosen: Chosen
) -> list[Chosen]:
    """Return the next best ways to set row `number`, each of another kind than those before it."""
    found: list[Chosen] = []
    without = {kind_of(rows[number], chosen)}
    while len(found) < ALTERNATIVES:
        way = _next(job, rows, head_lines, number, without)
        if way is None:
            break
        without.add(kind_of(rows[number], way))
        found.append(way)
    return found


def _next(
    job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], number: int, without: Set[Kind]
) -> Chosen | None:
    row = rows[number]
    if not head_lines and not row.may_step:
        return _best_line(row, without)
    return choose(
        rows,
        head_lines,
        kit=job.kit,
        tolerances=job.tolerances,
        unit=job.units,
        without=frozenset((number, kind) for kind in without),
        lines_only=True,
    )


def _best_line(row: RowSeats, without: Set[Kind]) -> Chosen | None:
    """Return the best line of a row that depends on no other: one look along its table."""
    minutes = np.sum([seat.costs.minutes for seat in row.seats], axis=0)
    ok = np.all([seat.costs.feasible for seat in row.seats], axis=0)
    ok &= np.array([(planed, False) not in without for planed in kinds(row)])
    if not ok.any():
        return None
    best = int(np.argmin(np.where(ok, minutes, np.inf)))
    return Chosen(
        line_index={seat.name: best for seat in row.seats},
        left={},
        trimmed={},
        too_wide={},
        too_narrow={},
        plane={},
        stepped=(False,),
        minutes=float(minutes[best]),
    )
