"""Panels on the wall: clipped where another opening, the ledger or the wall's end is in the way."""

from __future__ import annotations

from itertools import pairwise

from sillwright.water import Join, Panel, RoughOpening, Seam, Span, WallFace

Rect = tuple[Span, Span]
LEAST = 1.0 / 64
"""A piece narrower than this is not cut, inches."""


def cut_to_wall(wall: WallFace, own: RoughOpening | None, rect: Rect) -> Rect | None:
    """Return what is left of a piece of sheet on the wall beside an opening; None: nothing.

    It ends at another opening, at the top of the ledger, and at the ends of the wall.
    """
    (u0, u1), (v0, v1) = rect
    u0, u1 = max(u0, wall.x[0]), min(u1, wall.x[1])
    v0, v1 = max(v0, wall.z[0]), min(v1, wall.z[1])
    board = wall.ledger
    if board and u0 < board.x[1] and board.x[0] < u1 and v1 > board.z[1] > v0:
        v0 = board.z[1]
    for other in wall.openings:
        if (
            own is not None
            and other.name != own.name
            and _meet((u0, u1), other.x)
            and _meet((v0, v1), other.z)
        ):
            if other.x[0] >= own.x[1]:
                u1 = other.x[0]
            else:
                u0 = other.x[1]
    return ((u0, u1), (v0, v1)) if u1 - u0 > LEAST and v1 - v0 > LEAST else None


def _meet(one: Span, other: Span) -> bool:
    return one[0] < other[1] - LEAST and other[0] < one[1] - LEAST


def field(region: Rect, holes: list[Rect]) -> list[Rect]:
    """Return rectangles that cover a region but for its holes."""
    (u0, u1), (v0, v1) = region
    holes = [hole for hole in holes if _meet(hole[0], region[0]) and _meet(hole[1], region[1])]
    lines = sorted({u0, u1, *(u for hole in holes for u in hole[0] if u0 < u < u1)})
    found = []
    for left, right in pairwise(lines):
        inside = sorted(v for u, v in holes if u[0] < right - LEAST and left < u[1] - LEAST)
        at = v0
        for low, high in inside:
            if low - at > LEAST:
                found.append(((left, right), (at, low)))
            at = max(at, high)
        if v1 - at > LEAST:
            found.append(((left, right), (at, v1)))
    return found


def sheet_of(facet: str, name: str, rects: list[Rect], *, bonded: bool) -> tuple[list[Panel], list[Seam]]:
    """Return one whole sheet of rectangles on a facet: panels, joined wherever they touch."""
    panels = [
        Panel(name=f"{name} {number}", facet=facet, u=u, v=v, bonded=bonded)
        for number, (u, v) in enumerate(rects, 1)
    ]
    seams = [
        Seam(one.name, other.name, Join.FOLD)
        for place, one in enumerate(panels)
        for other in panels[place + 1 :]
        if _touch(one, other)
    ]
    return panels, seams


def _touch(one: Panel, other: Panel) -> bool:
    beside = one.u[1] == other.u[0] or other.u[1] == one.u[0]
    above = one.v[1] == other.v[0] or other.v[1] == one.v[0]
    return (beside and _meet(one.v, other.v)) or (above and _meet(one.u, other.u))
