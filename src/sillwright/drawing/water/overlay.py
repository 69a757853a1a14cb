"""What is drawn over a picture of an act: folds, slits, where it is drawn short, where the roller goes.

Sizes are in paper inches; `scale` is paper inches to an inch of the picture.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sillwright.drawing.scene import AnyItem, Fill, Mark, MarkKind, Path, Point, Role
from sillwright.drawing.water.clip import runs
from sillwright.drawing.water.measures import folds_of, hanging, hub
from sillwright.drawing.water.outline import Flat
from sillwright.drawing.water.paint import Painter
from sillwright.drawing.water.seams import Crease, Slit, creases, slits
from sillwright.water import WALL, Facet, Join, Kind, Panel

_SLIT = 0.2
"""Length of a slit's mark [paper in]."""
_ARROW = 0.075
_APART = 0.13
"""Two arrow heads nearer than this on paper would be one blot."""
_NOWHERE: Point = (0.0, 0.0)
_PASS = 0.2
"""A panel less wide than this on paper has no room for an arrow of the roller."""
_ROLLED = (Kind.WRAP, Kind.BACKING, Kind.PATCH, Kind.PAN, Kind.STRIP, Kind.LEDGER_SHEET, Kind.TAPE)


@dataclass(frozen=True, slots=True)
class Overlay:
    """Marks over a painted act."""

    painter: Painter
    scale: float

    def marks(self) -> Iterator[AnyItem]:
        """Yield folds, breaks, the roller's way and slits."""
        yield from self._folds()
        yield from self._held()
        yield from self._breaks()
        yield from self._rolling()
        yield from self._slits()

    # --- folds

    def _folds(self) -> Iterator[AnyItem]:
        act = self.painter.now.act
        if act.sheet.kind is Kind.UNIT:
            return
        laid = {panel.name for panel in act.panels}
        for crease in creases(self.painter.now.dressing.complex, act.sheet):
            if set(crease.panels) <= laid and crease.join is not Join.FORMED:
                for run in self._seen(crease):
                    yield Path(tuple(run), role=Role.NEW, weight=1.1, hidden=True, ref=act.ref)

    def _held(self) -> Iterator[AnyItem]:
        """Yield the fold over which a flap is held up, as long as it is new."""
        act, wall = self.painter.now.act, self._facet(WALL)
        for owner, flap in self.painter.now.held_up():
            if owner is act:
                top = [(flap.u[0], flap.v[1]), (flap.u[1], flap.v[1])]
                line = self.painter.line(wall, top, self.painter.lift(act, WALL))
                for run in runs(line, self.painter.edge()):
                    yield Path(tuple(run), role=Role.NEW, weight=1.1, hidden=True, ref=act.ref)

    def _seen(self, crease: Crease) -> list[list[Point]]:
        """Return the runs of a fold that are seen: on a face that looks this way, inside its opening."""
        lines = [line for line in (crease.one, crease.other) if self.painter.sees(self._facet(line[0]))]
        if not lines:
            return []
        facet, start, end = lines[0]
        line = self.painter.line(self._facet(facet), [start, end])
        return self._clipped(line, {crease.one[0], crease.other[0]})

    def _clipped(self, line: list[Point], facets: set[str]) -> list[list[Point]]:
        painter = self.painter
        if WALL in facets:
            return runs(line, painter.edge())
        opening = next(iter(facets)).rpartition(".")[0]
        if opening not in painter.openings():
            return [line]
        hole = painter.hole(opening)
        return runs(line, hole) if hole else []

    def _facet(self, name: str) -> Facet:
        return self.painter.facet(name)

    # --- slits

    def _slits(self) -> Iterator[AnyItem]:
        act = self.painter.now.act
        if act.flap or act.sheet.kind is Kind.METAL:
            return
        for slit in slits(self.painter.now.dressing, act.sheet):
            if self.painter.sees(self._facet(slit.facet)):
                yield from self._slit(slit)

    def _slit(self, slit: Slit) -> Iterator[AnyItem]:
        facet = self._facet(slit.facet)
        lift = self.painter.lift(self.painter.now.act, facet.name)
        start, end = self.painter.points(facet, [slit.inner, slit.outer], lift)
        length = math.dist(start, end) * self.scale
        if length < 1e-6:
            return
        stop = end if slit.whole else _at(start, end, min(_SLIT / length, 1.0))
        for run in self._clipped([start, stop], {facet.name}):
            yield Path(tuple(run), role=Role.CRAYON, weight=0.8, ref=self.painter.now.act.ref)

    # --- where it is drawn short

    def _breaks(self) -> Iterator[AnyItem]:
        """Yield a break on the edges of the picture wherever it is drawn short."""
        (x0, x1), (z0, z1) = self.painter.window
        for low, high in self.painter.view.x.cuts:
            yield from self._break(((low + high) / 2, z0), 0)
            yield from self._break(((low + high) / 2, z1), 0)
        for low, high in self.painter.view.z.cuts:
            yield from self._break((x0, (low + high) / 2), 1)
            yield from self._break((x1, (low + high) / 2), 1)

    def _break(self, at: Flat, axis: int) -> Iterator[AnyItem]:
        """Yield a small gap with a wave at both sides, across an edge along an axis."""
        nearby = (at[0] + 1e-3, 0.0, at[1]) if axis == 0 else (at[0], 0.0, at[1] + 1e-3)
        centre, ahead = self.painter.view.flat([(at[0], 0.0, at[1]), nearby])
        put = _placer(centre, math.atan2(ahead[1] - centre[1], ahead[0] - centre[0]), self.scale)
        wave = [(0.025 * math.sin(2 * math.pi * t / 8), 0.08 * (t / 4 - 1)) for t in range(9)]
        left = [put((x - 0.022, y)) for x, y in wave]
        right = [put((x + 0.022, y)) for x, y in wave]
        yield Path((*left, *reversed(right)), closed=True, fill=Fill.PAPER, role=Role.NOTE, weight=0.0)
        yield Path(tuple(left), role=Role.NOTE)
        yield Path(tuple(right), role=Role.NOTE)

    # --- rolling

    def _rolling(self) -> Iterator[AnyItem]:
        """Yield the roller on the largest bonded panel, and arrows from the folds outward on the others."""
        act = self.painter.now.act
        seen = [p for p in act.panels if p.bonded and self.painter.sees(self._facet(p.facet))]
        if act.sheet.kind not in _ROLLED or not seen:
            return
        folds = folds_of(self.painter.now)
        first = next((p for p in seen if p.name == hub(act, folds)), None) or max(seen, key=self._size)
        yield from self._to_and_fro(first)
        hung = hanging(act, folds)
        heads: list[Point] = []
        for panel in seen:
            way = (
                self._outward(panel, hung[panel.name]) if panel is not first and panel.name in hung else None
            )
            if way is not None and all(math.dist(way[1], head) * self.scale > _APART for head in heads):
                heads.append(way[1])
                yield from self._arrow(*way)

    def _size(self, panel: Panel) -> float:
        return max(math.dist(*self._middle(panel, axis)) for axis in (0, 1))

    def _middle(self, panel: Panel, axis: int) -> tuple[Point, Point]:
        """Return the line along the middle of a panel, as far as it is shown."""
        facet = self._facet(panel.facet)
        spans = [panel.u, panel.v]
        for k, name in enumerate(facet.axes):
            low, high = {"x": self.painter.window[0], "z": self.painter.window[1]}.get(name, spans[k])
            spans[k] = max(spans[k][0], low), min(spans[k][1], high)
        mid = [(span[0] + span[1]) / 2 for span in spans]
        lift = self.painter.lift(self.painter.now.act, facet.name)
        ends: list[Flat] = [(t, mid[1]) if axis == 0 else (mid[0], t) for t in spans[axis]]
        a, b = self.painter.points(facet, ends, lift)
        return a, b

    def _to_and_fro(self, panel: Panel) -> Iterator[AnyItem]:
        seen = [self._clipped(list(self._middle(panel, axis)), {panel.facet}) for axis in (0, 1)]
        a, b = max(
            ((run[0], run[-1]) for found in seen for run in found),
            key=lambda line: math.dist(*line),
            default=(_NOWHERE, _NOWHERE),
        )
        length = math.dist(a, b) * self.scale
        if length < 3 * _PASS:
            return
        middle, end = 0.06 / length, 0.12 / length
        yield from self._arrow(_at(a, b, 0.5 + middle), _at(a, b, 1 - end))
        yield from self._arrow(_at(a, b, 0.5 - middle), _at(a, b, end))
        put = _placer(_at(a, b, 0.5), math.atan2(b[1] - a[1], b[0] - a[0]), self.scale)
        body = [put(p) for p in ((-0.03, -0.07), (0.03, -0.07), (0.03, 0.07), (-0.03, 0.07))]
        yield Path(tuple(body), closed=True, fill=Fill.PAPER, role=Role.CRAYON, weight=0.45)

    def _outward(self, panel: Panel, crease: Crease) -> tuple[Point, Point] | None:
        """Return the roller's way from a fold outward; None: there is no room for it, or it is not seen."""
        facet, start, end = crease.one if crease.panels[0] == panel.name else crease.other
        axis = 0 if start[0] == end[0] else 1
        a, b = self._middle(panel, axis)
        span = (panel.u, panel.v)[axis]
        if abs(start[axis] - span[0]) > abs(start[axis] - span[1]):
            a, b = b, a
        if math.dist(a, b) * self.scale > _PASS and self._clipped([a, b], {facet}) == [[a, b]]:
            return _at(a, b, 0.2), _at(a, b, 0.85)
        return None

    def _arrow(self, a: Point, b: Point) -> Iterator[AnyItem]:
        ref = self.painter.now.act.ref
        angle = math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))
        yield Path((a, b), role=Role.CRAYON, weight=0.45, ref=ref)
        yield Mark(b, MarkKind.ARROW, role=Role.CRAYON, angle=angle, size=_ARROW, ref=ref)


def _at(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _placer(at: Point, angle: float, scale: float) -> Callable[[Point], Point]:
    """Return a way to put points given on paper round a place, turned."""
    cos, sin = math.cos(angle) / scale, math.sin(angle) / scale

    def put(p: Point) -> Point:
        return at[0] + p[0] * cos - p[1] * sin, at[1] + p[0] * sin + p[1] * cos

    return put
