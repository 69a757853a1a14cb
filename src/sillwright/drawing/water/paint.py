"""A dressed wall as it looks at an act: what is far first, so that what is near hides it.

The wall hides nothing of what stands out from it, and of an opening one sees what shows through its hole. So
the order is: the wall and its layers, the openings cut to their holes, the units in them, what is mounted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from sillwright.drawing.scene import AnyItem, Fill, Hatch, Path, Point, Role
from sillwright.drawing.water.acts import Act, Standing, piece_ref
from sillwright.drawing.water.clip import inside, runs
from sillwright.drawing.water.faces import Vector, lifts, outward
from sillwright.drawing.water.materials import pattern_of, tone_of
from sillwright.drawing.water.outline import Flat, Loop, Rect, loops, solid, with_lines
from sillwright.drawing.water.view import View
from sillwright.water import WALL, Facet, Kind, Panel, Span

LAYER = 0.07
"""How far a layer is drawn from the one below it [in]: sheets are far thinner."""
_PAST = 2.0
_FRAME = 2.25
"""Width of a unit's frame as drawn [in]."""


@dataclass(frozen=True)
class Painter:
    """Draws one act: `window` is the part of the wall that is shown, x and z."""

    now: Standing
    view: View
    window: Rect
    up: dict[tuple[str, str], int] = field(init=False)
    """How many layers a piece is on a face."""
    normals: dict[str, Vector] = field(init=False)
    """Out of every face."""

    def __post_init__(self) -> None:
        laid = [(act.sheet, panel) for act, panel in self.now.laid()]
        shape = self.now.dressing.complex
        object.__setattr__(self, "up", lifts(laid))
        object.__setattr__(self, "normals", {each.name: outward(shape, each) for each in shape.facets})

    # --- places

    def facet(self, name: str) -> Facet:
        """Return a face of the wall by name."""
        return self.now.dressing.complex.by_name[name]

    def lift(self, act: Act, facet: str) -> float:
        """Return how far a piece is drawn from a face [in]."""
        return LAYER * self.up.get((act.sheet.name, facet), 0)

    def points(self, facet: Facet, line: Sequence[Flat], lift: float = 0.0) -> list[Point]:
        """Return places (u, v) of a face in the picture."""
        u, v = (np.array(values) for values in zip(*line, strict=True))
        return self.view.flat(facet.place(u, v) + lift * self.normals[facet.name])

    def line(self, facet: Facet, line: Loop, lift: float = 0.0, *, closed: bool = False) -> list[Point]:
        """Return a straight-run line of a face in the picture, bent where the wall is."""
        return self.points(facet, with_lines(line, *self._knots(facet), closed=closed), lift)

    def _knots(self, facet: Facet) -> tuple[list[float], list[float]]:
        knots: list[list[float]] = [[], []]
        for place, axis in enumerate(facet.axes):
            if axis in ("x", "z"):
                knots[place] += (self.view.x if axis == "x" else self.view.z).knots
            if facet.warp is not None:
                knots[place] += facet.warp.u if place == 0 else facet.warp.v
        return knots[0], knots[1]

    def shown(self, facet: Facet, rect: Rect) -> Rect | None:
        """Return the part of a rectangle of a face that the window holds; None: nothing.

        On the wall it is a little more, to be cut in the picture: layers that stand out end with the wall.
        """
        spans: list[Span] = []
        more = _PAST if facet.name == WALL else 0.0
        for axis, span in zip(facet.axes, rect, strict=True):
            low, high = {"x": self.window[0], "z": self.window[1]}.get(axis, span)
            spans.append((max(span[0], low - more), min(span[1], high + more)))
        if any(span[1] - span[0] < 1e-6 for span in spans) or not self._in_window(facet):
            return None
        return spans[0], spans[1]

    def _in_window(self, facet: Facet) -> bool:
        for axis, place, window in (("x", 0, self.window[0]), ("z", 2, self.window[1])):
            at = float(np.mean([corner[place] for corner in facet.corners]))
            if axis not in facet.axes and not window[0] - 0.5 < at < window[1] + 0.5:
                return False
        return True

    def sees(self, facet: Facet) -> bool:
        """Tell whether the viewer sees the open side of a face."""
        return self.view.sees(self.normals[facet.name])

    def hole(self, opening: str) -> list[Point] | None:
        """Return the outline of an opening in the wall's face, as the window shows it, anticlockwise."""
        sill, left = self.facet(f"{opening}.sill"), self.facet(f"{opening}.left")
        rect = self.shown(self.facet(WALL), (sill.u, left.v))
        if rect is None:
            return None
        outline = inside(self.line(self.facet(WALL), _ring(rect), closed=True), self.edge())
        return outline if len(outline) > 2 else None

    def edge(self) -> list[Point]:
        """Return the outline of the part of the wall that is shown, anticlockwise."""
        (x0, x1), (z0, z1) = self.window
        return self.view.flat([(x0, 0, z0), (x1, 0, z0), (x1, 0, z1), (x0, 0, z1)])

    def openings(self) -> list[str]:
        """Return the names of the openings of the wall."""
        names = self.now.dressing.complex.by_name
        return [name.removesuffix(".sill") for name in names if name.endswith(".sill")]

    # --- painting

    def paint(self) -> Iterator[AnyItem]:
        """Yield all that is on the wall once the act is done."""
        yield from self._wall()
        for opening in self.openings():
            yield from self._opening(opening)
        for mount in self.now.dressing.complex.mounts:
            act = self.now.mounted(mount.name)
            if act is not None:
                for name in mount.faces:
                    yield from self._face(self.facet(name), None, body=act)

    def _wall(self) -> Iterator[AnyItem]:
        wall, edge = self.facet(WALL), self.edge()
        yield Path(tuple(edge), closed=True, fill=Fill.TINT, weight=0.0)
        yield from self._layers(wall, edge)
        for a, b, cut in zip(edge, [*edge[1:], edge[0]], self._cut_edges(), strict=True):
            role, weight = (Role.NOTE, 0.6) if cut else (Role.PENCIL, 0.8)
            yield Path((a, b), role=role, weight=weight, hidden=cut)
        for act, flap in self.now.held_up():
            yield from self._held(act, flap)

    def _cut_edges(self) -> tuple[bool, bool, bool, bool]:
        """Tell which edges of the picture are cuts through the wall, from the lower one anticlockwise."""
        wall, ((x0, x1), (z0, z1)) = self.facet(WALL), self.window
        return z0 > wall.v[0], x1 < wall.u[1], z1 < wall.v[1], x0 > wall.u[0]

    def _opening(self, opening: str) -> Iterator[AnyItem]:
        hole = self.hole(opening)
        if hole is None:
            return
        yield Path(tuple(hole), closed=True, fill=Fill.SHADE, role=Role.NOTE, weight=0.0)
        for part in ("head", "left", "right", "sill", "dam"):
            facet = self.now.dressing.complex.by_name.get(f"{opening}.{part}")
            if facet is not None:
                yield from self._face(facet, hole, body=None)
        unit = self.now.unit_on(opening)
        if unit is not None:
            yield from self._unit(unit, opening, hole)
        yield Path(tuple(hole), closed=True, weight=0.8)

    def _face(self, facet: Facet, hole: list[Point] | None, *, body: Act | None) -> Iterator[AnyItem]:
        """Yield a face that the viewer sees, and the layers on it; `body`: the act that brought it."""
        rect = self.shown(facet, (facet.u, facet.v))
        if rect is None or not self.sees(facet):
            return
        ground = self.line(facet, _ring(rect), closed=True)
        if body is not None and body is self.now.act:
            yield from _hatched(ground, hole, body)
        else:
            ref = piece_ref(body.sheet) if body else ""
            yield from _washed(ground, hole, Fill.TINT, ref)
        yield from self._strokes(facet, [_ring(rect)], 0.0, hole, new=False)
        yield from self._layers(facet, hole)

    def _layers(self, facet: Facet, hole: list[Point] | None) -> Iterator[AnyItem]:
        """Yield the pieces on a face, one over the other; a unit and a mount are no layers."""
        by_act: dict[int, tuple[Act, list[Panel]]] = {}
        for act, panel in self.now.laid():
            solid_piece = act.sheet.kind is Kind.MOUNT or (act.sheet.kind is Kind.UNIT and facet.name != WALL)
            if panel.facet == facet.name and not solid_piece:
                by_act.setdefault(act.number, (act, []))[1].append(panel)
        for act, panels in by_act.values():
            rects = [rect for panel in panels if (rect := self.shown(facet, (panel.u, panel.v)))]
            yield from self._area(facet, rects, act, hole)

    def _area(
        self, facet: Facet, rects: Sequence[Rect], act: Act, hole: list[Point] | None
    ) -> Iterator[AnyItem]:
        if not rects:
            return
        borders, lift = loops(rects), self.lift(act, facet.name)
        new = act is self.now.act
        for loop in solid(borders):
            points = self.line(facet, loop, lift, closed=True)
            if new:
                yield from _hatched(points, hole, act)
            else:
                yield from _washed(points, hole, tone_of(act.sheet), act.ref)
        yield from self._strokes(facet, borders, lift, hole, new=new, ref=act.ref)

    def _strokes(
        self,
        facet: Facet,
        borders: Sequence[Loop],
        lift: float,
        hole: list[Point] | None,
        *,
        new: bool,
        ref: str = "",
    ) -> Iterator[AnyItem]:
        role, weight = (Role.NEW, 0.9) if new else (Role.PENCIL, 0.55)
        for border in borders:
            for run in self._free(facet, border):
                line = self.line(facet, run, lift)
                for part in runs(line, hole) if hole else [line]:
                    yield Path(tuple(part), role=role, weight=weight, ref=ref)

    def _free(self, facet: Facet, border: Loop) -> Iterator[Loop]:
        """Yield the runs of a border that are edges of the piece, not of the window."""
        spans = [{"x": self.window[0], "z": self.window[1]}.get(axis) for axis in facet.axes]
        ends = [facet.u, facet.v]

        def cut(a: Flat, b: Flat) -> bool:
            axis = 1 if a[1] == b[1] else 0
            span, end = spans[axis], ends[axis]
            return span is not None and any(
                abs(a[axis] - at) < 1e-6 and abs(a[axis] - edge) > 1e-6
                for at, edge in zip(span, end, strict=True)
            )

        edges = list(zip(border, [*border[1:], border[0]], strict=True))
        first = next((place for place, edge in enumerate(edges) if cut(*edge)), None)
        if first is None:
            yield [*border, border[0]]
            return
        run: Loop = []
        for a, b in [*edges[first + 1 :], *edges[: first + 1]]:
            if cut(a, b):
                if len(run) > 1:
                    yield run
                run = []
            else:
                run = [*(run or [a]), b]

    def _held(self, act: Act, flap: Panel) -> Iterator[AnyItem]:
        """Yield a flap folded up over its upper edge."""
        wall, edge = self.facet(WALL), self.edge()
        top = flap.v[1]
        rect = self.shown(wall, (flap.u, (top, top + flap.v[1] - flap.v[0])))
        if rect is None:
            return
        lift = self.lift(act, WALL) + LAYER
        points = self.line(wall, _ring(rect), lift, closed=True)
        yield from _washed(points, edge, Fill.PAPER, act.ref)
        new = act is self.now.act
        yield from self._strokes(wall, [_ring(rect)], lift, edge, new=new, ref=act.ref)

    def _unit(self, act: Act, opening: str, hole: list[Point]) -> Iterator[AnyItem]:
        """Yield the face of a unit: frame and glass."""
        left, right = self.facet(f"{opening}.left"), self.facet(f"{opening}.right")
        front = min((p.u[0] for p in act.panels if p.facet == left.name), default=0.0)
        x, z = self.facet(f"{opening}.sill").u, left.v
        rect = self.shown(self.facet(WALL), (x, z))
        if rect is None:
            return

        def at(share: float, height: float) -> np.ndarray:
            a, b = left.place(front, height), right.place(front, height)
            return (1 - share) * a + share * b

        frame = self.view.flat([at(s, t) for s, t in _corners(0, 1, *rect[1])])
        new = act is self.now.act
        if new:
            yield from _hatched(frame, hole, act)
        else:
            yield from _washed(frame, hole, tone_of(act.sheet), act.ref)
        bottom, top = max(rect[1][0], z[0] + _FRAME), min(rect[1][1], z[1] - _FRAME)
        if top > bottom:
            inset = _FRAME / (x[1] - x[0])
            glass = self.view.flat([at(s, t) for s, t in _corners(inset, 1 - inset, bottom, top)])
            yield from _pane(glass, hole, act, new=new)


