"""Which pad to lay at each bearing point for each candidate line: within tolerance, fewest minutes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

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
    minute, counted = rates(), float(back is not None)
    best = np.full(fronts.gap.shape, np.inf)
    chosen = np.zeros(fronts.gap.shape, dtype=np.int64)
    for k, (df, db) in enumerate(pairs):
        f, f_miss = fronts.with_offset(df, stock.step)
        b, b_miss = backs.with_offset(db, stock.step)
        pieces = stock.count(f, b)
        ok = (pieces < UNREACHED) & (f_miss <= allowed) & (b_miss <= allowed)
        ok &= fronts.may(df) & backs.may(db)
        cost = np.where(ok, minute["piece"] * pieces + minute["miss"] * (f_miss + counted * b_miss), np.inf)
        better = cost < best - _NOISE
        best[better], chosen[better] = cost[better], k
    offset = np.array(pairs)[chosen]
    f, b = fronts.steps + offset[..., 0], backs.steps + offset[..., 1]
    return Padding(
        front=f,
        back=b,
        pieces=stock.count(f, b),
        front_miss=fronts.miss(f, stock.step),
        back_miss=backs.miss(b, stock.step),
        made=np.isfinite(best),
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

    def may(self, offset: int) -> NDArray[np.bool_]:
        """Tell where a pad may differ from the nearest by these steps: where one is called for and left."""
        return (self.steps + offset >= 1) & (self.steps >= 1) if offset else np.ones_like(self.planed)

    def miss(self, steps: Ints, step: float) -> Floats:
        return np.where(self.planed, 0.0, steps * step - self.gap)

    def with_offset(self, offset: int, step: float) -> tuple[Ints, Floats]:
        steps = self.steps + offset
        return steps, np.abs(self.miss(steps, step))
