"""Chains of marks along a line, alternating between two rows, with least and greatest gaps.

The chain with the fewest marks, and among those the one with the most even gaps (least sum of their squares).
Which marks can be reached by k steps, and from which the end can still be reached, is kept in the bits of an
integer; the even chain is then found by dynamic programming over the few marks that remain.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """Two rows of marks; all numbers are counts of marks."""

    usable: Bools
    """(2, m): where a fastener may stand, by row."""
    first: tuple[int, int]
    """The chain begins on one of these marks."""
    last: tuple[int, int]
    """And ends on one of these."""
    least: int
    most: int
    """Gap between neighbours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """Marks and rows from left to right; empty where there is no chain, with how far any got."""

    marks: tuple[tuple[int, int], ...]
    reached: int


def fewest(track: Track) -> Chain:
    """Return the chain of fewest marks and, among those, of the most even gaps; rows alternate."""
    tries = [_layers(track, start) for start in (0, 1)]
    done = [layers for layers, _ in tries if layers]
    if not done:
        return Chain(marks=(), reached=max(reached for _, reached in tries))
    count = min(len(layers) for layers in done)
    starts = [start for start, (layers, _) in enumerate(tries) if layers and len(layers) == count]
    scored = [(*_even(tries[start][0], track), start) for start in starts]
    _, marks, start = min(scored, key=lambda found: found[0])
    chain = tuple((mark, (start + k) % 2) for k, mark in enumerate(marks))
    return Chain(marks=chain, reached=marks[-1])


def _layers(track: Track, start: int) -> tuple[list[NDArray[np.int64]], int]:
    """Return the marks that the k-th fastener of a shortest chain can have, and how far any chain got."""
    free = [_bits(row) for row in track.usable]
    goal = _ones(*track.last)
    reach = [free[start] & _ones(*track.first)]
    while reach[-1] and not (len(reach) > 1 and reach[-1] & goal):
        step = _spread(reach[-1], track.least, track.most)
        reach.append(step & free[(start + len(reach)) % 2])
    if not reach[-1]:
        return [], max(layer.bit_length() - 1 for layer in reach)
    alive = [reach[-1] & goal]
    for layer in reversed(reach[:-1]):
        alive.append(layer & _spread_back(alive[-1], track.least, track.most))
    places = [_marks(layer) for layer in reversed(alive)]
    return places, int(places[-1][-1])


def _even(layers: list[NDArray[np.int64]], track: Track) -> tuple[float, list[int]]:
    """Return the least sum of squared gaps over the layers, and the marks that have it."""
    cost = np.zeros(len(layers[0]))
    back = []
    for before, after in pairwise(layers):
        gap = after[:, None] - before[None, :]
        allowed = (gap >= track.least) & (gap <= track.most)
        total = np.where(allowed, cost[None, :] + gap.astype(np.float64) ** 2, np.inf)
        back.append(total.argmin(axis=1))
        cost = total.min(axis=1)
    at = int(cost.argmin())
    best = float(cost[at])
    marks = [int(layers[-1][at])]
    for choice, layer in zip(reversed(back), reversed(layers[:-1]), strict=True):
        at = int(choice[at])
        marks.append(int(layer[at]))
    return best, marks[::-1]


def _spread(bits: int, least: int, most: int) -> int:
    """Return every mark that lies least to most after one of these."""
    return _smear(bits, most - least) << least


def _spread_back(bits: int, least: int, most: int) -> int:
    """Return every mark that lies least to most before one of these."""
    return _smear(bits, most - least) >> most


def _smear(bits: int, width: int) -> int:
    """Return the bits with each one repeated upward over a width."""
    done = 0
    while done < width:
        step = min(done + 1, width - done)
        bits |= bits << step
        done += step
    return bits


def _ones(low: int, high: int) -> int:
    return ((1 << (high + 1)) - 1) & ~((1 << max(low, 0)) - 1) if high >= low else 0


def _bits(row: Bools) -> int:
    return int.from_bytes(np.packbits(row, bitorder="little").tobytes(), "little")


def _marks(bits: int) -> NDArray[np.int64]:
    raw = np.frombuffer(bits.to_bytes(bits.bit_length() // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(raw, bitorder="little"))
