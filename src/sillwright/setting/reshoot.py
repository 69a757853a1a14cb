"""Pads shot again after they were fixed: accept, or what is still off and the correction."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sillwright.errors import BadInput, Fault
from sillwright.job import Job, Shot
from sillwright.lengths import show
from sillwright.setting.beam import Beam, beam_of
from sillwright.setting.model import Edge, Pad, Reshoot, ReshotPad, RowPlan
from sillwright.setting.words import small
from sillwright.survey import Survey, reading_sd

SURE = 1.96
"""Standard deviations that hold 95 of 100 errors."""
DISAGREE = 3.29
"""Standard deviations beyond which two shots of one pad are not believed: one in a thousand."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Top:
    """One shot of one pad's top."""

    pad: Pad
    edge: Edge
    path: str
    off: float
    """Top less the line [in]."""
    own_sd: float
    """Of the shot itself."""
    sd: float
    """With the beam's."""


def reshoot(job: Job, survey: Survey, pads: tuple[Pad, ...], rows: tuple[RowPlan, ...]) -> Reshoot | None:
    """Return the verdict on pads shot again; None where none was.

    Each pad's top is held against its line. A pad is off when it misses the line by more than the tolerance
    `level_over_unit`; where the pads of one unit still differ by more than that, those farthest from the line
    are off, until the rest agree.

    Raises: BadInput: a pad shot again is not in the plan, or a set-up has no mark of the survey
    """
    if not job.reshoot:
        return None
    line = {name: own.z for row in rows for own in row.lines for name in own.openings}
    by_number = {pad.number: pad for pad in pads}
    beams = [beam_of(job, survey, i, setup) for i, setup in enumerate(job.reshoot)]
    shots = [
        _top(job, beams[i], shot, f"reshoot[{i}].series[{k}]", by_number, line)
        for i, setup in enumerate(job.reshoot)
        for k, shot in enumerate(setup.series)
        if shot.pad is not None
    ]
    if not shots:
        return Reshoot(verdict="shoot again", sentence="No pad was shot again.", pads=())
    tops, split = _merged(shots)
    found = tuple(_judged(job, tops))
    doubt = _doubts(job, beams, split)
    return _verdict(job, found, doubt, {pad.number for pad in pads}, unsure=_unsure(job, tops))


def _top(job: Job, beam: Beam, shot: Shot, where: str, pads: dict[int, Pad], line: dict[str, float]) -> _Top:
    pad = pads.get(shot.pad or 0)
    if pad is None:
        known = f"Its pads are {min(pads)} to {max(pads)}." if pads else "Its sill needs none."
        raise BadInput(Fault(f"{where}.pad", f"the plan has no pad {shot.pad}.", known))
    height, beam_sd = beam.at(pad.x)
    weight = np.array([1.0 / reading_sd(job, kind="laser", reading=r) ** 2 for r in shot.down])
    down = float(np.sum(weight * [r.value for r in shot.down]) / weight.sum())
    own = float(weight.sum() ** -0.5)
    return _Top(
        pad=pad,
        edge=shot.edge,
        path=f"{where}.down",
        off=height - down - line[pad.opening],
        own_sd=own,
        sd=float(np.hypot(own, beam_sd)),
    )


def _merged(shots: list[_Top]) -> tuple[list[_Top], list[_Top]]:
    """Return one top for each pad and edge, weighted over its shots, and those whose shots disagree."""
    groups: dict[tuple[int, Edge], list[_Top]] = {}
    for shot in shots:
        groups.setdefault((shot.pad.number, shot.edge), []).append(shot)
    tops, split = [], []
    for _, same in sorted(groups.items(), key=lambda item: (item[0][0], item[0][1] == "inner")):
        weight = np.array([1.0 / top.sd**2 for top in same])
        off = float(np.sum(weight * [top.off for top in same]) / weight.sum())
        own = float(np.sum([1.0 / top.own_sd**2 for top in same]) ** -0.5)
        top = replace(same[0], off=off, own_sd=own, sd=float(weight.sum() ** -0.5))
        tops.append(top)
        spread = max(t.off for t in same) - min(t.off for t in same)
        if spread > DISAGREE * 2.0**0.5 * max(t.sd for t in same):
            split.append(top)
    return tops, split


def _judged(job: Job, tops: list[_Top]) -> list[ReshotPad]:
    tolerance = job.tolerances.level_over_unit + 1e-9
    off = {id(top) for top in tops if abs(top.off) > tolerance}
    for opening in dict.fromkeys(top.pad.opening for top in tops):
        left = [top for top in tops if top.pad.opening == opening and id(top) not in off]
        while len(left) > 1 and max(t.off for t in left) - min(t.off for t in left) > tolerance:
            worst = max(left, key=lambda top: abs(top.off))
            off.add(id(worst))
            left.remove(worst)
    return [
        ReshotPad(
            number=top.pad.number,
            edge=top.edge,
            path=top.path,
            off=top.off,
            sd=top.sd,
            correction=_correction(job, top) if id(top) in off else "",
        )
        for top in tops
    ]


def _correction(job: Job, top: _Top) -> str:
    where = "front" if top.edge == "outer" else "back"
    amount = small(abs(top.off), job.units)
    return f"pad {top.pad.number} {where}: {'take away' if top.off > 0 else 'add'} {amount}"


def _unsure(job: Job, tops: list[_Top]) -> bool:
    """Tell whether shots are too rough to judge a unit by: their own error alone may exceed the tolerance."""
    return SURE * float(np.median([top.own_sd for top in tops])) > job.tolerances.level_over_unit


def _doubts(job: Job, beams: list[Beam], split: list[_Top]) -> list[str]:
    found = [
        f"The marks of {setup.name} give beams that differ by {small(beam.spread, job.units)}: "
        "the laser moved, or a mark was misread."
        for setup, beam in zip(job.reshoot, beams, strict=True)
        if not beam.agrees
    ]
    edges = {"outer": "front", "inner": "back"}
    found += [f"Shots of pad {top.pad.number} {edges[top.edge]} disagree." for top in split]
    return found


def _verdict(
    job: Job, shot: tuple[ReshotPad, ...], doubts: list[str], numbers: set[int], *, unsure: bool
) -> Reshoot:
    if doubts:
        return Reshoot(verdict="shoot again", sentence=" ".join(doubts), pads=shot)
    off = [pad for pad in shot if pad.correction]
    limit = show(job.tolerances.level_over_unit, unit=job.units, mark=True)
    sure = [pad for pad in off if abs(pad.off) > job.tolerances.level_over_unit + SURE * pad.sd]
    if unsure and not sure:
        text = (
            f"The shots are too rough to tell {limit}: read to a finer graduation, or shoot each pad again."
        )
        return Reshoot(verdict="shoot again", sentence=text, pads=shot)
    missing = len(numbers - {pad.number for pad in shot})
    rest = f" {missing} pad{'s were' if missing > 1 else ' was'} not shot again." if missing else ""
    if off:
        what = "; ".join(pad.correction for pad in off)
        count = f"{len(off)} of {len(shot)} tops shot {'are' if len(off) > 1 else 'is'} off"
        return Reshoot(verdict="correct", sentence=f"{count}: {what}.{rest}", pads=shot)
    return Reshoot(
        verdict="accept", sentence=f"All pads shot are within {limit} of the line.{rest}", pads=shot
    )
