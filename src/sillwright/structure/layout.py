"""Every fastener of a ledger: two staggered rows, within the allowed zones, clear of what is in the way.

The fewest fasteners that keep the spacing, spread as evenly as what is in the way allows (`stagger`), each
dimensioned from the ledger's left end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from sillwright.findings import Finding
from sillwright.structure.given import need_not_negative, need_positive
from sillwright.structure.stagger import Bools, Track, fewest
from sillwright.structure.tables import refuse
from sillwright.structure.zones import BandAt, Ledger, RowZone, failing, zones

Floats = NDArray[np.float64]

GRID = 0.25
"""Fasteners are marked on this [in]."""
LEAST_GAP = 2.0
"""Between neighbours along the ledger: 4 D of a 1/2 in dowel (NDS Table 12.5.1B) [in]."""
CLEARANCE = 0.75
"""From a fastener's centre to anything in its way: room for the washer; common practice, no source [in]."""
ROWS = ("low", "high")
SOURCE = "IRC 2018 R507.9.1.3, Table R507.9.1.3(2) and figure"
_NONE = np.inf
_EDGE = 1e-9
RowLines = tuple[tuple[float, float, float], ...]
"""(x, low z, high z) of the rows at each station; one station where they are level."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """Something a fastener must keep clear of."""

    left: float
    right: float
    what: str
    bottom: float = -_NONE
    top: float = _NONE

    def __post_init__(self) -> None:
        need_not_negative(obstacle_width=self.right - self.left)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """One fastener: its place from the left end of the ledger and above the datum."""

    x: float
    row: str
    z: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """All fasteners from left to right, what was found, and the greatest gap between neighbours."""

    fasteners: tuple[Fastener, ...]
    findings: tuple[Finding, ...]
    greatest_gap: float
    least_count: int
    """Fasteners the spacing alone would need, with nothing in the way."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutRequest:
    """A ledger to be fastened."""

    length: float
    spacing: float
    """Greatest on-centre distance of neighbours, from the table."""
    ledger: Ledger
    band: tuple[BandAt, ...]
    obstacles: tuple[Obstacle, ...] = ()
    clearance: float = CLEARANCE
    least_gap: float = LEAST_GAP

    def __post_init__(self) -> None:
        need_positive(ledger_length=self.length, spacing=self.spacing, least_gap=self.least_gap)
        need_not_negative(clearance=self.clearance)
        if self.spacing < self.least_gap:
            raise refuse(
                f"a spacing of {self.spacing:g} in is less than the {self.least_gap:g} in neighbours need"
            )


def hangers(
    joists: Sequence[float], *, joist_breadth: float = 1.5, flange: float = 1.5
) -> tuple[Obstacle, ...]:
    """Return the strips of ledger that joist hangers and their nails take.

    Args: joists: centres from the left end [in]; flange: beside the joist, by the hanger's maker [in]
    """
    need_positive(joist_breadth=joist_breadth)
    need_not_negative(flange=flange)
    half = joist_breadth / 2.0 + flange
    return tuple(
        Obstacle(left=x - half, right=x + half, what=f"hanger of the joist at {x:g} in") for x in joists
    )


def layout(request: LayoutRequest) -> Layout:
    """Return every fastener of a ledger, or the zone that is empty.

    Raises: BadInput: a length or spacing that cannot be; the band's places out of order
    Source: IRC 2018 R507.9.1.3; distances come with the request
    """
    least = _least_count(request)
    stations = zones(request.ledger, request.band, length=request.length)
    if not all(zone.fits for zone in stations):
        return Layout(fasteners=(), findings=_no_room(request), greatest_gap=_NONE, least_count=least)
    heights = _rows(request, stations)
    marks = np.arange(0.0, request.length + 1e-9, GRID)
    chain = fewest(_track(request, _open(request, marks, heights)))
    if not chain.marks:
        stop = _empty(request, max(0, chain.reached) * GRID)
        return Layout(fasteners=(), findings=(stop,), greatest_gap=_NONE, least_count=least)
    found = tuple(
        Fastener(x=float(marks[i]), row=ROWS[row], z=_height(heights, ROWS[row], float(marks[i])))
        for i, row in chain.marks
    )
    gaps = np.diff([f.x for f in found])
    return Layout(
        fasteners=found,
        findings=_watch(heights),
        greatest_gap=float(gaps.max()) if len(gaps) else 0.0,
        least_count=least,
    )


