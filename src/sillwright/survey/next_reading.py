"""What to measure next: the readings not yet taken that would most reduce the doubt of a decision.

A decision rests on one linear form g of the unknowns, with variance g'Qg. A further reading with row a and
standard deviation s takes (g'Qa)^2 / (s^2 + a'Qa) off it. The best is taken, Q updated, the next one found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sillwright.job import Job, Opening
from sillwright.survey.adjust import Array
from sillwright.survey.instruments import DEFAULT_SD
from sillwright.survey.model import NextReading
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Diagonal, Profile, Terms, plus
from sillwright.survey.wall import Wall

WORTHWHILE = 0.02
"""Share of the variance a reading must take off to be named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A reading that could be taken."""

    label: str
    opening: str | None
    form: Terms
    sd: float


def measure_next(
    job: Job, wall: Wall, question: Terms, *, decision: str, count: int = 3
) -> tuple[NextReading, ...]:
    """Return the readings that would most reduce the standard deviation of a linear form.

    Args:
        job: the job, for what was taken and how exactly
        wall: the wall as adjusted
        question: the form that the decision rests on
        decision: that decision in words
        count: how many, each given those before it
    """
    if not question:
        return ()
    g = wall.matrix([question])[0]
    q = wall.solution.adjustment.cofactor.copy()
    found: list[NextReading] = []
    for candidates in (_untaken(job, wall), _again(wall)):
        found += _best(wall, candidates, g, q, decision=decision, count=count - len(found))
    return tuple(found)


def _best(
    wall: Wall, candidates: list[Candidate], g: Array, q: Array, *, decision: str, count: int
) -> list[NextReading]:
    """Take the best candidates one after the other; q is updated in place."""
    rows = wall.matrix([c.form for c in candidates])
    variance = np.array([c.sd for c in candidates]) ** 2
    left = np.ones(len(candidates), dtype=bool)
    found: list[NextReading] = []
    while len(found) < count and left.any():
        now = float(g @ q @ g)
        reach = rows @ q
        spread = np.einsum("ij,ij->i", reach, rows) + variance
        gain = np.where(left, (reach @ g) ** 2 / spread, 0.0)
        best = int(np.argmax(gain))
        if now <= 1e-12 or gain[best] < WORTHWHILE * now:
            break
        left[best] = False
        q -= np.outer(reach[best], reach[best]) / spread[best]
        then = float(np.sqrt(max(g @ q @ g, 0.0)))
        found.append(
            NextReading(
                label=candidates[best].label,
                opening=candidates[best].opening,
                decision=decision,
                sd_now=now**0.5,
                sd_then=then,
                reduction=1.0 - then / now**0.5,
            )
        )
    return found


def _sd(job: Job, kind: str) -> float:
    stated = getattr(job.reading_sd, kind)
    return float(DEFAULT_SD[kind] if stated is None else stated)


def _untaken(job: Job, wall: Wall) -> list[Candidate]:
    found = [c for o in job.opening for c in _in_opening(job, o, wall.openings[o.name])]
    turned = {setup for group in wall.solution.network.lasers if len(group) > 1 for setup, _ in group}
    marks = sorted(mark.x for mark in job.mark) or [
        s.x for setup in job.setup for s in setup.series if s.mark is not None and s.x is not None
    ]
    apart = max(marks) - min(marks) if marks else 0.0
    for i, setup in enumerate(job.setup):
        if i not in turned and apart > 12.0:
            label = f"turn the laser of set-up {i + 1} ({setup.name}) round and shoot both marks again"
            form = ((wall.solution.network.tilts[i], 1.0),)
            found.append(Candidate(label=label, opening=None, form=form, sd=_sd(job, "laser") / apart))
    return found


def _in_opening(job: Job, o: Opening, net: OpeningNet) -> list[Candidate]:
    found: list[Candidate] = []

    def offer(taken: object, label: str, form: Terms, kind: str) -> None:
        if not taken:
            found.append(Candidate(label=f"{o.name}: {label}", opening=o.name, form=form, sd=_sd(job, kind)))

    if net.left is not None and net.right is not None:
        for where, h in zip(("bottom", "middle", "top"), net.frame.up, strict=True):
            width = plus((1.0, net.right.at(h)), (-1.0, net.left.at(h)))
            offer(getattr(o.width, where), f"width, {where}", width, "width")
        for side, jack in (("left", net.left), ("right", net.right)):
            offer(getattr(o, f"{side}_jack_x"), f"{side} jack from the wall mark", jack.at(0.0), "run")
            lean = getattr(o.plumb, side)
            form = plus((1.0, jack.at(net.frame.up[2])), (-1.0, jack.at(net.frame.near)))
            offer(lean and lean.top_leans_right, f"lean of the {side} jack to the right", form, "plumb")
            bow = next((bend for bend, place, _ in jack.bends() if abs(place - net.frame.up[1]) < 1e-9), ())
            offer(
                getattr(o.plumb_line, side),
                f"straightedge along the {side} jack, gap at the middle",
                bow,
                "plumb",
            )
    if net.head is not None:
        for where, x in zip(("left", "centre", "right"), net.frame.across, strict=True):
            height = plus((1.0, net.head.at(x)), (-1.0, net.sill.at(x)))
            offer(getattr(o.height, where), f"height, {where}", height, "height")
            shot = any(s.head == o.name for setup in job.setup for s in setup.series)
            offer(shot, f"shot to the head, {where}", net.head.at(x), "laser")
    for profile, edge in ((net.sill, "outer"), (net.sill_inner, "inner")):
        found += _between(job, o.name, profile, edge)
    return found


def _between(job: Job, name: str, profile: Profile | None, edge: str) -> list[Candidate]:
    if profile is None:
        return []
    gaps = zip(profile.stations, profile.stations[1:], strict=False)
    return [
        Candidate(
            label=f"{name}: shot to the {edge} sill edge once more near {a:.0f} in from the mark",
            opening=name,
            form=profile.at(a),
            sd=_sd(job, "laser"),
        )
        for a, b in gaps
        if b - a > 0
    ]


def _again(wall: Wall) -> list[Candidate]:
    return [
        Candidate(label=f"{o.label}, again by someone else", opening=o.opening, form=o.terms, sd=o.own_sd)
        for o in wall.solution.network.observations
        if not o.assumed and not isinstance(o.terms, Diagonal)
    ]
