"""What bounds on differences leave: the room between any two places, and a smallest set that leaves none.

Every bound says x[to] - x[start] <= most: an arc with a length. The most that one place can lie beyond
another is the shortest way between them; bounds clash exactly where going round some loop comes to less than
nothing.

Source:  R. Bellman, On a routing problem, Quart. Appl. Math. 16 (1958) 87-90; R. W. Floyd, Algorithm 97:
         shortest path, Comm. ACM 5 (1962) 345 (both from memory). Checked against a linear program solver.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Generic, TypeVar

import numpy as np
import numpy.typing as npt

SMALLEST = 1e-9
"""A loop that is short by less is held to close: it is rounding [in]."""

Matrix = npt.NDArray[np.float64]
Of = TypeVar("Of")


@dataclass(frozen=True, slots=True)
class Bound(Generic[Of]):
    """x[to] - x[start] <= most, and whose bound it is."""

    start: str
    to: str
    most: float
    of: Of


@dataclass(frozen=True, slots=True)
class Arcs(Generic[Of]):
    """The tightest bound for each ordered pair of places."""

    index: dict[str, int]
    length: Matrix
    of: dict[tuple[int, int], Of]


def arcs(names: list[str], bounds: Iterable[Bound[Of]]) -> Arcs[Of]:
    """Return the tightest arc between each pair of places; no arc is infinitely long."""
    index = {name: number for number, name in enumerate(names)}
    length = np.full((len(names), len(names)), inf)
    np.fill_diagonal(length, 0.0)
    tightest: dict[tuple[int, int], Of] = {}
    for bound in bounds:
        pair = index[bound.start], index[bound.to]
        if bound.most < length[pair]:
            length[pair] = bound.most
            tightest[pair] = bound.of
    return Arcs(index, length, tightest)


def closed(found: Arcs[Of]) -> Matrix:
    """Return the most that each place (column) can lie beyond each other (row) [in]."""
    most = found.length.copy()
    for through in range(len(most)):
        np.minimum(most, most[:, through, None] + most[None, through, :], out=most)
    return most


def clashes(most: Matrix) -> bool:
    """Say whether nothing at all satisfies every bound."""
    return bool((np.diag(most) < -SMALLEST).any())


def smallest_clash(found: Arcs[Of], *, noise: float = SMALLEST) -> tuple[list[Of], float]:
    """Return a smallest set of bounds that clash, and what is missing round their loop [in].

    Loops are looked for with one bound more each time, so none with fewer exists. Empty where none is short
    by more than the noise [in].
    """
    if not clashes(closed(found)):
        return [], 0.0
    length = found.length.copy()
    own = np.diag(length)
    np.fill_diagonal(length, np.where(own < 0.0, own, inf))  # a place against itself: a walk of one
    walk = length.copy()
    before: list[npt.NDArray[np.int64]] = []
    for _ in range(len(length)):
        at = int(_first_least(np.diag(walk)))
        if walk[at, at] < -noise:
            return _loop(found, before, at), -float(walk[at, at])
        through = walk[:, :, None] + length[None, :, :]
        before.append(_first_least(through.transpose(0, 2, 1)))
        walk = np.min(through, axis=1)
    return [], 0.0


def _first_least(values: Matrix) -> npt.NDArray[np.int64]:
    """Return the places of the least of each row; of those alike but for rounding, the first."""
    least = values <= values.min(axis=-1, keepdims=True) + SMALLEST
    return np.asarray(np.argmax(least, axis=-1), dtype=np.int64)


def _loop(found: Arcs[Of], before: list[npt.NDArray[np.int64]], start: int) -> list[Of]:
    nodes = [start]
    for step in reversed(before):
        nodes.append(int(step[start, nodes[-1]]))
    nodes.append(start)
    nodes.reverse()
    return [found.of[pair] for pair in pairwise(nodes)]
