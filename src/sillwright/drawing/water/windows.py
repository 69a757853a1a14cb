"""What part of the wall a picture shows, from which side, and which stretches are drawn short."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from sillwright.drawing.water.acts import Act, Standing, named_holes
from sillwright.drawing.water.faces import outward
from sillwright.drawing.water.outline import Rect
from sillwright.drawing.water.view import SHORT, Shortened, View
from sillwright.water import WALL, Dressing, Kind, Span

_KEEPS = (9.0, 8.0, 7.0, 6.0, 5.0, 4.0, 3.5, 3.0)
"""Drawn in full at each end of a stretch that is drawn short [in]; the first small enough is taken."""
_SIZE = 40.0
"""A picture shows about so much of the wall each way [in]."""
_ROUND = 3.0
"""Of the wall, shown round what lies on it [in]."""
_LEDGER_NEAR = 24.0
"""A ledger whose top is no farther below a sill is shown with it [in]."""
_OF_LEDGER = 5.0
"""How much of a ledger that is near is shown under its top [in]."""
_DETAIL = 5.0
"""Shown round a corner patch [in]."""
_SMALL = 9.0
"""A piece that is no longer either way is drawn larger, with its surroundings only [in]."""
_ABOVE_SILL = 7.0
"""How much of the openings shows over a piece that ends below them [in]."""


def framed(now: Standing, at: str | None = None) -> tuple[Rect, View]:
    """Return the part of the wall (x, z) that an act's picture shows, and how it is looked at.

    Args:    at: the opening to show of a piece that runs along the wall; None: the first that it is cut at
    """
    act, dressing = now.act, now.dressing
    opening = act.opening or at or _cut_at(dressing, act)
    if _small(act):
        window = _corner(dressing, act)
    elif opening is not None:
        window = _opening(dressing, opening)
    else:
        window = _wide(dressing, act)
    left, above = _side(now)
    cuts = [_cuts(stops) for stops in _stops(now, window)]
    return window, View(from_left=left, from_above=above, x=Shortened(cuts[0]), z=Shortened(cuts[1]))


# --- the part shown


def _wall(dressing: Dressing) -> Rect:
    wall = dressing.complex.by_name[WALL]
    return wall.u, wall.v


def _kept(rect: Rect, within: Rect) -> Rect:
    x, z = ((max(a[0], b[0]), min(a[1], b[1])) for a, b in zip(rect, within, strict=True))
    return x, z


def _opening(dressing: Dressing, opening: str) -> Rect:
    """An opening with all its own pieces, the ledger when near; never its neighbours."""
    holes = named_holes(dressing)
    x, z = dict(holes)[opening]
    spans = [(x, z), *(rect for name, rect in _on_wall(dressing) if name == opening)]
    low, high = min(v[0] for _, v in spans) - _ROUND, max(v[1] for _, v in spans) + _ROUND
    for mount in dressing.complex.mounts:
        near = mount.v[1] <= z[0] <= mount.v[1] + _LEDGER_NEAR
        if near and mount.u[0] < x[1] and x[0] < mount.u[1]:
            low = min(low, max(mount.v[0] - _ROUND, mount.v[1] - _OF_LEDGER))
    left, right = min(u[0] for u, _ in spans) - _ROUND, max(u[1] for u, _ in spans) + _ROUND
    for name, (other, height) in holes:
        if name != opening and height[0] < high and low < height[1]:
            left = max(left, (other[1] + x[0]) / 2) if other[1] <= x[0] else left
            right = min(right, (other[0] + x[1]) / 2) if other[0] >= x[1] else right
    return _kept(((left, right), (low, high)), _wall(dressing))


def _on_wall(dressing: Dressing) -> Iterator[tuple[str | None, Rect]]:
    """Yield the parts on the wall of all pieces, each with the opening that it belongs to."""
    for sheet in dressing.sheets:
        yield from ((sheet.opening, (panel.u, panel.v)) for panel in sheet.panels if panel.facet == WALL)


def _cut_at(dressing: Dressing, act: Act) -> str | None:
    """Return the first opening that a course of wrap is cut at; None: it runs past them all."""
    if act.sheet.kind is not Kind.WRAP:
        return None
    spans = [panel.v for panel in act.panels if panel.facet == WALL]
    if not spans:
        return None
    low, high = min(v[0] for v in spans), max(v[1] for v in spans)
    return next((name for name, (_, z) in named_holes(dressing) if low < z[1] and z[0] < high), None)


def _small(act: Act) -> bool:
    """Tell whether a piece is too small to be seen in a picture of the whole opening."""
    spans = [(panel.u, panel.v) for panel in act.panels if panel.facet == WALL]
    return bool(spans) and all(
        max(rect[axis][1] for rect in spans) - min(rect[axis][0] for rect in spans) <= _SMALL
        for axis in (0, 1)
    )


def _corner(dressing: Dressing, act: Act) -> Rect:
    """The surroundings of a small piece."""
    spans = [(panel.u, panel.v) for panel in act.panels if panel.facet == WALL]
    x = min(u[0] for u, _ in spans) - _DETAIL, max(u[1] for u, _ in spans) + _DETAIL
    z = min(v[0] for _, v in spans) - _DETAIL, max(v[1] for _, v in spans) + _DETAIL
    return _kept((x, z), _wall(dressing))


def _wide(dressing: Dressing, act: Act) -> Rect:
    """The wall where a piece runs along it: up to the sills where that is all it needs."""
    x, z = _wall(dressing)
    spans = [panel.v for panel in act.panels if panel.facet == WALL] or [z]
    low, high = min(v[0] for v in spans), max(v[1] for v in spans)
    sills = [v[0] + _ABOVE_SILL for _, (_, v) in named_holes(dressing) if high - _ROUND <= v[0] < high + 20.0]
    return _kept((x, (low - _ROUND, max([high + _ROUND, *sills]))), (x, z))


# --- what is drawn short


def _stops(now: Standing, window: Rect) -> Iterator[set[float]]:
    """Yield where something starts or ends in the window, along the wall and up."""
    act, dressing = now.act, now.dressing
    rects = [hole for _, hole in named_holes(dressing)]
    rects += [(mount.u, mount.v) for mount in dressing.complex.mounts]
    laid = {each.sheet.name for each in (*now.done, now.act)}
    for sheet in dressing.sheets:
        own = sheet.opening is None or sheet.opening == act.opening
        if own and sheet.name in laid:
            rects += [(panel.u, panel.v) for panel in sheet.panels if panel.facet == WALL]
    for axis, span in enumerate(window):
        other = window[1 - axis]
        inside = [rect for rect in rects if rect[1 - axis][0] < other[1] and other[0] < rect[1 - axis][1]]
        yield {*span, *(end for rect in inside for end in rect[axis] if span[0] < end < span[1])}


def _cuts(stops: set[float]) -> tuple[Span, ...]:
    """Return the stretches to draw short, so that what is left is about as long as a picture shows."""
    lines = sorted(stops)
    found: tuple[Span, ...] = ()
    for keep in _KEEPS:
        found = tuple(
            (low + keep, high - keep) for low, high in pairwise(lines) if high - low > 2 * (keep + SHORT)
        )
        if lines[-1] - lines[0] - sum(high - low - SHORT for low, high in found) <= _SIZE:
            break
    return found


# --- from where


def _side(now: Standing) -> tuple[bool, bool]:
    """Return the side from which most of the new piece is seen: left and above where that is as good."""
    best, most = (True, True), 0.0
    for left, above in product((True, False), (True, False)):
        area = _seen(now, View(from_left=left, from_above=above))
        if area > most * 1.02 + 1e-6:
            best, most = (left, above), area
    return best


def _seen(now: Standing, view: View) -> float:
    shape = now.dressing.complex
    return sum(
        (panel.u[1] - panel.u[0]) * (panel.v[1] - panel.v[0])
        for panel in now.act.panels
        if view.sees(outward(shape, shape.by_name[panel.facet]))
    )