def _corners(s0: float, s1: float, t0: float, t1: float) -> Loop:
    return [(s0, t0), (s1, t0), (s1, t1), (s0, t1)]


def _pane(glass: list[Point], hole: list[Point], act: Act, *, new: bool) -> Iterator[AnyItem]:
    """Yield a unit's glass with two glints."""
    shown = inside(glass, hole)
    if len(shown) < 3:
        return
    role = Role.NEW if new else Role.PENCIL
    yield Path(tuple(shown), closed=True, fill=Fill.PAPER, role=role, weight=0.6, ref=act.ref)
    reach = 0.12 * (glass[1][0] - glass[0][0])
    for share in (0.3, 0.38):
        x, y = _along(glass[3], glass[1], share)
        for part in runs([(x - reach, y - reach), (x + reach, y + reach)], shown):
            yield Path(tuple(part), role=Role.NOTE, ref=act.ref)


def _along(a: Point, b: Point, share: float) -> Point:
    return a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])


def _ring(rect: Rect) -> Loop:
    (u0, u1), (v0, v1) = rect
    return [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]


def _cut(points: list[Point], hole: list[Point] | None) -> tuple[Point, ...]:
    return tuple(inside(points, hole) if hole else points)


def _washed(points: list[Point], hole: list[Point] | None, fill: Fill, ref: str) -> Iterator[AnyItem]:
    shown = _cut(points, hole)
    if len(shown) > 2:
        yield Path(shown, closed=True, fill=fill, weight=0.0, ref=ref)


def _hatched(points: list[Point], hole: list[Point] | None, act: Act) -> Iterator[AnyItem]:
    shown = _cut(points, hole)
    if len(shown) > 2:
        yield Hatch(shown, pattern_of(act.sheet), weight=0.0, ref=act.ref)
