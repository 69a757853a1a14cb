"""The laps that a section shows: where the free end of a piece hangs over the end of another."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sillwright.drawing.water.cut import Leg, runs
from sillwright.water import WALL, Kind, Sheet, Span

_LEAST, _MOST = 1.0 / 32, 12.0
"""Less is no lap, more is a cover [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lap:
    """A lap on the wall: from `low` to `high` along it."""

    upper: Sheet
    lower: Sheet
    low: float
    high: float
    ends: tuple[tuple[float, Sheet], tuple[float, Sheet]]
    """Which piece ends at each end."""

    def near(self, other: Lap, room: float) -> bool:
        """Tell whether two laps are too near to be written in one column."""
        return self.low - room < other.high and other.low - room < self.high


def laps(layers: Sequence[Sheet], legs: Callable[[Sheet], Sequence[Leg]], *, mirrored: bool) -> Iterator[Lap]:
    """Yield the laps of a section, each stretch once. `mirrored`: pieces hang toward greater values."""
    told: set[Span] = set()
    for number, upper in enumerate(layers):
        for lower in layers[:number]:
            if Kind.UNIT in (upper.kind, lower.kind) or upper.kind is Kind.BEAD or lower.kind is Kind.BEAD:
                continue
            for lap in _between(upper, lower, legs, mirrored=mirrored):
                span = round(lap.low, 3), round(lap.high, 3)
                if span not in told:
                    told.add(span)
                    yield lap


def _between(
    upper: Sheet, lower: Sheet, legs: Callable[[Sheet], Sequence[Leg]], *, mirrored: bool
) -> Iterator[Lap]:
    for mine in _stretches(upper, legs(upper)):
        for other in _stretches(lower, legs(lower)):
            low, high = max(mine[0], other[0]), min(mine[1], other[1])
            if mirrored:
                hangs = mine[0] <= other[0] < mine[1] < other[1]
                ends = (low, lower), (high, upper)
            else:
                hangs = other[0] < mine[0] < other[1] <= mine[1]
                ends = (low, upper), (high, lower)
            if hangs and _LEAST < high - low <= _MOST:
                yield Lap(upper=upper, lower=lower, low=low, high=high, ends=ends)


def _stretches(sheet: Sheet, legs: Sequence[Leg]) -> Iterator[Span]:
    """Yield how far each run of a sheet goes on the wall."""
    for run in runs(sheet, legs):
        on = [piece.ends for piece in run if legs[piece.leg].facet == WALL]
        if on:
            yield min(low for low, _ in on), max(high for _, high in on)
