"""Where a piece is folded, slit and pleated, as lines on the faces of a wall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sillwright.drawing.water.outline import Flat
from sillwright.water import Complex, Corner, Dressing, Edge, Glue, Join, Panel, Sheet, Span

_ON = 1e-6


@dataclass(frozen=True, slots=True)
class Crease:
    """A fold of a piece: the same line on both faces that meet there."""

    one: tuple[str, Flat, Flat]
    """Face, and both ends on it."""
    other: tuple[str, Flat, Flat]
    join: Join
    panels: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Slit:
    """A cut that opens: a face, its inner end, and a point along the way out."""

    facet: str
    inner: Flat
    outer: Flat
    whole: bool = False
    """Is it the whole cut, or does it run on from here?"""


def creases(shape: Complex, sheet: Sheet) -> Iterator[Crease]:
    """Yield the folds of a piece over the edges of the wall's faces."""
    panels = {panel.name: panel for panel in sheet.panels}
    for seam in sheet.seams:
        one, other = panels[seam.one], panels[seam.other]
        if one.facet != other.facet:
            found = next((c for glue in shape.glues for c in _crease(glue, one, other, seam.join)), None)
            if found is not None:
                yield found


def _crease(glue: Glue, one: Panel, other: Panel, join: Join) -> Iterator[Crease]:
    sides = (glue.one, glue.other)
    if {one.facet, other.facet} != {edge.facet for edge in sides}:
        return
    here, there = sides if glue.one.facet == one.facet else sides[::-1]
    if not (_reaches(one, here) and _reaches(other, there)):
        return
    spans = (here.span, there.span, _along(one, here), _along(other, there))
    low, high = max(span[0] for span in spans), min(span[1] for span in spans)
    if high - low > _ON:
        lines = [(edge.facet, _point(edge, low), _point(edge, high)) for edge in (here, there)]
        yield Crease(lines[0], lines[1], join, (one.name, other.name))


def _along(panel: Panel, edge: Edge) -> Span:
    return panel.v if edge.across == "u" else panel.u


def _reaches(panel: Panel, edge: Edge) -> bool:
    span = panel.u if edge.across == "u" else panel.v
    return any(abs(end - edge.at) < _ON for end in span)


def _point(edge: Edge, along: float) -> Flat:
    return (edge.at, along) if edge.across == "u" else (along, edge.at)


def slits(dressing: Dressing, sheet: Sheet) -> Iterator[Slit]:
    """Yield the cuts of a piece: between panels that part at a corner, and along cuts on one face."""
    for corner in dressing.complex.corners:
        yield from _opened(dressing.complex, corner, sheet)
    yield from _parted(sheet)


def pleats(shape: Complex, sheet: Sheet) -> Iterator[Crease]:
    """Yield the folds where a piece is folded over itself."""
    yield from (crease for crease in creases(shape, sheet) if crease.join is Join.PLEAT)


@dataclass(frozen=True, slots=True)
class _Ray:
    """An edge of a panel that starts at a corner point."""

    panel: str
    facet: str
    start: Flat
    end: Flat
    way: tuple[float, float, float]


def _opened(shape: Complex, corner: Corner, sheet: Sheet) -> Iterator[Slit]:
    """Yield the two edges that come apart at a corner that three or more panels of a piece meet at."""
    if sum(panel.facet in {facet for facet, _, _ in corner.at} for panel in sheet.panels) < 3:
        return
    rays = list(_rays(shape, corner, sheet))
    if len({ray.panel for ray in rays}) < 3:
        return
    joined = {frozenset((seam.one, seam.other)) for seam in sheet.seams}
    loose = [
        ray
        for ray in rays
        if not any(
            np.allclose(ray.way, other.way, atol=1e-3) and frozenset((ray.panel, other.panel)) in joined
            for other in rays
        )
    ]
    if len(loose) == 2:
        yield from (Slit(ray.facet, ray.start, ray.end) for ray in loose)


def _rays(shape: Complex, corner: Corner, sheet: Sheet) -> Iterator[_Ray]:
    for facet, u, v in corner.at:
        for panel in sheet.panels:
            inside = panel.u[0] - _ON < u < panel.u[1] + _ON and panel.v[0] - _ON < v < panel.v[1] + _ON
            if panel.facet != facet or not inside:
                continue
            for end in _ends(panel, u, v):
                here, there = shape.by_name[facet].place(u, v), shape.by_name[facet].place(*end)
                x, y, z = ((there - here) / np.linalg.norm(there - here)).tolist()
                yield _Ray(panel.name, facet, (u, v), end, (x, y, z))


def _ends(panel: Panel, u: float, v: float) -> Iterator[Flat]:
    """Yield the far ends of the edges of a panel that start at a point of its border."""
    if any(abs(v - end) < _ON for end in panel.v):
        yield from ((end, v) for end in panel.u if abs(end - u) > _ON)
    if any(abs(u - end) < _ON for end in panel.u):
        yield from ((u, end) for end in panel.v if abs(end - v) > _ON)


def _parted(sheet: Sheet) -> Iterator[Slit]:
    """Yield the lines on one face where two panels of a piece touch but are cut apart."""
    joined = {frozenset((seam.one, seam.other)) for seam in sheet.seams}
    for place, one in enumerate(sheet.panels):
        for other in sheet.panels[place + 1 :]:
            if one.facet == other.facet and frozenset((one.name, other.name)) not in joined:
                yield from _touching(one, other)


def _touching(one: Panel, other: Panel) -> Iterator[Slit]:
    low, high = max(one.v[0], other.v[0]), min(one.v[1], other.v[1])
    for u in one.u:
        if high - low > _ON and any(abs(u - end) < _ON for end in other.u):
            yield Slit(one.facet, (u, high), (u, low), whole=True)
    low, high = max(one.u[0], other.u[0]), min(one.u[1], other.u[1])
    for v in one.v:
        if high - low > _ON and any(abs(v - end) < _ON for end in other.v):
            yield Slit(one.facet, (low, v), (high, v), whole=True)
