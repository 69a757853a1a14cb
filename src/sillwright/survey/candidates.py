"""Readings that could be taken: those of the usual set not yet taken, and those worth repeating.

Only readings of the openings a decision is about are offered, and of the laser they were shot with: a shot
in the next opening may tell something through a common set-up, but nobody would go there for it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from sillwright.job import Job, Opening
from sillwright.lengths import show
from sillwright.survey.adjust import Array
from sillwright.survey.faces import crossing
from sillwright.survey.frame import ACROSS, UP
from sillwright.survey.instruments import DEFAULT_SD
from sillwright.survey.lasers import TILT_REPEAT
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Diagonal, Profile, Terms, plus
from sillwright.survey.openings import CORNERS, diagonal_forms
from sillwright.survey.wall import Wall

APART = 12.0
"""Least distance between two marks from which a turned laser shows its slope [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A reading that could be taken."""

    label: str
    opening: str | None
    form: Terms
    sd: float


Offer = Callable[[object, str, Terms, str], None]
"""Offer a reading unless taken: what was taken, label, linear form, kind."""


def untaken(job: Job, wall: Wall, question: Terms) -> list[Candidate]:
    """Return the readings of the usual set that were not taken, in the openings asked about."""
    asked = openings_asked(wall, question)
    found = [c for o in job.opening if o.name in asked for c in _in_opening(job, wall, o)]
    return found + _turning(job, wall, asked)


def openings_asked(wall: Wall, question: Terms) -> set[str]:
    """Return the names of the openings whose unknowns a question is about."""
    names = list(wall.solution.network.unknowns.index)
    return {str(names[index][0]).removesuffix(".sill").removesuffix(".head") for index, _ in question}


def again(wall: Wall, question: Terms) -> list[Candidate]:
    """Return readings of the openings asked about, to be repeated by someone else."""
    asked = openings_asked(wall, question)
    design, observations = wall.solution.adjustment.design, wall.solution.network.observations
    return [
        Candidate(
            label=f"{o.label}, again by someone else",
            opening=o.opening,
            form=_linearised(design[i] * o.sd) if isinstance(o.terms, Diagonal) else o.terms,
            sd=o.own_sd,
        )
        for i, o in enumerate(observations)
        if not o.assumed and o.opening in asked
    ]


def _linearised(row: Array) -> Terms:
    return tuple((int(k), float(row[k])) for k in np.flatnonzero(row))


def _sd(job: Job, kind: str) -> float:
    stated = getattr(job.reading_sd, kind)
    return float(DEFAULT_SD[kind] if stated is None else stated)


def _in_opening(job: Job, wall: Wall, o: Opening) -> list[Candidate]:
    net = wall.openings[o.name]
    found: list[Candidate] = []

    def offer(taken: object, label: str, form: Terms, kind: str) -> None:
        if not taken and form:
            found.append(Candidate(label=f"{o.name}: {label}", opening=o.name, form=form, sd=_sd(job, kind)))

    if net.left is not None and net.right is not None:
        _widths(o, net, net.left, net.right, offer)
        _beside(o, net, "left", net.left, offer)
        _beside(o, net, "right", net.right, offer)
    if net.head is not None:
        _heights(job, o, net, net.head, offer)
    _diagonals(wall, o, net, offer)
    _across(o, net, offer)
    _sill(job, o, net, offer)
    return found


def _widths(o: Opening, net: OpeningNet, left: Profile, right: Profile, offer: Offer) -> None:
    for where, h in zip(UP, net.frame.up, strict=True):
        form = plus((1.0, right.at(h)), (-1.0, left.at(h)))
        offer(getattr(o.width, where), f"width, {where}", form, "width")
        if net.left_inner is not None and net.right_inner is not None:
            inner = plus((1.0, net.right_inner.at(h)), (-1.0, net.left_inner.at(h)))
            offer(getattr(o.width_inner, where), f"width at the room side, {where}", inner, "width")


def _beside(o: Opening, net: OpeningNet, side: str, jack: Profile, offer: Offer) -> None:
    offer(getattr(o, f"{side}_jack_x"), f"{side} jack from the wall mark", jack.at(0.0), "run")
    low, middle, high = net.frame.up
    lean = getattr(o.plumb, side)
    form = plus((1.0, jack.at(high)), (-1.0, jack.at(low)))
    offer(lean and lean.top_leans_right, f"lean of the {side} jack to the right", form, "plumb")
    bow: Terms = next((bend for bend, place, _ in jack.bends() if abs(place - middle) < 1e-9), ())
    offer(getattr(o.plumb_line, side), f"straightedge along the {side} jack, gap at the middle", bow, "plumb")


def _heights(job: Job, o: Opening, net: OpeningNet, head: Profile, offer: Offer) -> None:
    shot = [s for setup in job.setup for s in setup.series if s.head == o.name]
    for where, x in zip(ACROSS, net.frame.across, strict=True):
        form = plus((1.0, head.at(x)), (-1.0, net.sill.at(x)))
        offer(getattr(o.height, where), f"height, {where}", form, "height")
        if job.setup:
            near = [s for s in shot if s.x is not None and abs(s.x - x) < 4.0]
            offer(near, f"shot to the head, {where}", head.at(x), "laser")


def _diagonals(wall: Wall, o: Opening, net: OpeningNet, offer: Offer) -> None:
    x = wall.solution.adjustment.x
    for key, span in diagonal_forms(net).items():
        dx, dz = (sum(c * float(x[i]) for i, c in form) for form in (span.dx, span.dz))
        length = float(np.hypot(dx, dz))
        form = plus((dx / length, span.dx), (dz / length, span.dz))
        offer(getattr(o.diagonal, key), f"diagonal, {key.replace('_', ' ')}", form, "diagonal")


def _across(o: Opening, net: OpeningNet, offer: Offer) -> None:
    offer(o.string_gap, "gap of crossed strings", crossing(net) or (), "string")
    for side, face in (("left", net.left_out), ("right", net.right_out)):
        if face is not None:
            lean = getattr(o.plumb, side)
            form: Terms = ((face.unknown[-1], 1.0), (face.unknown[0], -1.0))
            offer(lean and lean.top_leans_in, f"lean of the {side} jack into the house", form, "plumb")
    for corner in CORNERS:
        if corner in net.thickness:
            label = f"wall thickness, {corner.replace('_', ' ')}"
            own: Terms = ((net.thickness[corner], 1.0),)
            offer(getattr(o.wall_thickness, corner), label, own, "thickness")


def _sill(job: Job, o: Opening, net: OpeningNet, offer: Offer) -> None:
    """Offer a shot at the ends and in the middle of each long gap between the shots of a sill edge."""
    if not job.setup:
        return
    for profile, edge in ((net.sill, "outer"), (net.sill_inner, "inner")):
        if profile is None:
            continue
        shots = [s for setup in job.setup for s in setup.series if s.sill == o.name and s.edge == edge]
        read = [s.x for s in shots if s.x is not None]
        for place in _wanting(net, read):
            label = f"shot to the {edge} edge of the sill at {show(place, unit=job.units, mark=True)}"
            offer(None, f"{label} from the wall mark", profile.at(place), "laser")


def _wanting(net: OpeningNet, read: list[float]) -> list[float]:
    """Return where a sill could be shot: near its ends, and half way between shots far apart."""
    left, middle, right = net.frame.across
    known = sorted(read)
    halves = [(a + b) / 2.0 for a, b in pairwise(known) if b - a > 8.0]
    ends = [x for x in (left, middle, right) if all(abs(x - place) > 4.0 for place in (*known, *halves))]
    return [float(round(2.0 * place) / 2.0) for place in (*ends, *halves)]


def _turning(job: Job, wall: Wall, asked: set[str]) -> list[Candidate]:
    """Offer to turn a laser round, where it shot an opening asked about and was not turned yet."""
    network = wall.solution.network
    turned = {setup for group in network.lasers if len(group) > 1 for setup, _ in group}
    found = []
    for i, setup in enumerate(job.setup):
        marks = sorted((_mark_x(job, s.mark, s.x), s.mark) for s in setup.series if s.mark is not None)
        shot = any(s.sill in asked or s.head in asked for s in setup.series)
        if i in turned or not shot or not marks or marks[-1][0] - marks[0][0] <= APART:
            continue
        (near, one), (far, other) = marks[0], marks[-1]
        # what the turned beam reads on the far mark less on the near one: its slope is the other way round
        ends = [(sign, network.marks[mark]) for sign, mark in ((1.0, one), (-1.0, other))]
        form = plus(
            *((sign, ((index, 1.0),)) for sign, index in ends if index is not None),
            (near - far, ((network.tilts[i], 1.0),)),
        )
        label = f"turn the laser of set-up {i + 1} ({setup.name}) round and shoot both marks again"
        sd = (2.0 * _sd(job, "laser") ** 2 + (TILT_REPEAT * (far - near)) ** 2) ** 0.5
        found.append(Candidate(label=label, opening=None, form=form, sd=sd))
    return found


def _mark_x(job: Job, name: str, x: float | None) -> float:
    return x if x is not None else next(m.x for m in job.mark if m.name == name)
