"""What to do, numbered as on the drawing, in the order of work."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.job import Job
from sillwright.lengths import from_unit, show
from sillwright.setting.model import Act, Pad, PlanedRun, RowPlan, Trim, UnitPosition
from sillwright.setting.words import small_bare, thickness

FURRED = {"in": 1 / 16, "mm": from_unit(2, "mm")}
"""Least packing worth an act [in]: common practice, no source."""


def acts_of(
    job: Job,
    pads: tuple[Pad, ...],
    planed: tuple[PlanedRun, ...],
    trims: tuple[Trim, ...],
    units: tuple[UnitPosition, ...],
    rows: tuple[RowPlan, ...],
) -> tuple[Act, ...]:
    """Return the numbered acts of a wall: plane, cut back, pad, then set and fur out unit by unit."""
    line = {name: own.z for row in rows for own in row.lines for name in own.openings}
    of = {unit.opening: unit for unit in units}
    found = [_plane(job, run, line[run.opening]) for run in planed]
    found += [_trim(job, trim, of[trim.opening]) for trim in trims]
    found += [_pad(job, pad, line[pad.opening]) for pad in pads]
    number = max((act.number for act in found), default=0)
    for unit in sorted(units, key=lambda u: u.left):
        for act in _unit(job, unit, number + 1):
            found.append(act)
            number = act.number
    return tuple(found)


def _at(job: Job, length: float) -> str:
    return show(length, unit=job.units)


def _plane(job: Job, run: PlanedRun, z: float) -> Act:
    text = (
        f"Plane {run.edge} edge {_at(job, run.start)} to {_at(job, run.end)}, "
        f"{small_bare(run.deepest, job.units)} deep at {_at(job, run.deepest_x)}"
    )
    return Act(
        number=run.number, kind="plane", opening=run.opening, x=run.deepest_x, z=z, text=text, ref=run.id
    )


def _trim(job: Job, trim: Trim, unit: UnitPosition) -> Act:
    return Act(
        number=trim.number,
        kind="trim",
        opening=trim.opening,
        x=unit.left if trim.side == "left" else unit.right,
        z=(unit.bottom + unit.top) / 2.0,
        text=f"Cut {small_bare(trim.amount, job.units)} off the {trim.side} jack of {trim.opening}",
        ref=trim.id,
    )


def _pad(job: Job, pad: Pad, z: float) -> Act:
    front, x = thickness(pad.front, job.units), _at(job, pad.x)
    back = None if pad.back is None else thickness(pad.back, job.units)
    if back is None or back == front:
        text = f"Pad {front} at {x}"
    elif pad.back == 0.0:
        text = f"Pad {front} front only at {x}"
    elif pad.front == 0.0:
        text = f"Pad {back} back only at {x}"
    else:
        text = f"Pad {front} front, {back} back at {x}"
    return Act(number=pad.number, kind="pad", opening=pad.opening, x=pad.x, z=z, text=text, ref=pad.id)


def _unit(job: Job, unit: UnitPosition, number: int) -> Iterator[Act]:
    place = f"left side at {_at(job, unit.left)}" if unit.position_known else "centred in its opening"
    yield Act(
        number=number,
        kind="set",
        opening=unit.opening,
        x=(unit.left + unit.right) / 2.0,
        z=(unit.bottom + unit.top) / 2.0,
        text=f"Set {unit.opening}, {place}",
        ref=unit.id,
    )
    for corner in unit.corners:
        if corner.fur_out is None or corner.fur_out < FURRED[job.units]:
            continue
        number += 1
        name, amount = corner.corner.replace("_", " "), small_bare(corner.fur_out, job.units)
        yield Act(
            number=number,
            kind="fur",
            opening=unit.opening,
            x=unit.left if "left" in corner.corner else unit.right,
            z=unit.bottom if "bottom" in corner.corner else unit.top,
            text=f"Fur out {name} corner of {unit.opening} by {amount}",
            ref=unit.id,
        )
