"""Sheets laid flat: rigid maps of the true faces into one plane, joined where the sheet is folded.

The plane is seen from the outer side of the sheet. Along a fold two faces keep their common edge, so every
length on the sheet is the same on the wall and in the plane.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sillwright.water.geodesic import Place, Surface
from sillwright.water.lattice import Floats
from sillwright.water.model import Join
from sillwright.water.tiles import SIDES, Tiling

CLOSED = 1e-6
"""Two edges farther apart than this in the plane are not one, inches."""


@dataclass(frozen=True)
class Flat:
    """Tiles of one sheet in the plane, hung together along the sides over which it is folded."""

    tiling: Tiling
    joins: dict[Place, tuple[Place, Join]]
    """Every side over which the sheet runs on, folded, pleated or formed: where to, and how."""
    used: dict[Place, Place]
    """Those over which it lies flat."""
    corners: dict[int, tuple[complex, ...]]
    """Of every tile, its corners in the plane."""

    @cached_property
    def surface(self) -> Surface:
        """Return the tiles as a surface, cut wherever it does not lie flat."""
        return Surface(np.array([tile.points for tile in self.tiling.tiles]).reshape(-1, 4, 3), self.used)

    def side(self, place: Place) -> tuple[complex, complex]:
        """Return both ends of a side in the plane, with the tile on the left."""
        ring = self.corners[place[0]]
        a, b = ring[place[1]], ring[(place[1] + 1) % 4]
        return (a, b) if area(ring) > 0 else (b, a)

    def ends(self, place: Place) -> tuple[int, int]:
        """Return the points of the surface at both ends of a side, with the tile on the left."""
        a, b = self.surface.ends(place)
        return (a, b) if area(self.corners[place[0]]) > 0 else (b, a)

    def at(self, vertex: int) -> complex:
        """Return where a point of the surface lies in the plane."""
        tile, corner = self.surface.corners[vertex][0]
        return self.corners[tile][corner]

    @cached_property
    def rim(self) -> tuple[Place, ...]:
        """Return the sides along which it is cut, or pleated, or formed."""
        every = ((tile, side) for tile in sorted(self.corners) for side in SIDES)
        return tuple(place for place in every if place not in self.used)

    @cached_property
    def following(self) -> dict[int, Place]:
        """Return the side of the rim that starts at each of its points; the sheet is on the left."""
        return {self.ends(place)[0]: place for place in self.rim}

    @cached_property
    def leading(self) -> dict[int, Place]:
        """Return the side of the rim that ends at each of its points."""
        return {self.ends(place)[1]: place for place in self.rim}

    def gap(self, vertex: int) -> float:
        """Return the angle that a point of the rim lacks to a full turn, radians; less than 0: too much."""
        return 2 * math.pi - self.surface.around[vertex]


def joins_of(tiling: Tiling) -> dict[Place, tuple[Place, Join]]:
    """Return the sides over which the one sheet of a tiling runs on, and how."""
    found = {}
    for place, tile in enumerate(tiling.tiles):
        for side in SIDES:
            beyond = tiling.laid.runs_on(tiling.sheets[0], tile.cell, side)
            if beyond is not None and beyond[0] in tiling.place_of:
                found[place, side] = (tiling.place_of[beyond[0]], beyond[1]), beyond[2]
    return found


def frames(normals: dict[str, Floats], tiling: Tiling) -> dict[int, tuple[complex, ...]]:
    """Return every tile in the plane of its own facet, seen from the outer side, u along the real axis."""
    found = {}
    for place, tile in enumerate(tiling.tiles):
        origin, far = (np.array(corner) for corner in tile.facet.corners[:2])
        along = (far - origin) / np.linalg.norm(far - origin)
        across = np.cross(normals[tile.facet.name], along)
        found[place] = tuple(complex((p - origin) @ along, (p - origin) @ across) for p in tile.points)
    return found


@dataclass
class Growth:
    """A sheet while it is laid flat, tile by tile from a root."""

    tiling: Tiling
    joins: dict[Place, tuple[Place, Join]]
    own: dict[int, tuple[complex, ...]]
    """Of every tile, its corners in the plane of its facet."""

    def grow(
        self, root: Iterable[int], allowed: frozenset[Join], among: set[int] | None = None
    ) -> dict[int, tuple[complex, ...]]:
        """Return the tiles that hang together with some root, all of one facet, over allowed joins."""
        placed = {tile: self.own[tile] for tile in root}
        todo = sorted(placed)
        while todo:
            here = todo.pop(0)
            for side in SIDES:
                found = self.joins.get((here, side))
                if found is None or found[1] not in allowed or found[0][0] in placed:
                    continue
                other = found[0]
                if among is not None and other[0] not in among:
                    continue
                placed[other[0]] = self.moved(other, placed[here], side)
                todo.append(other[0])
        return placed

    def moved(self, place: Place, ring: tuple[complex, ...], side: int) -> tuple[complex, ...]:
        """Return a tile moved so that one of its sides lies on a side of a tile that is in the plane."""
        own = self.own[place[0]]
        a, b = ring[side], ring[(side + 1) % 4]
        c, d = own[place[1]], own[(place[1] + 1) % 4]
        if (area(ring) > 0) == (area(own) > 0):
            a, b = b, a
        turn = (b - a) / (d - c)
        turn /= abs(turn)
        return tuple(a + turn * (point - c) for point in own)


def flat_of(growth: Growth, placed: dict[int, tuple[complex, ...]], allowed: frozenset[Join]) -> Flat:
    """Return placed tiles as a flat sheet: what closes in the plane is joined there."""
    keep = sorted(placed)
    number = {tile: place for place, tile in enumerate(keep)}
    used, joins = {}, {}
    for (tile, side), ((other, its_side), join) in growth.joins.items():
        if tile not in placed or other not in placed:
            continue
        here, there = (number[tile], side), (number[other], its_side)
        joins[here] = there, join
        if join in allowed and is_closed(placed[tile], side, placed[other], its_side):
            used[here] = there
    corners = {number[tile]: ring for tile, ring in placed.items()}
    return Flat(growth.tiling.part(keep), joins, used, corners)


def is_closed(ring: tuple[complex, ...], side: int, other: tuple[complex, ...], its_side: int) -> bool:
    """Tell whether two sides lie on each other in the plane."""
    ends = {0: (ring[side], ring[(side + 1) % 4]), 1: (other[its_side], other[(its_side + 1) % 4])}
    return min(max(abs(ends[0][0] - ends[1][k]), abs(ends[0][1] - ends[1][1 - k])) for k in (0, 1)) < CLOSED


def area(ring: tuple[complex, ...]) -> float:
    """Return the area inside a closed line, more than 0 if it goes round to the left."""
    return sum((a.conjugate() * b).imag for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2


def rings(flat: Flat) -> Iterator[list[int]]:
    """Yield every closed line round a flat sheet as points of its surface, the sheet on the left."""
    left = set(flat.rim)
    while left:
        start = min(left)
        ring, place = [], start
        while place in left:
            left.remove(place)
            ring.append(flat.ends(place)[0])
            place = flat.following[flat.ends(place)[1]]
        yield ring
