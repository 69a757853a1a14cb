"""How a flat piece lies on its roll: which way round, whether the roll is wide enough, where it is joined."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

SHY = 1.0 / 8
"""A piece this much wider than the roll is cut from it and comes out shy; common practice, no source."""
SAME_LENGTH = 1.0 / 16
"""Among ways round that differ by less, the one square to the wall is taken."""
STEP = 1.0 / 16
"""Joints are placed on whole sixteenths, as a tape can mark them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One of several widths of roll that a piece is joined from: from edge to edge across it, inches."""

    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSize:
    """The least rectangle round a piece, as it lies on the roll."""

    along: float
    """The length to cut off the roll, inches."""
    across: float
    roll: float | None
    """Width of the roll; None: it is not from a roll."""
    shy: float
    """How much narrower than the pattern the piece comes out."""
    strips: tuple[Strip, ...]
    """One: it is cut in one piece."""
    lap: float
    """Of one strip over the next; 0: there is none."""

    @property
    def fits(self) -> bool:
        """Tell whether the roll is wide enough for each strip."""
        return self.shy <= SHY


@dataclass(frozen=True, slots=True)
class Lying:
    """A way round: multiply points by `turn`, then take `origin` off."""

    turn: complex
    origin: complex
    along: float
    across: float


def lie(points: Sequence[complex], roll: float | None, lap: float) -> Lying:
    """Return how a piece lies best: in the fewest widths of roll, in the least rectangle, shortest, squarest.

    Without a roll it lies along its longer side. The least rectangle round a piece has a
    side along its convex hull.

    Source:  H. Freeman, R. Shapira, Communications of the ACM 18 (1975), 409 (from memory)
    """
    if roll is None:
        hung = _lying(points, 1)
        return hung if hung.along >= hung.across else _lying(points, 1j)
    turns = [1, 1j]
    for a, b in _sides(_hull(points)):
        turns += [abs(b - a) / (b - a), 1j * abs(b - a) / (b - a)]
    ways = [_lying(points, turn) for turn in turns]
    fewest = min(_widths(way.across, roll, lap) for way in ways)
    ways = [way for way in ways if _widths(way.across, roll, lap) == fewest]
    least = min(way.along * way.across for way in ways)
    ways = [way for way in ways if way.along * way.across < least + SAME_LENGTH * max(way.along, way.across)]
    shortest = min(way.along for way in ways)
    ways = [way for way in ways if way.along < shortest + SAME_LENGTH]
    return min(ways, key=lambda way: (round(_skew(way.turn), 9), round(way.along, 9)))


def cut_size(way: Lying, roll: float | None, lap: float | None, keep_off: Sequence[float]) -> CutSize:
    """Return the cut size of a piece, joined away from some places across it where that is needed.

    Args:    lap: of a joint [in], None: it cannot be joined; keep_off: places of corners and folds, from
             the lower edge [in]
    """
    shy = max(way.across - roll, 0.0) if roll is not None else 0.0
    if roll is None or lap is None or shy <= SHY:
        whole = (Strip(low=0.0, high=way.across),)
        return CutSize(along=way.along, across=way.across, roll=roll, shy=shy, strips=whole, lap=0.0)
    strips = tuple(_strips(way.across, roll, lap, keep_off))
    return CutSize(along=way.along, across=way.across, roll=roll, shy=0.0, strips=strips, lap=lap)


def _widths(across: float, roll: float, lap: float) -> int:
    if across <= roll + SHY:
        return 1
    return math.ceil((across - lap) / (roll - lap) - 1e-9) if roll > lap else 10**6


def _skew(turn: complex) -> float:
    """Return how far a turn is from a quarter turn, radians."""
    angle = cmath.phase(turn) % (math.pi / 2)
    return min(angle, math.pi / 2 - angle)


def _lying(points: Sequence[complex], turn: complex) -> Lying:
    turned = [point * turn for point in points]
    low = complex(min(p.real for p in turned), min(p.imag for p in turned))
    high = complex(max(p.real for p in turned), max(p.imag for p in turned))
    return Lying(turn, low, high.real - low.real, high.imag - low.imag)


def _sides(ring: Sequence[complex]) -> Iterator[tuple[complex, complex]]:
    yield from zip(ring, (*ring[1:], ring[0]), strict=True)


def _hull(points: Sequence[complex]) -> list[complex]:
    """Return the convex hull, going round to the left (Andrew's monotone chain)."""
    ordered = sorted({(round(point.real, 9), round(point.imag, 9)) for point in points})

    def half(run: Sequence[complex]) -> list[complex]:
        chain: list[complex] = []
        for point in run:
            while len(chain) > 1 and ((chain[-1] - chain[-2]).conjugate() * (point - chain[-1])).imag <= 0:
                chain.pop()
            chain.append(point)
        return chain[:-1]

    corners = [complex(*point) for point in ordered]
    return half(corners) + half(corners[::-1])


def _strips(across: float, roll: float, lap: float, keep_off: Sequence[float]) -> Iterator[Strip]:
    """Yield the strips; of all joints on whole sixteenths, those that stay farthest from some places.

    Where the stock is so scarce that no joints on sixteenths serve, the strips are of one width.
    """
    count = _widths(across, roll, lap)
    best: dict[int, tuple[float, tuple[int, ...]]] = {0: (math.inf, ())}
    reach, room = math.floor((roll - lap) / STEP + 1e-9), math.floor(roll / STEP + 1e-9)
    for number in range(1, count):
        following: dict[int, tuple[float, tuple[int, ...]]] = {}
        most = room if number == 1 else reach
        for at, (clear, joints) in best.items():
            for end in range(at + 1, at + most + 1):
                if (across - end * STEP) > (roll - lap) * (count - number) + 1e-9 or end * STEP >= across:
                    continue
                value = min(clear, _clear(end * STEP - lap / 2, lap, keep_off))
                if end not in following or value > following[end][0]:
                    following[end] = value, (*joints, end)
        best = following
    if best:
        _, chosen = max(best.values(), key=lambda each: each[0])
        tops = [joint * STEP for joint in chosen]
    else:
        tops = [lap + number * (across - lap) / count for number in range(1, count)]
    ends, starts = [*tops, across], [0.0, *(top - lap for top in tops)]
    yield from (Strip(low=low, high=high) for low, high in zip(starts, ends, strict=True))


def _clear(middle: float, lap: float, keep_off: Sequence[float]) -> float:
    return min((abs(place - middle) - lap / 2 for place in keep_off), default=math.inf)
