"""The least head of water that carries water to a place.

Water that entered at height z can stand anywhere that is joined to its entry below z + h, h being the head.
So for a head the wet part is a flooded basin, and the least head at which a place is wet comes from the tree
of basins that join as the level rises: where the way over the lowest sill between them is open.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sillwright.water.lattice import Floats, Ints


def least_heads(
    count: int, ways: tuple[Ints, Ints, Floats], entries: tuple[Ints, Floats]
) -> tuple[Floats, Floats]:
    """Return the least head in inches that wets each of `count` nodes, inf if none does, and where it enters.

    A way is both its ends and its lowest point, inches; an entry is a node where water comes in, and its
    height.
    """
    parent, level, best = _basins(count, ways, entries)
    size = len(parent)
    head = np.full(size, math.inf)
    source = np.array(best)
    for node in range(size - 1, -1, -1):
        own = max(level[node] - best[node], 0.0) if best[node] > -math.inf else math.inf
        above = parent[node]
        if above >= 0 and head[above] < own:
            head[node], source[node] = head[above], source[above]
        else:
            head[node] = own
    return head[:count], source[:count]


def _basins(
    count: int, ways: tuple[Ints, Ints, Floats], entries: tuple[Ints, Floats]
) -> tuple[Sequence[int], Sequence[float], Sequence[float]]:
    """Join basins in rising order. Node `count + k` is the k-th join; a parent of -1 has none above it."""
    one, other, low = ways
    order = np.argsort(low, kind="stable")
    best = [-math.inf] * count
    for node, height in zip(entries[0].tolist(), entries[1].tolist(), strict=True):
        best[node] = max(best[node], height)
    parent, root = [-1] * count, list(range(count))
    level = [-math.inf] * count

    def find(node: int) -> int:
        while root[node] != node:
            root[node] = root[root[node]]
            node = root[node]
        return node

    for a, b, height in zip(one[order].tolist(), other[order].tolist(), low[order].tolist(), strict=True):
        left, right = find(a), find(b)
        if left == right:
            continue
        joined = len(parent)
        parent[left] = parent[right] = joined
        root[left] = root[right] = joined
        parent.append(-1)
        root.append(joined)
        level.append(height)
        best.append(max(best[left], best[right]))
    return parent, level, best
