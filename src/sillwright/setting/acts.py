"""What to do, numbered as on the drawing, in the order of work."""

from __future__ import annotations

from sillwright.job import Job
from sillwright.lengths import from_unit, show
from sillwright.setting.model import Act, Pad, PlanedRun, RowPlan, Trim, UnitPosition


def acts_of(
    job: Job,
    pads: tuple[Pad, ...],
    planed: tuple[PlanedRun, ...],
    trims: tuple[Trim, ...],
    units: tuple[UnitPosition, ...],
    rows: tuple[RowPlan, ...],
) -> tuple[Act, ...]:
    """Return the numbered acts of a wall."""
    fine = 1 / 32 if job.units == "in" else 1.0

    def say(length: float) -> str:
        return show(length, unit=job.units, graduation=fine)

    def at(length: float) -> str:
        return show(length, unit=job.units)

    line = {name: own.z for row in rows for own in row.lines for name in own.openings}
    found = [
        Act(
            number=run.number,
            kind="plane",
            opening=run.opening,
            x=run.deepest_x,
            z=line[run.opening],
            text=f"Plane {'front' if run.edge == 'outer' else 'back'} edge {at(run.start)} to {at(run.end)}, "
            f"{say(run.deepest)} deep at {at(run.deepest_x)}",
            ref=run.id,
        )
        for run in planed
    ]
    of = {unit.opening: unit for unit in units}
    found += [
        Act(
            number=trim.number,
            kind="trim",
            opening=trim.opening,
            x=of[trim.opening].left if trim.side == "left" else of[trim.opening].right,
            z=(of[trim.opening].bottom + of[trim.opening].top) / 2.0,
            text=f"Cut {say(trim.amount)} off the {trim.side} jack of {trim.opening}",
            ref=trim.id,
        )
        for trim in trims
    ]
    found += [
        Act(
            number=pad.number,
            kind="pad",
            opening=pad.opening,
            x=pad.x,
            z=line[pad.opening],
            text=_pad_text(pad, say(pad.front), None if pad.back is None else say(pad.back), at(pad.x)),
            ref=pad.id,
        )
        for pad in pads
    ]
    number = max((act.number for act in found), default=0)
    for unit in sorted(units, key=lambda u: u.left):
        number += 1
        place = f"left side at {at(unit.left)}" if unit.position_known else "centred in its opening"
        found.append(
            Act(
                number=number,
                kind="set",
                opening=unit.opening,
                x=(unit.left + unit.right) / 2.0,
                z=(unit.bottom + unit.top) / 2.0,
                text=f"Set {unit.opening}, {place}",
                ref=unit.id,
            )
        )
        furs = [c for c in unit.corners if c.fur_out is not None and c.fur_out >= fine_of(job)]
        for corner in furs:
            number += 1
            found.append(
                Act(
                    number=number,
                    kind="fur",
                    opening=unit.opening,
                    x=unit.left if "left" in corner.corner else unit.right,
                    z=unit.bottom if "bottom" in corner.corner else unit.top,
                    text=f"Fur out {corner.corner.replace('_', ' ')} corner of {unit.opening} by "
                    f"{say(corner.fur_out or 0.0)}",
                    ref=unit.id,
                )
            )
    return tuple(found)


def fine_of(job: Job) -> float:
    """Return the least packing worth an act [in]."""
    return 1 / 16 if job.units == "in" else from_unit(2, "mm")


def _pad_text(pad: Pad, front: str, back: str | None, x: str) -> str:
    if back is None or back == front:
        return f"Pad {front} at {x}"
    if pad.front == 0.0 or pad.back == 0.0:
        return (
            f"Pad {front} at the front only, at {x}"
            if pad.back == 0.0
            else f"Pad {back} at the back only, at {x}"
        )
    return f"Pad {front} front, {back} back at {x}"
