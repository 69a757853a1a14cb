"""A dressed wall drawn true: openings level, plumb and square, so that a picture drawn short has no kinks.

What is out of level or plumb is told by the elevation and the sill lines; here it would hide what matters.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sillwright.water import LEDGER, WALL, Complex, Dressing, Facet
from sillwright.water.model import Point


def squared(dressing: Dressing) -> Dressing:
    """Return a dressed wall whose faces lie where their own axes say."""
    shape = dressing.complex
    facets = tuple(_squared(shape, facet) for facet in shape.facets)
    square = Complex(
        facets=facets, glues=shape.glues, mounts=shape.mounts, corners=shape.corners, room=shape.room
    )
    return replace(dressing, complex=square)


def _squared(shape: Complex, facet: Facet) -> Facet:
    logical = ((0, 0), (1, 0), (1, 1), (0, 1))
    a, b, c, d = (
        _corner(shape, facet, (facet.u[i], facet.v[j]), true)
        for (i, j), true in zip(logical, facet.corners, strict=True)
    )
    return replace(facet, corners=(a, b, c, d), warp=None)


def _corner(shape: Complex, facet: Facet, at: tuple[float, float], true: Point) -> Point:
    known = dict(zip(facet.axes, at, strict=True))
    x = known["x"] if "x" in known else _fixed(shape, facet, "u")
    z = known["z"] if "z" in known else _fixed(shape, facet, "v")
    return x, true[1], z + _rise(shape, facet, true, z)


def _fixed(shape: Complex, facet: Facet, across: str) -> float:
    """Return where a face that stands square to an axis of the wall meets it."""
    return next(
        glue.one.at
        for glue in shape.glues
        if glue.one.facet == WALL and glue.other.facet == facet.name and glue.one.across == across
    )


def _rise(shape: Complex, facet: Facet, true: Point, z: float) -> float:
    """Return how far the sill has risen at a corner toward the room; 0 on the wall, the ledger, the head."""
    opening = facet.name.rpartition(".")[0]
    if facet.name == WALL or opening == LEDGER or true[1] < 1e-9:
        return 0.0
    sill, left = shape.by_name[f"{opening}.sill"], shape.by_name[f"{opening}.left"]
    if z > (left.v[0] + left.v[1]) / 2:
        return 0.0
    heights = np.array([corner[2] for corner in sill.corners])
    return float(heights[2:].mean() - heights[:2].mean())