def _least_count(request: LayoutRequest) -> int:
    run = request.length - 2.0 * request.ledger.in_ledger.end_most
    return max(2, ceil(run / request.spacing - 1e-9) + 1)


def _open(request: LayoutRequest, marks: Floats, rows: RowLines) -> Bools:
    """Return which marks are free, by row (2, m)."""
    free = np.ones((2, len(marks)), dtype=np.bool_)
    for thing in request.obstacles:
        left, right = thing.left - request.clearance, thing.right + request.clearance
        near = (marks > left - _EDGE) & (marks < right + _EDGE)
        for row, name in enumerate(ROWS):
            if _crosses(rows, name, thing, request.clearance):
                free[row] &= ~near
    return free


def _crosses(rows: RowLines, row: str, thing: Obstacle, clearance: float) -> bool:
    heights = [_height(rows, row, x) for x in (thing.left, thing.right)]
    return max(heights) > thing.bottom - clearance and min(heights) < thing.top + clearance


def _track(request: LayoutRequest, open_at: Bools) -> Track:
    """Return the ledger in marks; gaps and ends between two marks are cut to the safe side."""
    end, length = request.ledger.in_ledger, request.length
    usable = open_at.copy()
    usable[:, : ceil(end.end_least / GRID - 1e-9)] = False
    usable[:, floor((length - end.end_least) / GRID + 1e-9) + 1 :] = False
    return Track(
        usable=usable,
        first=(ceil(end.end_least / GRID - 1e-9), floor(end.end_most / GRID + 1e-9)),
        last=(
            max(0, ceil((length - end.end_most) / GRID - 1e-9)),
            floor((length - end.end_least) / GRID + 1e-9),
        ),
        least=ceil(request.least_gap / GRID - 1e-9),
        most=floor(request.spacing / GRID + 1e-9),
    )


def _rows(request: LayoutRequest, stations: Sequence[RowZone]) -> RowLines:
    """Return the rows' lines: level where one level does for the whole wall, else straight between stations.

    The limits are straight between stations too, so a line between two allowed places is allowed all along.
    """
    most, apart = request.ledger.in_ledger.rows_most, request.ledger.in_ledger.rows_least
    low = max(zone.low[0] for zone in stations)
    high = min(*(zone.high[1] for zone in stations), low + most)
    if low <= min(zone.low[1] for zone in stations) + _EDGE and high >= low + apart - _EDGE:
        return ((0.0, low, high),)
    return tuple((zone.x, zone.low[0], min(zone.high[1], zone.low[0] + most)) for zone in stations)


def _height(rows: RowLines, row: str, x: float) -> float:
    column = 1 + ROWS.index(row)
    if len(rows) == 1:
        return rows[0][column]
    return float(np.interp(x, [r[0] for r in rows], [r[column] for r in rows]))


def _watch(rows: RowLines) -> tuple[Finding, ...]:
    if len(rows) == 1:
        return ()
    finding = Finding(
        id="ledger.rows-slope",
        severity="watch",
        message="The band joist slopes so much that the rows cannot be level; they follow it.",
        advice="Snap the rows from the heights given at each fastener, not with a level.",
        source=SOURCE,
    )
    return (finding,)


def _no_room(request: LayoutRequest) -> tuple[Finding, ...]:
    """Return a stop for every stretch in which ledger and band joist do not leave two rows."""
    return tuple(
        Finding(
            id="ledger.rows-fail",
            severity="stop",
            message=(
                f"Two rows of fasteners do not fit between {left:g} and {right:g} in from the left end: "
                "ledger and band joist overlap too little there."
            ),
            advice="Change the ledger's height or depth, or ask an engineer.",
            source=SOURCE,
            place=f"ledger, {left:g} to {right:g} in",
        )
        for left, right in failing(request.ledger, request.band, length=request.length)
    )


def _empty(request: LayoutRequest, reached: float) -> Finding:
    """Return the stop that names the stretch without a place for a fastener, and what fills it."""
    start, stop = reached, min(request.length, reached + request.spacing)
    names = [o.what for o in request.obstacles if o.right >= start and o.left <= stop]
    what = "; ".join(names[:4]) or "the distances from the ends and between neighbours leave no mark"
    return Finding(
        id="ledger.zone-empty",
        severity="stop",
        message=(
            f"No place for the next fastener between {start:g} and {stop:g} in from the left end, spacing "
            f"{request.spacing:g} in: {what}."
        ),
        advice="Move what is in the way, change the ledger's height or depth, or ask an engineer.",
        source=SOURCE,
        place=f"ledger, {start:g} to {stop:g} in",
    )
