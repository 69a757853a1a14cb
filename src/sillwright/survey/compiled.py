"""The same adjustment as `batch`, compiled: one opening at a time, nothing kept between.

Needs the extra `fast` (numba); without it `available()` is False and `adjust_compiled` says what to install.
The common linear part comes from `batch`; formulas, symbols and sources are those stated there. The loops are
plain functions of arrays, so Python runs them as well, slowly.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import lru_cache
from importlib.util import find_spec
from itertools import pairwise
from os import cpu_count
from typing import NamedTuple, TypeAlias

import numpy as np

from sillwright.errors import BadInput, Fault
from sillwright.survey.batch import (
    ALONG_OBSERVED,
    ALONG_READ,
    ALONG_UNKNOWN,
    DIAGONALS_OBSERVED,
    DIAGONALS_READ,
    MOST_STEPS,
    STEP_LIMIT,
    UP_OBSERVED,
    UP_READ,
    UP_UNKNOWN,
    Half,
    Net,
    factorise,
    unsettled,
)
from sillwright.survey.diagonals import (
    FORMULAS,
    Number,
    Pair,
    Step,
    Symmetric,
    ends,
    ends_cofactors,
    force,
    form,
    gauss_newton_step,
    lengths,
    size_of_step,
)
from sillwright.survey.like import Array, BatchResult, LikeOpenings

_FEWEST_A_THREAD = 2000
_LANES = 64  # openings side by side, so that the inner loops are long enough for vector instructions


class Rows(NamedTuple):
    """Some openings: what goes in and what comes out, as in `LikeOpenings` and `BatchResult`.

    `over` is `LikeOpenings.overhang`, an opening a row.
    """

    readings: Array
    over: Array
    x: Array
    sd: Array
    residual: Array
    redundancy: Array
    vPv: Array  # noqa: N815


class Room(NamedTuple):
    """Working room for one block of openings, side by side in the last axis.

    `force` (2, 3, L) and `form` (2, 6, L) are the diagonals' pull and weight on rise, fall and middle along
    and up; `read` (17, L), `x` and `qq` (8, L), `v` and `r` (19, L) serve one half, then the other.
    """

    force: Array
    form: Array
    read: Array
    x: Array
    qq: Array
    v: Array
    r: Array


class Columns(NamedTuple):
    """Which half; where its readings, unknowns and observations begin, and how many there are."""

    half: int
    read: int
    unknown: int
    observed: int
    reads: int
    unknowns: int
    observations: int


ALONG = Columns(0, ALONG_READ.start, ALONG_UNKNOWN.start, ALONG_OBSERVED.start, 7, 6, 9)
UP = Columns(1, UP_READ.start, UP_UNKNOWN.start, UP_OBSERVED.start, 17, 8, 19)
D_READ, D_OBSERVED = DIAGONALS_READ.start, DIAGONALS_OBSERVED.start

Loop: TypeAlias = Callable[[Rows, Net], int]


def available() -> bool:
    """Return whether the compiler is installed."""
    return find_spec("numba") is not None


def adjust_compiled(openings: LikeOpenings) -> BatchResult:
    """Adjust all openings of a batch by least squares [in]; arguments, result and source as `adjust_batch`.

    The first call in a process compiles the loops, which takes some seconds.

    Raises:
        NotDetermined: as `adjust_batch`
        BadInput:      the extra `fast` is not installed
    """
    if not available():
        raise BadInput(Fault("numba", "is not installed.", "Install sillwright[fast], or use adjust_batch."))
    return adjust_with(_compiled(), openings)


def adjust_with(loop: Loop, openings: LikeOpenings) -> BatchResult:
    """Adjust a batch with `adjust_rows`, plain or compiled; processors share long batches."""
    result = BatchResult.empty(len(openings))
    net = factorise(openings.sds)
    over = np.ascontiguousarray(openings.overhang.T)
    r = result

    def adjust(part: slice) -> int:
        out = (r.x[part], r.sd[part], r.residual[part], r.redundancy[part], r.vPv[part])
        return loop(Rows(openings.readings[part], over[part], *out), net)

    parts = _parts(len(openings))
    with ThreadPoolExecutor(len(parts)) as pool:
        for part, failed in zip(parts, pool.map(adjust, parts), strict=True):
            if failed >= 0:
                raise unsettled(part.start + failed)
    return result


def _parts(count: int) -> list[slice]:
    threads = max(1, min(cpu_count() or 1, count // _FEWEST_A_THREAD))
    edges = [count * i // threads for i in range(threads + 1)]
    return [slice(*pair) for pair in pairwise(edges)]


@lru_cache(maxsize=1)
def _compiled() -> Loop:
    """Compile the loop and the formulas of `diagonals` that it calls."""
    from numba import njit  # noqa: PLC0415 - an extra, and slow to import
    from numba.extending import register_jitable  # noqa: PLC0415

    for part in (*FORMULAS, _room, _tie, _reach, _settle, _keep, _fill, _load, _multiply, _store):
        register_jitable(part)
    loop: Loop = njit(nogil=True, error_model="numpy")(adjust_rows)
    return loop


def adjust_rows(rows: Rows, net: Net) -> int:
    """Adjust block after block of openings; return the first that does not settle, or -1."""
    room = _room()
    count = rows.readings.shape[0]
    for first in range(0, count, _LANES):
        lanes = min(_LANES, count - first)
        failed = _tie(rows, net, room, first, lanes)
        if failed >= 0:
            return failed
        _fill(rows, net.along, ALONG, room, first, lanes)
        _fill(rows, net.up, UP, room, first, lanes)
    return -1


def _room() -> Room:
    return Room(
        force=np.zeros((2, 3, _LANES)),
        form=np.zeros((2, 6, _LANES)),
        read=np.zeros((17, _LANES)),
        x=np.zeros((8, _LANES)),
        qq=np.zeros((8, _LANES)),
        v=np.zeros((19, _LANES)),
        r=np.zeros((19, _LANES)),
    )


def _tie(rows: Rows, net: Net, room: Room, first: int, lanes: int) -> int:
    """Bring in the diagonals of a block; return the first opening that does not settle, or -1.

    Arrays are taken out of their tuples before the loop: handing tuples on costs more than the arithmetic.
    """
    readings, over, residual, redundancy = rows.readings, rows.over, rows.residual, rows.redundancy
    variance, V_x, V_z, reach_x, reach_z = (
        net.variance,
        net.along.cov,
        net.up.cov,
        net.along.reach,
        net.up.reach,
    )
    force_x, force_z, form_x, form_z = room.force[0], room.force[1], room.form[0], room.form[1]
    for lane in range(lanes):
        i = first + lane
        e_x, e_z = over[i, 0], over[i, 1]
        read = Pair(readings[i, D_READ], readings[i, D_READ + 1])
        start = (
            ends(_reach(readings, i, ALONG.read, reach_x), e_x),
            ends(_reach(readings, i, UP.read, reach_z), e_z),
        )
        settled, step = _settle(start, (ends_cofactors(V_x, e_x), ends_cofactors(V_z, e_z)), read, variance)
        if not settled:
            return i
        length = lengths(step)
        v1, v2 = length.first - read.first, length.second - read.second
        residual[i, D_OBSERVED], residual[i, D_OBSERVED + 1] = v1, v2
        redundancy[i, D_OBSERVED], redundancy[i, D_OBSERVED + 1] = (
            variance * step.K.m11,
            variance * step.K.m22,
        )
        rows.vPv[i] = (v1 * v1 + v2 * v2) / variance
        _keep(force_x, lane, force(step.cos, step.pull, e_x))
        _keep(force_z, lane, force(step.sin, step.pull, e_z))
        _keep(form_x, lane, form(step.cos, step.K, e_x))
        _keep(form_z, lane, form(step.sin, step.K, e_z))
    return -1


def _reach(readings: Array, i: int, column: int, reach: Array) -> tuple[Number, Number, Number]:
    """Return rise, fall and middle of one opening from its linear readings [in]."""
    rise: Number = 0.0
    fall: Number = 0.0
    middle: Number = 0.0
    for j in range(reach.shape[0]):
        value = readings[i, column + j]
        rise += value * reach[j, 0]
        fall += value * reach[j, 1]
        middle += value * reach[j, 2]
    return rise, fall, middle


def _settle(
    start: tuple[Pair, Pair], cofactors: tuple[Symmetric, Symmetric], read: Pair, variance: float
) -> tuple[bool, Step]:
    """Run Gauss-Newton; return whether it came to rest, and the last step."""
    step = gauss_newton_step(start, start, cofactors, read, variance)
    size = size_of_step(step, start)
    for _ in range(MOST_STEPS - 1):
        if size <= STEP_LIMIT:
            break
        at = step.along, step.up
        step = gauss_newton_step(at, start, cofactors, read, variance)
        size = size_of_step(step, at)
    return size <= STEP_LIMIT, step


def _keep(room: Array, lane: int, values: tuple[Number, ...]) -> None:
    for j, value in enumerate(values):
        room[j, lane] = value


def _fill(rows: Rows, half: Half, columns: Columns, room: Room, first: int, lanes: int) -> None:
    """Carry the diagonals' pull to the unknowns and observations of one half, all lanes at once."""
    h, read, unknown, observed, reads, w, k = columns
    _load(room.read, rows.readings, first, lanes, read, reads)
    for j in range(w):
        room.x[j], room.qq[j] = 0.0, half.q[j]
    for j in range(k):
        room.v[j], room.r[j] = 0.0, half.r[j]
    _multiply(room.x, room.read, half.gain)
    _multiply(room.x, room.force[h], half.shift)
    _multiply(room.v, room.x, half.design)
    _multiply(room.qq, room.form[h], half.q_loss)
    _multiply(room.r, room.form[h], half.r_rise)
    for j in range(reads):
        for lane in range(_LANES):
            room.v[j, lane] -= room.read[j, lane]
    for j in range(k):
        for lane in range(lanes):
            rows.vPv[first + lane] += half.weight[j] * room.v[j, lane] * room.v[j, lane]
    for j in range(w):
        for lane in range(lanes):
            room.qq[j, lane] = np.sqrt(room.qq[j, lane])
    _store(rows.x, room.x, first, lanes, unknown, w)
    _store(rows.sd, room.qq, first, lanes, unknown, w)
    _store(rows.residual, room.v, first, lanes, observed, k)
    _store(rows.redundancy, room.r, first, lanes, observed, k)


def _load(room: Array, table: Array, first: int, lanes: int, column: int, width: int) -> None:
    """Copy columns of some rows into lanes."""
    for lane in range(lanes):
        for j in range(width):
            room[j, lane] = table[first + lane, column + j]


def _multiply(to: Array, factors: Array, matrix: Array) -> None:
    """Add matrix' times factors, lane by lane."""
    for j in range(matrix.shape[1]):
        for a in range(matrix.shape[0]):
            coefficient = matrix[a, j]
            for lane in range(_LANES):
                to[j, lane] += coefficient * factors[a, lane]


def _store(table: Array, room: Array, first: int, lanes: int, column: int, width: int) -> None:
    """Copy lanes into columns of some rows."""
    for lane in range(lanes):
        for j in range(width):
            table[first + lane, column + j] = room[j, lane]
