"""The straight way between two edges of an overlap, where they lie on one facet and nothing is between."""

from __future__ import annotations

import numpy as np

from sillwright.water.geodesic import Place, Track
from sillwright.water.lattice import Bools, Floats
from sillwright.water.tiles import Tiling

TINY = 1e-9


def straight(part: Tiling, start: list[Place], goal: list[Place]) -> Track | None:
    """Return the shortest way between sides of tiles if it is straight and stays on the tiles of a facet.

    None: the sides lie on two facets, or the straight way leaves the tiles.
    """
    facet = part.tiles[start[0][0]].facet.name
    if part.tiles[goal[0][0]].facet.name != facet:
        return None
    tiles = [place for place, tile in enumerate(part.tiles) if tile.facet.name == facet]
    corners = part.surface.points[tiles]
    origin, along, up = _plane(corners[0])
    flat = np.stack([(corners - origin) @ along, (corners - origin) @ up], axis=-1)
    row = {place: number for number, place in enumerate(tiles)}
    one, other = (
        np.array([[flat[row[tile], side], flat[row[tile], (side + 1) % 4]] for tile, side in places])
        for places in (start, goal)
    )
    near, far = _nearest(one, other)
    stops = _stops(flat, near, far)
    middles = near + (stops[:-1, None] + np.diff(stops)[:, None] / 2) * (far - near)
    inside = _inside(flat, middles)
    if not inside.any(axis=1).all():
        return None
    points = origin + (near + stops[:, None] * (far - near)) @ np.stack([along, up])
    return Track(
        float(np.hypot(*(far - near))),
        tuple((x, y, z) for x, y, z in points.tolist()),
        tuple(tiles[number] for number in inside.argmax(axis=1).tolist()),
    )


def apart(part: Tiling, start: list[Place], goal: list[Place]) -> float:
    """Return no more than the length of any way between sides of tiles: how far their boxes are apart."""
    one, other = (
        part.surface.points[
            [tile for tile, _ in places for _ in (0, 1)],
            [(side + step) % 4 for _, side in places for step in (0, 1)],
        ]
        for places in (start, goal)
    )
    gap = np.maximum(one.min(axis=0), other.min(axis=0)) - np.minimum(one.max(axis=0), other.max(axis=0))
    return float(np.linalg.norm(np.maximum(gap, 0.0)))


def _plane(corners: Floats) -> tuple[Floats, Floats, Floats]:
    """Return a point of a plane and two square unit directions in it."""
    along = corners[1] - corners[0]
    along = along / np.linalg.norm(along)
    up = corners[3] - corners[0]
    up = up - (up @ along) * along
    return corners[0], along, up / np.linalg.norm(up)


def _nearest(one: Floats, other: Floats) -> tuple[Floats, Floats]:
    """Return the nearest points of two sets of segments that do not cross: one of them is an end."""
    best = (np.inf, one[0, 0], other[0, 0])
    for ends, segments, swapped in ((one, other, False), (other, one, True)):
        points = ends.reshape(-1, 2)
        base, ray = segments[:, 0], segments[:, 1] - segments[:, 0]
        share = np.einsum("pk,sk->ps", points, ray) - np.einsum("sk,sk->s", base, ray)
        share = np.clip(share / np.einsum("sk,sk->s", ray, ray), 0.0, 1.0)
        feet = base + share[..., None] * ray
        length = np.hypot(*np.moveaxis(points[:, None] - feet, -1, 0))
        p, s = np.unravel_index(int(length.argmin()), length.shape)
        if length[p, s] < best[0] - TINY:
            pair = (feet[p, s], points[p]) if swapped else (points[p], feet[p, s])
            best = (float(length[p, s]), *pair)
    return best[1], best[2]


def _stops(flat: Floats, near: Floats, far: Floats) -> Floats:
    """Return where a segment meets the sides of tiles, as shares of its length, with both its ends."""
    ray = far - near
    base, side = flat, np.roll(flat, -1, axis=1) - flat
    down = ray[0] * side[..., 1] - ray[1] * side[..., 0]
    gap = base - near
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (gap[..., 0] * side[..., 1] - gap[..., 1] * side[..., 0]) / down
    share = share[np.isfinite(share) & (share > TINY) & (share < 1 - TINY)]
    stops = np.unique(np.concatenate([[0.0, 1.0], share]))
    kept: Floats = stops[np.concatenate([[True], np.diff(stops) > TINY])]
    return kept


def _inside(flat: Floats, points: Floats) -> Bools:
    """Tell which tiles hold which points: points x tiles."""
    side = np.roll(flat, -1, axis=1) - flat
    gap = points[:, None, None] - flat
    cross = side[..., 0] * gap[..., 1] - side[..., 1] * gap[..., 0]
    held: Bools = np.logical_or(np.all(cross > -TINY, axis=2), np.all(cross < TINY, axis=2))
    return held
