"""Which pad to lay at each bearing point for each candidate line: within tolerance, fewest minutes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sillwright.setting.rates import rates
from sillwright.setting.stock import UNREACHED, Stock

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
_NOISE = 1e-7
WIDEST = 3
"""Steps by which a pad may differ from the one nearest to the line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Padding:
    """Pads for each line and bearing point (l, p)."""

    front: Ints
    """Steps of the stock at the outer edge."""
    back: Ints
    pieces: Ints
    front_miss: Floats
    """Top less line [in]; nothing where the sill is planed to the line."""
    back_miss: Floats
    made: NDArray[np.bool_]
    """The stock makes a pad within tolerance."""


def padding(lines: Floats, *, front: Floats, back: Floats | None, stock: Stock, tolerance: float) -> Padding:
    """Return the best pad for each line and bearing point.

    The pad nearest to the line may leave a needless piece: within the tolerance a pad with fewer pieces is
    taken if it saves more minutes than it costs by missing the line. A gap that calls for a pad gets one.

    Args:
        lines: heights of the candidate lines (l,) [in]
        front: sill at the outer edge of each bearing point (p,) [in]
        back: the same at the inner edge; None: not shot, pads are flat
        stock: what can be built
        tolerance: how far a pad's top may miss the line; half a step of the stock where that is more [in]
    """
    allowed = max(tolerance, stock.step / 2.0) + 1e-9
    reach = min(int(allowed / stock.step + 0.5), WIDEST)
    fronts = _Edge.of(lines, front, stock.step, tolerance)
    backs = fronts if back is None else _Edge.of(lines, back, stock.step, tolerance)
    offsets = range(-reach, reach + 1)
    pairs = [(d, d) for d in offsets] if back is None else list(product(offsets, offsets))
    pairs.sort(key=lambda pair: (abs(pair[0]) + abs(pair[1]), pair))
    df, db = (np.array(offset)[:, None, None] for offset in zip(*pairs, strict=True))
    f, f_miss = fronts.with_offset(df, stock.step)
    b, b_miss = backs.with_offset(db, stock.step)
    pieces = stock.count(f, b)
    made = (pieces < UNREACHED) & (np.abs(f_miss) <= allowed) & (np.abs(b_miss) <= allowed)
    made &= fronts.may(df) & backs.may(db)
    minute, counted = rates(), float(back is not None)
    cost = minute["piece"] * pieces + minute["miss"] * (np.abs(f_miss) + counted * np.abs(b_miss))
    # of pads that cost the same the one nearest to the line is taken: pairs come in that order
    cost += _NOISE * np.arange(len(pairs))[:, None, None]
    best = np.where(made, cost, np.inf).argmin(axis=0)[None]

    def taken(values: NDArray[Any]) -> NDArray[Any]:
        return np.asarray(np.take_along_axis(values, best, axis=0)[0])

    return Padding(
        front=taken(f),
        back=taken(b),
        pieces=taken(pieces),
        front_miss=taken(f_miss),
        back_miss=taken(b_miss),
        made=np.asarray(made.any(axis=0)),
    )


@dataclass(frozen=True, slots=True)
class _Edge:
    """One edge of the sill against the lines (l, p)."""

    gap: Floats
    steps: Ints
    """Those nearest to the gap."""
    planed: NDArray[np.bool_]

    @classmethod
    def of(cls, lines: Floats, sill: Floats, step: float, tolerance: float) -> _Edge:
        gap = lines[:, None] - sill[None, :]
        steps = np.maximum(np.floor(gap / step + 0.5 + _NOISE), 0.0).astype(np.int64)
        return cls(gap, steps, gap < -tolerance - 1e-9)

    def may(self, offset: Ints) -> NDArray[np.bool_]:
        """Tell where a pad may differ from the nearest by these steps: where one is called for and left."""
        return np.asarray((offset == 0) | ((self.steps >= 1) & (self.steps + offset >= 1)))

    def with_offset(self, offset: Ints, step: float) -> tuple[Ints, Floats]:
        """Return steps, and the top less the line; nothing where the sill is planed to it."""
        steps = self.steps + offset
        return steps, np.where(self.planed, 0.0, steps * step - self.gap)
