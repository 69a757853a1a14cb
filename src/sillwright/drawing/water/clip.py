"""Cutting outlines and lines to a convex window."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from sillwright.drawing.scene import Point

_NEAR = 1e-9


def inside(shape: Sequence[Point], window: Sequence[Point]) -> list[Point]:
    """Return the part of an outline inside a convex window, an anticlockwise outline; empty: nothing.

    Source: I. E. Sutherland, G. W. Hodgman, Reentrant polygon clipping, 1974 (from memory)
    """
    found = list(shape)
    for a, b in zip(window, [*window[1:], window[0]], strict=True):
        kept: list[Point] = []
        for p, q in zip(found, [*found[1:], *found[:1]], strict=True):
            s, t = _side(a, b, p), _side(a, b, q)
            if s >= 0:
                kept.append(p)
            if (s > 0 > t) or (s < 0 < t):
                kept.append(_between(p, q, s / (s - t)))
        found = kept
    return found


def runs(line: Sequence[Point], window: Sequence[Point]) -> list[list[Point]]:
    """Return the runs of an open line inside a convex window, an anticlockwise outline."""
    found: list[list[Point]] = []
    for p, q in pairwise(line):
        part = _part(p, q, window)
        if part is None:
            continue
        if found and found[-1][-1] == part[0]:
            found[-1].append(part[1])
        else:
            found.append(list(part))
    return found


def _part(p: Point, q: Point, window: Sequence[Point]) -> tuple[Point, Point] | None:
    start, end = 0.0, 1.0
    for a, b in zip(window, [*window[1:], window[0]], strict=True):
        s, t = _side(a, b, p), _side(a, b, q)
        if s < -_NEAR and t < -_NEAR:
            return None
        if s < -_NEAR or t < -_NEAR:
            at = s / (s - t)
            start, end = (max(start, at), end) if s < t else (start, min(end, at))
    if end - start < _NEAR:
        return None
    return (p if start == 0 else _between(p, q, start)), (q if end == 1 else _between(p, q, end))


def _side(a: Point, b: Point, p: Point) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _between(p: Point, q: Point, share: float) -> Point:
    return p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])
