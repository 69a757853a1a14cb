"""The five regular solids, their faces cut into four-cornered tiles."""

from __future__ import annotations

import math
from itertools import product

import numpy as np

from sillwright.water.geodesic import Place
from sillwright.water.lattice import Floats

GOLDEN = (1 + math.sqrt(5)) / 2


def _faces(points: list[tuple[float, float, float]]) -> list[list[tuple[float, float, float]]]:
    """Return the faces of a solid whose corners lie on a sphere: each plane with the rest on one side."""
    corners = np.array(points)
    found: dict[frozenset[int], list[int]] = {}
    for a in range(len(corners)):
        for b in range(a):
            for c in range(b):
                normal = np.cross(corners[a] - corners[c], corners[b] - corners[c])
                reach = (corners - corners[c]) @ normal
                if reach.max() < 1e-9 or reach.min() > -1e-9:
                    on = [int(n) for n in np.flatnonzero(np.abs(reach) < 1e-9)]
                    found[frozenset(on)] = _round(corners, on, normal)
    return [[points[n] for n in face] for face in found.values()]


def _round(corners: Floats, on: list[int], normal: Floats) -> list[int]:
    middle = corners[on].mean(axis=0)
    first = corners[on[0]] - middle
    second = np.cross(normal / np.linalg.norm(normal), first)
    return sorted(on, key=lambda n: math.atan2((corners[n] - middle) @ second, (corners[n] - middle) @ first))


def _even(points: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    return [(z, x, y) for x, y, z in points] + [(y, z, x) for x, y, z in points] + points


def _ends() -> list[tuple[float, float, float]]:
    return [(float(x), float(y), float(z)) for x, y, z in product((-1, 1), repeat=3)]


SOLIDS = {
    "tetrahedron": _faces([(1.0, 1.0, 1.0), (1.0, -1.0, -1.0), (-1.0, 1.0, -1.0), (-1.0, -1.0, 1.0)]),
    "cube": _faces(_ends()),
    "octahedron": _faces(_even([(0.0, 0.0, s) for s in (-1.0, 1.0)])),
    "dodecahedron": _faces(
        _ends() + _even([(0.0, a / GOLDEN, b * GOLDEN) for a, b in product((-1, 1), repeat=2)])
    ),
    "icosahedron": _faces(_even([(0.0, float(a), b * GOLDEN) for a, b in product((-1, 1), repeat=2)])),
}


def quartered(faces: list[list[tuple[float, float, float]]]) -> tuple[Floats, dict[Place, Place]]:
    """Return each face cut from its middle to the middles of its sides, and how these tiles hang together."""
    tiles: list[Floats] = []
    for face in faces:
        ring = np.array(face)
        middle = ring.mean(axis=0)
        halves = (ring + np.roll(ring, -1, axis=0)) / 2
        tiles += [np.array([ring[n], halves[n], middle, halves[n - 1]]) for n in range(len(ring))]
    sides: dict[frozenset[tuple[float, ...]], list[Place]] = {}
    for tile, corners in enumerate(tiles):
        for side in range(4):
            ends = corners[side], corners[(side + 1) % 4]
            key = frozenset(tuple(float(c) for c in np.round(end, 6) + 0.0) for end in ends)
            sides.setdefault(key, []).append((tile, side))
    joined: dict[Place, Place] = {}
    for one, other in sides.values():
        joined[one], joined[other] = other, one
    return np.array(tiles), joined
