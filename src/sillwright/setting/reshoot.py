"""Pads shot again after they were fixed: accept, or what is still off and the correction."""

from __future__ import annotations

import numpy as np

from sillwright.errors import BadInput, Fault
from sillwright.job import Job, SetUp
from sillwright.lengths import show
from sillwright.setting.model import Pad, Reshoot, ReshotPad, RowPlan
from sillwright.survey import Survey, laser_tilt_sd, reading_sd


def reshoot(job: Job, survey: Survey, pads: tuple[Pad, ...], rows: tuple[RowPlan, ...]) -> Reshoot | None:
    """Return the verdict on pads shot again; None where none was.

    Each set-up's beam is found again from its marks; a pad is off when its top misses the line by more than
    `level_over_unit` after what the readings leave open at 95 % is granted.

    Raises: BadInput: a pad shot again is not in the plan, or a set-up has no mark of the survey
    """
    if not job.reshoot:
        return None
    line = {name: own.z for row in rows for own in row.lines for name in own.openings}
    by_number = {pad.number: pad for pad in pads}
    shot = [
        pad for i, setup in enumerate(job.reshoot) for pad in _one(job, survey, i, setup, by_number, line)
    ]
    off = [pad for pad in shot if pad.correction]
    unsure = [pad for pad in shot if 1.96 * pad.sd > job.tolerances.level_over_unit]
    if not shot:
        return Reshoot(verdict="shoot again", sentence="No pad was shot again.", pads=())
    if off:
        text = f"{len(off)} of {len(shot)} pads are still off: " + "; ".join(p.correction for p in off) + "."
        return Reshoot(verdict="correct", sentence=text, pads=tuple(shot))
    if len(unsure) == len(shot):
        text = "The shots are too unsure to accept the pads: shoot them from marks nearer by, or twice."
        return Reshoot(verdict="shoot again", sentence=text, pads=tuple(shot))
    limit = show(job.tolerances.level_over_unit, unit=job.units, mark=True)
    missing = len(by_number) - len({pad.number for pad in shot})
    rest = f" {missing} pads were not shot again." if missing else ""
    return Reshoot(
        verdict="accept", sentence=f"All pads shot are within {limit} of the line.{rest}", pads=tuple(shot)
    )


def _one(
    job: Job, survey: Survey, i: int, setup: SetUp, pads: dict[int, Pad], line: dict[str, float]
) -> list[ReshotPad]:
    marks = {mark.name: mark for mark in survey.marks}
    tied = [(s, k) for k, s in enumerate(setup.series) if s.mark in marks]
    if not tied:
        names = ", ".join(marks) or "none"
        raise BadInput(
            Fault(
                f"reshoot[{i}]",
                "no mark of the survey was shot, so its beam has no height.",
                f"Marks: {names}.",
            )
        )
    beams = [marks[s.mark or ""].z + r.value for s, _ in tied for r in s.down]
    sds = [
        np.hypot(marks[s.mark or ""].sd, reading_sd(job, kind="laser", reading=r))
        for s, _ in tied
        for r in s.down
    ]
    beam, beam_sd = float(np.mean(beams)), float(np.sqrt(np.sum(np.square(sds))) / len(sds))
    found = []
    for k, shot in enumerate(setup.series):
        if shot.pad is None:
            continue
        if shot.pad not in pads:
            raise BadInput(
                Fault(
                    f"reshoot[{i}].series[{k}].pad", f"the plan has no pad {shot.pad}.",
                    f"Its pads are {min(pads, default=0)} to {max(pads, default=0)}.",
                )
            )  # fmt: skip
        pad = pads[shot.pad]
        away = pad.x - float(np.mean([marks[s.mark or ""].x for s, _ in tied]))
        down = float(np.mean([r.value for r in shot.down]))
        own = reading_sd(job, kind="laser", reading=shot.down[0]) / len(shot.down) ** 0.5
        sd = float(np.sqrt(own**2 + beam_sd**2 + (away * laser_tilt_sd(job, setup)) ** 2))
        off = beam - down - line[pad.opening]
        found.append(
            ReshotPad(
                number=pad.number,
                edge=shot.edge,
                path=f"reshoot[{i}].series[{k}].down",
                off=off,
                sd=sd,
                correction=_correction(job, pad, shot.edge, off, sd),
            )
        )
    return found


def _correction(job: Job, pad: Pad, edge: str, off: float, sd: float) -> str:
    if abs(off) <= job.tolerances.level_over_unit + 1.96 * sd * (abs(off) <= job.tolerances.level_over_unit):
        return ""
    amount = show(abs(off), unit=job.units, graduation=1 / 32 if job.units == "in" else 1.0, mark=True)
    where = "front" if edge == "outer" else "back"
    return f"pad {pad.number} {where}: {'take away' if off > 0 else 'add'} {amount}"
