"""Corners that a sheet does not hold, those it is stretched round, edges where it only meets itself."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from sillwright.water.geodesic import Surface
from sillwright.water.model import Complex
from sillwright.water.pattern_model import Meeting, Patch, Stretch
from sillwright.water.slits import NARROW
from sillwright.water.tiles import SIDES, corner_at
from sillwright.water.unfold import Flat, Growth

ROUND_DEG = 0.5
"""A corner that is nearer to 360 degrees lies flat: a sheet gives so much."""


def _whole(growth: Growth) -> Surface:
    """Return a sheet as a surface that hangs together over all its seams."""
    points = np.array([tile.points for tile in growth.tiling.tiles]).reshape(-1, 4, 3)
    return Surface(points, {place: other for place, (other, _) in growth.joins.items()})


def _fans(shape: Complex, growth: Growth) -> Iterator[tuple[str, float, bool, int]]:
    """Yield each corner that a sheet goes round: the angle it covers [deg], if it is closed, its facets."""
    surface = _whole(growth)
    rim = {
        vertex
        for place in ((tile, side) for tile in range(len(surface.points)) for side in SIDES)
        if place not in surface.joined
        for vertex in surface.ends(place)
    }
    found: dict[str, list[int]] = defaultdict(list)
    for vertex in surface.corners:
        corner = corner_at(shape, surface.at(vertex))
        if corner is not None:
            found[corner.name].append(vertex)
    for name, vertices in found.items():
        covered = math.degrees(math.fsum(surface.around[vertex] for vertex in vertices))
        facets = {growth.tiling.tiles[tile].facet.name for v in vertices for tile, _ in surface.corners[v]}
        yield name, covered, any(vertex not in rim for vertex in vertices), len(facets)


def patches(shape: Complex, growth: Growth) -> Iterator[Patch]:
    """Yield the corners of more than 360 degrees to which a sheet is slit."""
    corners = {corner.name: corner for corner in shape.corners}
    for name, covered, closed, facets in _fans(shape, growth):
        corner = corners[name]
        slit = covered > 360.0 - math.degrees(NARROW)
        if not closed and slit and facets > 1 and corner.angle_deg > 360.0 + ROUND_DEG:
            opens = max(corner.angle_deg - covered, 0.0)
            yield Patch(corner=name, words=corner.words, angle_deg=corner.angle_deg, opens_deg=opens)


def stretches(shape: Complex, growth: Growth) -> list[Stretch]:
    """Return the corners of more than 360 degrees that a sheet holds: round them it is stretched."""
    corners = {corner.name: corner for corner in shape.corners}
    return [
        Stretch(corner=name, words=corners[name].words, angle_deg=corners[name].angle_deg, flat_deg=360.0)
        for name, _, closed, _ in _fans(shape, growth)
        if closed and corners[name].angle_deg > 360.0 + ROUND_DEG
    ]


def meetings(growth: Growth, flats: Sequence[Flat], *, formed: bool) -> Iterator[Meeting]:
    """Yield the edges along which two panels meet on the wall without being one piece there."""
    lengths: dict[tuple[str, str, str, bool], float] = defaultdict(float)
    used = {
        frozenset((flat.tiling.tiles[a].cell, flat.tiling.tiles[b].cell))
        for flat in flats
        for (a, _), (b, _) in flat.used.items()
    }
    tiles = growth.tiling.tiles
    for place, tile in enumerate(tiles):
        for side in SIDES:
            for cell, its_side in growth.tiling.laid.beyond(tile.cell, side):
                other = growth.tiling.place_of.get(cell)
                if other is None or (place, side) > (other, its_side):
                    continue
                join = growth.joins.get((place, side))
                if join is None and tiles[other].facet == tile.facet:
                    continue
                soldered = formed and join is not None and frozenset((tile.cell, cell)) not in used
                if join is None or soldered:
                    a, b = tile.ends(side)
                    key = (tile.panels[0].name, tiles[other].panels[0].name, tile.facet.words, soldered)
                    lengths[key] += float(np.linalg.norm(b - a))
    for (one, two, words, soldered), inches in lengths.items():
        yield Meeting(one=one, other=two, words=words, inches=inches, soldered=soldered)
