"""Pads and planed runs of one unit, from the line chosen."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.lengths import Unit
from sillwright.setting.bearing import Bearings
from sillwright.setting.hand import Laid
from sillwright.setting.model import Edge, Pad, PlanedRun
from sillwright.setting.stock import Stock, describe
from sillwright.survey import Wall

Floats = NDArray[np.float64]


def pads_of(
    wall: Wall,
    stock: Stock,
    b: Bearings,
    laid: tuple[Laid, ...],
    *,
    units: Unit,
    line: float,
    tolerance: float,
) -> list[Pad]:
    """Return one pad for each bearing point, those of no thickness too; numbers are given later."""
    variance = np.maximum(np.diag(wall.covariance(b.front_forms)), 0.0)
    pads = []
    for i, pad in enumerate(laid):
        front, back = pad.front * stock.step, pad.back * stock.step
        pads.append(
            Pad(
                id="",
                number=0,
                opening=b.unit.opening,
                x=float(b.x[i]),
                why=b.why[i],
                front=front,
                back=None if b.back is None else back,
                pieces=pad.pieces,
                make_up=describe(pad.pieces, units),
                front_miss=_miss(b.front[i], front, line, tolerance),
                back_miss=None if b.back is None else _miss(b.back[i], back, line, tolerance),
                sd=float(variance[i] ** 0.5),
            )
        )
    return pads


def _miss(sill: float, pad: float, line: float, tolerance: float) -> float:
    """Return the pad's top less the line; sill above the line by more than the tolerance is planed to it."""
    return 0.0 if sill - line > tolerance + 1e-9 else float(sill + pad - line)


def planed_of(b: Bearings, *, line: float, tolerance: float) -> list[PlanedRun]:
    """Return the stretches of one unit's sill to plane down to the line; numbers are given later."""
    edges: list[tuple[Edge, Floats | None]] = [("outer", b.along_front), ("inner", b.along_back)]
    runs = []
    for edge, sill in edges:
        if sill is None:
            continue
        high = np.flatnonzero(sill - line > tolerance + 1e-9)
        for run in np.split(high, np.flatnonzero(np.diff(high) > 1) + 1) if len(high) else []:
            deepest = int(run[np.argmax(sill[run])])
            runs.append(
                PlanedRun(
                    id="",
                    number=0,
                    opening=b.unit.opening,
                    edge=edge,
                    start=_crossing(b, sill, line, int(run[0]), -1),
                    end=_crossing(b, sill, line, int(run[-1]), +1),
                    deepest=float(sill[deepest] - line),
                    deepest_x=float(b.along[deepest]),
                )
            )
    return runs


def _crossing(b: Bearings, sill: Floats, line: float, i: int, way: int) -> float:
    """Return where the sill comes down to the line beyond point i, or the end of what the unit covers."""
    j, x = i + way, b.along
    if not 0 <= j < len(x):
        end = b.left if way < 0 else b.left + b.unit.frame_width
        return float(min(end, x[i]) if way < 0 else max(end, x[i]))
    share = (sill[i] - line) / max(sill[i] - sill[j], 1e-9)
    return float(x[i] + (x[j] - x[i]) * min(max(share, 0.0), 1.0))
