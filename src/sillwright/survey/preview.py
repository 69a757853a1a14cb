"""What a reading does to the wall before the wall is adjusted again: the phone at the wall draws by it.

The adjustment is linear about its solution x, so with Q the covariance of the unknowns, A the whitened
Jacobian and b the form of a point's height,

    d point / d reading_i             = b Q A_i' / sigma_i          a reading that is in the adjustment
    d point / d (reading - expected)  = b Q a / (s^2 + a'Qa)        one that is not yet: form a, sd s

Exact as long as no verdict on a reading changes; diagonals bend it a little. Source: docs/method.md,
Adjustment; the second is the update by one more observation, as in measure_next.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from sillwright.job import Job, SetUp
from sillwright.survey.adjust import Array
from sillwright.survey.faces import crossing
from sillwright.survey.frame import ACROSS, UP
from sillwright.survey.instruments import DEFAULT_SD
from sillwright.survey.model import Edge
from sillwright.survey.network import OpeningNet
from sillwright.survey.observation import Profile, Terms, plus
from sillwright.survey.openings import CORNERS, diagonal_forms
from sillwright.survey.wall import Wall

WORST = 1.0
"""Standard deviation of what a place would read beyond which nothing is said of it [in]."""
EVERY = 16.0
"""Distance at which a sill is worth shooting [in]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPoint:
    """A point of a sill or head as last adjusted [in]."""

    name: str
    opening: str
    line: str
    """`sill` or `head`."""
    edge: Edge
    x: float
    z: float
    sd: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Untaken:
    """A reading that could be taken: where, what the wall says it should read, what it would move [in]."""

    table: str
    """The kind of reading, in the words of the spreadsheet form."""
    opening: str = ""
    place: str = ""
    edge: str = ""
    setup: str = ""
    x: float | None = None
    expected: float
    expected_sd: float
    column: tuple[float, ...]
    """Move of each point for an inch read more than expected."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preview:
    """The last adjustment, as far as a drawing moves by it."""

    points: tuple[DrawnPoint, ...]
    paths: tuple[str, ...]
    """Place in the job file of each reading."""
    observed: tuple[float, ...]
    """Each reading as it was adjusted [in]."""
    rows: tuple[tuple[float, ...], ...]
    """Move of each point for an inch more of each reading."""
    untaken: tuple[Untaken, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Spot:
    table: str
    form: Terms
    kind: str
    opening: str = ""
    place: str = ""
    edge: str = ""
    setup: str = ""
    x: float | None = None
    expected: float | None = None


def preview(job: Job, wall: Wall) -> Preview:
    """Return how the sills and heads move with each reading, taken or not."""
    drawn = [(point, form) for net in wall.openings.values() for point, form in _points(wall, net)]
    points = wall.matrix([form for _, form in drawn])
    adjustment, network = wall.solution.adjustment, wall.solution.network
    reach = points @ adjustment.cofactor
    kept = [i for i, o in enumerate(network.observations) if not o.assumed]
    sd = np.array([network.observations[i].sd for i in kept])
    gain = (reach @ adjustment.design[kept].T) / sd if kept else np.zeros((len(drawn), 0))
    return Preview(
        points=tuple(point for point, _ in drawn),
        paths=tuple(network.observations[i].path for i in kept),
        observed=tuple(network.observations[i].read for i in kept),
        rows=tuple(tuple(float(each) for each in row) for row in gain),
        untaken=tuple(_untaken(job, wall, reach)),
    )


def _points(wall: Wall, net: OpeningNet) -> Iterator[tuple[DrawnPoint, Terms]]:
    lines: tuple[tuple[str, Edge, Profile | None], ...] = (
        ("sill", "outer", net.sill),
        ("sill", "inner", net.sill_inner),
        ("head", "outer", net.head),
        ("head", "inner", net.head_inner),
    )
    for line, edge, profile in lines:
        if profile is None or not net.level_known:
            continue
        for n, (x, unknown) in enumerate(zip(profile.stations, profile.unknown, strict=True), start=1):
            form: Terms = ((unknown, 1.0),)
            name = f"{net.name}.{line}.{edge}.{n}"
            z, sd = wall.value(form), wall.sd(form)
            yield (
                DrawnPoint(name=name, opening=net.name, line=line, edge=edge, x=x, z=z, sd=sd),
                form,
            )


def _untaken(job: Job, wall: Wall, reach: Array) -> Iterator[Untaken]:
    spots = [*_taped(wall), *_shot(job, wall)]
    rows = wall.matrix([spot.form for spot in spots])
    cofactor = wall.solution.adjustment.cofactor
    variance = np.einsum("ij,jk,ik->i", rows, cofactor, rows)
    for spot, row, own in zip(spots, rows, variance, strict=True):
        if own > WORST**2:
            continue
        stated = getattr(job.reading_sd, spot.kind)
        sd = DEFAULT_SD[spot.kind] if stated is None else stated
        column = reach @ row / (sd**2 + own)
        yield Untaken(
            table=spot.table,
            opening=spot.opening,
            place=spot.place,
            edge=spot.edge,
            setup=spot.setup,
            x=spot.x,
            expected=wall.value(spot.form) if spot.expected is None else spot.expected,
            expected_sd=float(max(own, 0.0) ** 0.5),
            column=tuple(float(each) for each in column),
        )


def _taped(wall: Wall) -> Iterator[_Spot]:
    for net in wall.openings.values():
        yield from _widths(net)
        yield from _heights(net)
        yield from _jacks(net)
        for key, span in diagonal_forms(net).items():
            dx, dz = wall.value(span.dx), wall.value(span.dz)
            length = float(np.hypot(dx, dz))
            form = plus((dx / length, span.dx), (dz / length, span.dz))
            yield _Spot(
                table="diagonal", form=form, kind="diagonal", opening=net.name, place=key, expected=length
            )
        crossed = crossing(net)
        if crossed is not None:
            yield _Spot(table="string_gap", form=crossed, kind="string", opening=net.name)
        for corner in CORNERS:
            if corner in net.thickness:
                own: Terms = ((net.thickness[corner], 1.0),)
                yield _Spot(table="thickness", form=own, kind="thickness", opening=net.name, place=corner)


def _widths(net: OpeningNet) -> Iterator[_Spot]:
    pairs = (("outer", net.left, net.right), ("inner", net.left_inner, net.right_inner))
    for edge, left, right in pairs:
        for place, h in zip(UP, net.frame.up, strict=True):
            if left is not None and right is not None:
                form = plus((1.0, right.at(h)), (-1.0, left.at(h)))
                yield _Spot(table="width", form=form, kind="width", opening=net.name, place=place, edge=edge)


def _heights(net: OpeningNet) -> Iterator[_Spot]:
    pairs = (("outer", net.sill, net.head), ("inner", net.sill_inner, net.head_inner))
    for edge, sill, head in pairs:
        for place, x in zip(ACROSS, net.frame.across, strict=True):
            if sill is not None and head is not None:
                form = plus((1.0, head.at(x)), (-1.0, sill.at(x)))
                yield _Spot(
                    table="height", form=form, kind="height", opening=net.name, place=place, edge=edge
                )


def _jacks(net: OpeningNet) -> Iterator[_Spot]:
    low, _, high = net.frame.up
    sides = (("left", net.left, net.left_out), ("right", net.right, net.right_out))
    for side, jack, face in sides:
        if jack is not None:
            run = jack.at(0.0)
            yield _Spot(table="jack", form=run, kind="run", opening=net.name, place=side)
            lean = plus((1.0, jack.at(high)), (-1.0, jack.at(low)))
            yield _Spot(table="lean_right", form=lean, kind="plumb", opening=net.name, place=side)
        if face is not None:
            lean = ((face.unknown[-1], 1.0), (face.unknown[0], -1.0))
            yield _Spot(table="lean_in", form=lean, kind="plumb", opening=net.name, place=side)


def _shot(job: Job, wall: Wall) -> Iterator[_Spot]:
    network = wall.solution.network
    for i, setup in enumerate(job.setup):
        for name, index in network.marks.items():
            at = next((mark.x for mark in job.mark if mark.name == name), None)
            if at is not None:
                height: Terms = () if index is None else ((index, 1.0),)
                form = plus((1.0, _beam(wall, i, setup, at)), (-1.0, height))
                yield _Spot(table="mark", form=form, kind="laser", place=name, setup=setup.name)
        for net in network.openings.values():
            lines = [("sill", "outer", net.sill), ("sill", "inner", net.sill_inner or net.sill)]
            lines += [("head", "outer", net.head)] if net.head is not None else []
            for table, edge, profile in lines:
                spot = _Spot(
                    table=table, form=(), kind="laser", opening=net.name, edge=edge, setup=setup.name
                )
                for x in _worth_shooting(job, net, profile):
                    form = plus((1.0, _beam(wall, i, setup, x)), (-1.0, profile.at(x)))
                    yield replace(spot, form=form, x=x)


def _beam(wall: Wall, i: int, setup: SetUp, x: float) -> Terms:
    """Return the height of a set-up's beam at x as it stands now, after every knock."""
    network = wall.solution.network
    away = x - setup.x
    beam: Terms = ((network.heights[i], 1.0), (network.tilts[i], away))
    for knock, (jump, slope) in network.jumps.items():
        if knock.setup == i:
            turned: Terms = () if slope is None else ((slope, 1.0),)
            beam = plus((1.0, beam), (1.0, ((jump, 1.0),)), (away, turned))
    return beam


def _worth_shooting(job: Job, net: OpeningNet, profile: Profile) -> tuple[float, ...]:
    """Return where a sill or head was shot, and whole inches or 5 mm from jack to jack."""
    step, inside, whole = (EVERY, 2.0, 1.0) if job.units == "in" else (400 / 25.4, 50 / 25.4, 5 / 25.4)
    start, end = net.frame.left + inside, net.frame.right - inside
    count = max(1, -int(-(end - start) // step))
    even = [round((start + (end - start) * n / count) / whole) * whole for n in range(count + 1)]
    fresh = [x for x in even if all(abs(x - known) > 0.45 * step for known in profile.stations)]
    return tuple(sorted([*profile.stations, *fresh]))
