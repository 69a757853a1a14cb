"""Rows of the lasers: height and tilt of each set-up, and what was shot from it."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.job import SetUp, Shot
from sillwright.survey.instruments import laser_tilt_sd
from sillwright.survey.network import Knock
from sillwright.survey.observation import Profile, Terms, plus
from sillwright.survey.rows import STATED_SD, UNTIED_SD, Rows, Taken

STATION_MERGE = 0.75
"""Shots closer than this along a sill are one station [in]."""
DISTRUSTED_TILT_SD = 10e-3
"""Standard deviation of the slope of a laser that proved out of true [in/in]."""
TILT_REPEAT = 0.05e-3 / 3**0.5
"""Standard deviation with which a self-levelling laser finds the same tilt again [in/in]; from a bound of
0.05 mm/m, common practice, no source."""
MOVED_SD, TURNED_SD = 12.0, 1.0
"""How far a knock may move a beam [in] and its slope [in/in]: no limit in practice."""


def set_ups(rows: Rows) -> None:
    """Add height and tilt of each set-up, with the maker's statement and turned-round relations."""
    net, job = rows.network, rows.job
    for i, setup in enumerate(job.setup):
        net.heights.append(rows.unknowns.add(("height", i), setup.series[0].down[0].value))
        net.tilts.append(rows.unknowns.add(("tilt", i), 0.0))
        what = f"set-up {i + 1} stands somewhere about the house"
        height = rows.unknowns.start[net.heights[i]]
        rows.assume(f"height.{i + 1}", what, ((net.heights[i], 1.0),), sd=UNTIED_SD, value=height)
    if net.heights and net.datum.startswith("beam"):
        rows.assume("datum", "heights count from the beam", ((net.heights[0], 1.0),), sd=STATED_SD)
    for i, setup in enumerate(job.setup):
        _same_laser(rows, i, setup)
    for group in net.lasers:
        first, _ = group[0]
        what = f"set-up {first + 1}: the beam is level within what its maker states"
        sd = laser_tilt_sd(job, job.setup[first])
        loose = DISTRUSTED_TILT_SD if first in rows.verdicts.distrusted else sd
        rows.assume(f"tilt.{first + 1}", what, ((net.tilts[first], 1.0),), sd=sd, loose=loose)


def _same_laser(rows: Rows, i: int, setup: SetUp) -> None:
    net = rows.network
    for group in net.lasers if setup.turned is not None else ():
        first, _ = group[0]
        other = rows.job.setup[first]
        if other.instrument == setup.instrument and other.turned is not None:
            sign = 1.0 if other.turned == setup.turned else -1.0
            group.append((i, sign))
            terms = ((net.tilts[i], 1.0), (net.tilts[first], -sign))
            what = f"set-ups {first + 1} and {i + 1}: one laser, one error of level"
            rows.assume(f"laser.{first + 1}.{i + 1}", what, terms, sd=TILT_REPEAT)
            return
    net.lasers.append([(i, 1.0)])


@dataclass(frozen=True, slots=True)
class _Target:
    """What a shot was held on."""

    x: float
    height: Terms
    label: str
    opening: str | None = None


def series(rows: Rows, i: int, setup: SetUp) -> None:
    """Add the shots of one set-up, in the order they were taken."""
    for order, shot in enumerate(setup.series):
        target = _target(rows, shot, i)
        if target is None:
            continue
        beam = _beam_at(rows, i, order, target.x - setup.x)
        taken = Taken(
            readings=shot.down,
            path=f"setup[{i}].series[{order}].down",
            id=f"setup{i + 1}.{order + 1}",
            kind="laser",
            label=f"set-up {i + 1}, shot {order + 1}: {target.label}",
            opening=target.opening,
            setup=i,
            order=order,
            x=target.x,
        )
        rows.read(taken, plus((1.0, beam), (-1.0, target.height)))


def _beam_at(rows: Rows, i: int, order: int, away: float) -> Terms:
    net = rows.network
    beam: Terms = ((net.heights[i], 1.0), (net.tilts[i], away))
    for knock in rows.verdicts.knocks:
        if knock.setup == i and order > knock.after:
            jump, slope = _jump(rows, knock)
            turned: Terms = ((slope, 1.0),) if slope is not None else ()
            beam = plus((1.0, beam), (1.0, ((jump, 1.0),)), (away, turned))
    return beam


def _jump(rows: Rows, knock: Knock) -> tuple[int, int | None]:
    jumps = rows.network.jumps
    if knock not in jumps:
        name, number = ("jump", knock.setup, knock.after), knock.setup + 1
        jump = rows.unknowns.add(name, 0.0)
        slope = rows.unknowns.add((*name, "slope"), 0.0) if knock.tilted else None
        jumps[knock] = (jump, slope)
        what = f"set-up {number} moved by inches at most"
        rows.assume(f"jump.{number}.{knock.after + 1}", what, ((jump, 1.0),), sd=MOVED_SD)
        if slope is not None:
            what = f"the slope of set-up {number} changed little"
            rows.assume(f"jump_slope.{number}.{knock.after + 1}", what, ((slope, 1.0),), sd=TURNED_SD)
    return jumps[knock]


def _target(rows: Rows, shot: Shot, i: int) -> _Target | None:
    """Return what a shot says the height of; None for a pad, which is held against the plan elsewhere."""
    net = rows.network
    if shot.mark is not None:
        x = shot.x if shot.x is not None else next(m.x for m in rows.job.mark if m.name == shot.mark)
        index = _mark(rows, shot.mark, _approximate(rows, i, shot))
        return _Target(x, () if index is None else ((index, 1.0),), f"mark {shot.mark}")
    x = float(shot.x or 0.0)
    if shot.sill is not None:
        own = net.openings[shot.sill]
        sill = own.sill_inner if shot.edge == "inner" and own.sill_inner else own.sill
        return _Target(x, _snap(sill, x), f"sill of {shot.sill}, {shot.edge} edge", shot.sill)
    if shot.head is not None:
        own = net.openings[shot.head]
        head = own.head_inner if shot.edge == "inner" and own.head_inner else own.head
        return None if head is None else _Target(x, head.at(x), f"head of {shot.head}", shot.head)
    if shot.point is not None:
        name = ("point", shot.point, x, shot.edge)
        known = name in rows.unknowns.index
        index = rows.unknowns.add(name, _approximate(rows, i, shot))
        if not known:
            net.points.append((shot.point, x, index))
        return _Target(x, ((index, 1.0),), shot.point)
    return None


def _approximate(rows: Rows, i: int, shot: Shot) -> float:
    return beam_start(rows, i) - shot.down[0].value


def beam_start(rows: Rows, i: int) -> float:
    """Return the approximate height of a set-up's beam [in]."""
    return rows.unknowns.start[rows.network.heights[i]]


def _mark(rows: Rows, name: str, approximate: float) -> int | None:
    net = rows.network
    if name not in net.marks:
        net.marks[name] = None
        if name != net.datum:
            index = rows.unknowns.add(("mark", name), approximate)
            net.marks[name] = index
            known = next((m.z for m in rows.job.mark if m.name == name), None)
            if known is not None:
                what = f"mark {name} stands where stated"
                rows.assume(f"mark.{name}", what, ((index, 1.0),), sd=STATED_SD, value=known)
    return net.marks[name]


def _snap(profile: Profile, x: float) -> Terms:
    nearest = min(range(len(profile.stations)), key=lambda i: abs(profile.stations[i] - x))
    if abs(profile.stations[nearest] - x) <= STATION_MERGE:
        return ((profile.unknown[nearest], 1.0),)
    return profile.at(x)
