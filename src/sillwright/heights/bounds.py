"""What difference constraints leave: the room between any two levels, and the smallest set that leaves none.

Every relation says z_upper - z_lower <= high and z_lower - z_upper <= -low: an arc with a length. The most
that one level can stand above another is the shortest way between them; relations clash exactly where
going round some loop comes to less than nothing.

Source:  R. Bellman, On a routing problem, Quart. Appl. Math. 16 (1958) 87-90; R. W. Floyd, Algorithm 97:
         shortest path, Comm. ACM 5 (1962) 345 (both from memory). Checked against a linear program solver.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np
import numpy.typing as npt

from sillwright.heights.spread import Link

SMALLEST = 1e-9
"""A loop that is short by less is held to close: it is rounding [in]."""

Matrix = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Arcs:
    """The tightest relation for each ordered pair of levels."""

    index: dict[str, int]
    length: Matrix
    link: dict[tuple[int, int], Link]


def arcs(names: list[str], relations: list[Link]) -> Arcs:
    """Return the tightest arc between each pair of levels; no arc is infinitely long."""
    index = {name: number for number, name in enumerate(names)}
    length = np.full((len(names), len(names)), inf)
    np.fill_diagonal(length, 0.0)
    tightest: dict[tuple[int, int], Link] = {}
    for link in relations:
        lower, upper = index[link.lower], index[link.upper]
        for pair, most in (((lower, upper), link.high), ((upper, lower), -link.low)):
            if most < length[pair]:
                length[pair] = most
                tightest[pair] = link
    return Arcs(index, length, tightest)


def closed(found: Arcs) -> Matrix:
    """Return the most that each level (column) can stand above each other (row) [in]."""
    most = found.length.copy()
    for through in range(len(most)):
        np.minimum(most, most[:, through, None] + most[None, through, :], out=most)
    return most


def clashes(most: Matrix) -> bool:
    """Say whether no heights at all satisfy every relation."""
    return bool((np.diag(most) < -SMALLEST).any())


def smallest_clash(found: Arcs) -> tuple[list[Link], float]:
    """Return a smallest set of relations that clash, and what is missing round their loop [in].

    Loops are looked for with one relation more each time, so none with fewer exists. Empty where none clash.
    """
    length = found.length.copy()
    np.fill_diagonal(length, inf)
    walk = length.copy()
    before: list[npt.NDArray[np.int64]] = []
    for _ in range(len(length)):
        at = int(np.argmin(np.diag(walk)))
        if walk[at, at] < -SMALLEST:
            return _loop(found, before, at), -float(walk[at, at])
        through = walk[:, :, None] + length[None, :, :]
        before.append(np.argmin(through, axis=1))
        walk = np.min(through, axis=1)
    return [], 0.0


def _loop(found: Arcs, before: list[npt.NDArray[np.int64]], start: int) -> list[Link]:
    nodes = [start]
    for step in reversed(before):
        nodes.append(int(step[start, nodes[-1]]))
    nodes.append(start)
    nodes.reverse()
    return [found.link[pair] for pair in pairwise(nodes)]
