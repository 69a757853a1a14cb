"""Which way the faces of a wall look, and how high the layers on them lie."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.water import WALL, Complex, Face, Facet, Panel, Sheet, Span

Vector = NDArray[np.float64]


def outward(shape: Complex, facet: Facet) -> Vector:
    """Return the direction of length 1 that leaves a face on its open side."""
    a, b, _, d = (np.array(corner) for corner in facet.corners)
    normal: Vector = np.cross(b - a, d - a)
    normal = normal / np.linalg.norm(normal)
    return normal if normal @ _open_side(shape, facet) > 0 else -normal


def _open_side(shape: Complex, facet: Facet) -> Vector:
    if facet.face is Face.LYING:
        return np.array([0.0, 0.0, 1.0])
    if facet.face is Face.UNDERSIDE:
        return np.array([0.0, 0.0, -1.0])
    if "x" in facet.axes:
        return np.array([0.0, -1.0, 0.0])
    side = next(
        glue.side_one
        for glue in shape.glues
        if glue.one.facet == WALL and glue.other.facet == facet.name and glue.one.across == "u"
    )
    inward = float(np.mean([corner[1] for corner in facet.corners])) > 0
    return np.array([-side if inward else side, 0.0, 0.0], float)


def lifts(laid: list[tuple[Sheet, Panel]]) -> dict[tuple[str, str], int]:
    """Return by sheet and face how many layers it is, where most lie below it, for panels in their order."""
    found: dict[tuple[str, str], int] = {}
    before: list[tuple[str, Panel]] = []
    for sheet, panel in laid:
        below = (
            found[name, other.facet]
            for name, other in before
            if name != sheet.name and other.facet == panel.facet and meet(panel, other)
        )
        key = sheet.name, panel.facet
        found[key] = max(max((1 + n for n in below), default=1), found.get(key, 1))
        before.append((sheet.name, panel))
    return found


def meet(one: Panel, other: Panel) -> bool:
    """Tell whether two panels of a facet lie over each other."""
    return _overlap(one.u, other.u) > 1e-6 and _overlap(one.v, other.v) > 1e-6


def _overlap(one: Span, other: Span) -> float:
    return min(one[1], other[1]) - max(one[0], other[0])


def overlap(one: Span, other: Span) -> float:
    """Return how much two spans share; 0: nothing."""
    return max(_overlap(one, other), 0.0)
