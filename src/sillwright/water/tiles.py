"""The part of a wall that some sheets all cover, in tiles, and what happens at the sides of each tile.

A tile is a cell of the wall cut along the edges of these sheets alone. Its sides are numbered round it: 0 at
the lower end of `v`, 1 at the upper end of `u`, 2 at the upper end of `v`, 3 at the lower end of `u`; corner
`k` is where side `k` starts.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from operator import mul

import numpy as np

from sillwright.water.geodesic import Place, Surface
from sillwright.water.lattice import SAME, Floats
from sillwright.water.model import Complex, Corner, Edge, Facet, Join, Mount, Panel, Point, Sheet, Span

SIDES = range(4)
Cell = tuple[str, int, int]
"""A facet, and between which lines of its two axes."""


@dataclass(frozen=True, slots=True)
class Tile:
    """A piece of a facet that the same panels cover everywhere."""

    cell: Cell
    facet: Facet
    panels: tuple[Panel, ...]
    """Of each sheet."""
    u: Span
    v: Span
    points: Floats
    """Its corners in space, a row each."""

    @property
    def middle(self) -> Floats:
        """Return the middle of its corners."""
        found: Floats = self.points.mean(axis=0)
        return found

    def logical(self, point: Floats) -> tuple[float, float]:
        """Return u and v of a point of the tile, whose sides are straight, by Newton's method."""
        _, b, c, d = (self.points - self.points[0]).tolist()
        off = (point - self.points[0]).tolist()
        first, second = _axes(b, d)
        p, q, r, at = ((_dot(first, ray), _dot(second, ray)) for ray in (b, d, c, off))
        s = t = 0.5
        bend = r[0] - p[0] - q[0], r[1] - p[1] - q[1]
        for _ in range(8):
            miss = [s * p[k] + t * q[k] + s * t * bend[k] - at[k] for k in (0, 1)]
            du, dv = ([one[k] + share * bend[k] for k in (0, 1)] for one, share in ((p, t), (q, s)))
            det = du[0] * dv[1] - du[1] * dv[0]
            s -= (miss[0] * dv[1] - miss[1] * dv[0]) / det
            t -= (miss[1] * du[0] - miss[0] * du[1]) / det
        return self.u[0] + s * (self.u[1] - self.u[0]), self.v[0] + t * (self.v[1] - self.v[0])

    def ends(self, side: int) -> tuple[Floats, Floats]:
        """Return both ends of a side."""
        return self.points[side], self.points[(side + 1) % 4]


def _dot(one: list[float], other: list[float]) -> float:
    return math.fsum(map(mul, one, other))


def _axes(one: list[float], other: list[float]) -> tuple[list[float], list[float]]:
    """Return two square unit directions in the plane of two rays, the first along the first ray."""
    first = [each / math.hypot(*one) for each in one]
    rest = [each - _dot(first, other) * along for each, along in zip(other, first, strict=True)]
    return first, [each / math.hypot(*rest) for each in rest]


@dataclass(frozen=True)
class Laid:
    """Some sheets on the facets of a wall, cut along all their edges, and where each of them runs on."""

    shape: Complex
    sheets: tuple[Sheet, ...]
    lines: dict[str, list[float]]
    """The cuts across each axis."""

    def block(self, facet: Facet, u: Span, v: Span) -> tuple[range, range]:
        """Return the cells of a facet in a rectangle, along both axes."""
        first, second = (
            range(self.line(axis, span[0]), self.line(axis, span[1]))
            for axis, span in zip(facet.axes, (u, v), strict=True)
        )
        return first, second

    def line(self, axis: str, at: float) -> int:
        """Return the number of the line at a place of an axis."""
        return bisect_left(self.lines[axis], at - SAME)

    @cached_property
    def panel(self) -> dict[tuple[str, Cell], Panel]:
        """Return the panel of a sheet, by name, that covers a cell."""
        found = {}
        for sheet in self.sheets:
            for panel in sheet.panels:
                rows, columns = self.block(self.shape.by_name[panel.facet], panel.u, panel.v)
                found.update({(sheet.name, (panel.facet, i, j)): panel for i in rows for j in columns})
        return found

    def over(self, cell: Cell) -> tuple[Panel, ...]:
        """Return the panels of these sheets that cover a cell, in the order of the sheets."""
        return tuple(p for s in self.sheets if (p := self.panel.get((s.name, cell))) is not None)

    @cached_property
    def _joins(self) -> dict[tuple[str, frozenset[str]], Join]:
        return {
            (sheet.name, frozenset((seam.one, seam.other))): seam.join
            for sheet in self.sheets
            for seam in sheet.seams
        }

    @cached_property
    def _holes(self) -> dict[str, list[tuple[range, range]]]:
        return {
            facet.name: [self.block(facet, *hole) for hole in facet.holes]
            for facet in self.shape.facets
            if facet.holes
        }

    @cached_property
    def _inside(self) -> dict[str, tuple[range, range]]:
        return {facet.name: self.block(facet, facet.u, facet.v) for facet in self.shape.facets}

    @cached_property
    def _glued(self) -> dict[tuple[str, int, int], list[tuple[range, str, int, int]]]:
        """Return what meets a line of a facet on one side of a cell: where along it, facet, side, line."""
        found: dict[tuple[str, int, int], list[tuple[range, str, int, int]]] = defaultdict(list)
        used = {panel.facet for sheet in self.sheets for panel in sheet.panels}
        for glue in self.shape.glues:
            if not {glue.one.facet, glue.other.facet} <= used:
                continue
            ends = (glue.one, glue.side_one), (glue.other, glue.side_other)
            for (one, side_one), (other, side_other) in (ends, ends[::-1]):
                line, along = self._at(one)
                key = one.facet, _side(one, side_one), line
                found[key].append((along, other.facet, _side(other, side_other), self._at(other)[0]))
        return found

    def _at(self, edge: Edge) -> tuple[int, range]:
        facet = self.shape.by_name[edge.facet]
        across, along = facet.axes if edge.across == "u" else facet.axes[::-1]
        return self.line(across, edge.at), range(
            self.line(along, edge.span[0]), self.line(along, edge.span[1])
        )

    def is_there(self, cell: Cell) -> bool:
        """Tell whether a cell lies on its facet, and in none of its holes."""
        facet, i, j = cell
        rows, columns = self._inside[facet]
        if i not in rows or j not in columns:
            return False
        return not any(i in a and j in b for a, b in self._holes.get(facet, ()))

    def beyond(self, cell: Cell, side: int) -> Iterator[tuple[Cell, int]]:
        """Yield the cells that meet a side of a cell, and which of their sides that is."""
        facet, i, j = cell
        other = facet, i + (0, 1, 0, -1)[side], j + (-1, 0, 1, 0)[side]
        if self.is_there(other):
            yield other, (side + 2) % 4
        line = (j, i + 1, j + 1, i)[side]
        place = i if side in (0, 2) else j
        for along, name, its_side, its_line in self._glued.get((facet, side, line), ()):
            if place in along:
                at = its_line if its_side in (0, 3) else its_line - 1
                yield ((name, place, at) if its_side in (0, 2) else (name, at, place)), its_side

    def corners(self, cell: Cell) -> Floats:
        """Return the corners of a cell in space, a row each."""
        facet = self.shape.by_name[cell[0]]
        u, v = (self.lines[axis][at : at + 2] for axis, at in zip(facet.axes, cell[1:], strict=True))
        return facet.place([u[0], u[1], u[1], u[0]], [v[0], v[0], v[1], v[1]])

    def bank(self, cell: Cell, side: int) -> tuple[str, Span, Span]:
        """Return the facet of a cell and a hair's breadth of it along one of its sides, as u and v."""
        facet = self.shape.by_name[cell[0]]
        u, v = (
            (self.lines[axis][at], self.lines[axis][at + 1])
            for axis, at in zip(facet.axes, cell[1:], strict=True)
        )
        hair = 10 * SAME
        cut = {0: (u, (v[0], v[0] + hair)), 1: ((u[1] - hair, u[1]), v)}
        cut |= {2: (u, (v[1] - hair, v[1])), 3: ((u[0], u[0] + hair), v)}
        return facet.name, *cut[side]

    def join(self, sheet: Sheet, one: Panel, other: Panel) -> Join | None:
        """Return how two panels of a sheet hang together; None: not at all."""
        if one.name == other.name:
            return Join.FOLD
        return self._joins.get((sheet.name, frozenset((one.name, other.name))))

    def runs_on(self, sheet: Sheet, cell: Cell, side: int) -> tuple[Cell, int, Join] | None:
        """Return where a sheet goes on past a side of a cell, cell and side, and how; None: it ends there."""
        own = self.panel[sheet.name, cell]
        for other, its_side in self.beyond(cell, side):
            panel = self.panel.get((sheet.name, other))
            join = self.join(sheet, own, panel) if panel else None
            if join is not None:
                return other, its_side, join
        return None


@dataclass(frozen=True)
class Tiling:
    """Tiles of one sheet, or of the overlap of several, or some of these."""

    laid: Laid
    tiles: tuple[Tile, ...]
    joined: dict[Place, Place]
    """The sides over which all sheets run on together, by tile: both ways round."""
    ends: dict[Place, frozenset[int]]
    """The other sides of tiles, and which sheets end there; none: they part company."""

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """Return the sheets, in the order of the panels of each tile."""
        return self.laid.sheets

    @cached_property
    def place_of(self) -> dict[Cell, int]:
        """Return the place of a tile in the list, by its cell."""
        return {tile.cell: place for place, tile in enumerate(self.tiles)}

    def part(self, places: Iterable[int]) -> Tiling:
        """Return some of the tiles, by their places."""
        new = {place: number for number, place in enumerate(places)}
        joined, ends = {}, {}
        for (place, side), (other, its_side) in self.joined.items():
            if place in new and other in new:
                joined[new[place], side] = new[other], its_side
            elif place in new:
                ends[new[place], side] = frozenset[int]()
        for (place, side), which in self.ends.items():
            if place in new:
                ends[new[place], side] = which
        return Tiling(self.laid, tuple(self.tiles[place] for place in new), joined, ends)

    def swapped(self) -> Tiling:
        """Return the same tiles with the two sheets in the other order."""
        tiles = tuple(replace(tile, panels=tile.panels[::-1]) for tile in self.tiles)
        ends = {place: frozenset(1 - each for each in which) for place, which in self.ends.items()}
        return Tiling(replace(self.laid, sheets=self.sheets[::-1]), tiles, self.joined, ends)

    @cached_property
    def surface(self) -> Surface:
        """Return the tiles as one surface that ways can be found on."""
        points = np.array([tile.points for tile in self.tiles]).reshape(-1, 4, 3)
        return Surface(points, self.joined)

    @cached_property
    def rises(self) -> dict[str, Point]:
        """Return how each facet of the tiles rises."""
        return {
            name: rise(self.laid.shape.by_name[name]) for name in {tile.facet.name for tile in self.tiles}
        }

    def pieces(self) -> list[Tiling]:
        """Return the parts that hang together, each by itself."""
        left, parts = set(range(len(self.tiles))), []
        while left:
            part, todo = set(), [min(left)]
            while todo:
                place = todo.pop()
                if place in left:
                    left.remove(place)
                    part.add(place)
                    todo += [self.joined[place, side][0] for side in SIDES if (place, side) in self.joined]
            parts.append(sorted(part))
        return [self] if len(parts) == 1 else [self.part(part) for part in parts]


def tiling(shape: Complex, *sheets: Sheet, cell_in: float | None = None) -> Tiling:
    """Return the tiles that all of some sheets cover, no larger than `cell_in` inches if that is given."""
    laid = Laid(shape, sheets, _lines(shape, sheets, cell_in))
    tiles: list[Tile] = []
    for panel in sheets[0].panels:
        facet = shape.by_name[panel.facet]
        block = laid.block(facet, panel.u, panel.v)
        cells = [(facet.name, i, j) for i in block[0] for j in block[1]]
        covered = {cell: laid.over(cell) for cell in cells if laid.is_there(cell)}
        covered = {cell: panels for cell, panels in covered.items() if len(panels) == len(sheets)}
        tiles += _tiles(laid, facet, block, covered) if covered else ()
    return Tiling(laid, tuple(tiles), *_sides(laid, tiles))


def _sides(laid: Laid, tiles: Sequence[Tile]) -> tuple[dict[Place, Place], dict[Place, frozenset[int]]]:
    """Return which sides of tiles are joined, and which sheets end at the others."""
    place_of = {tile.cell: place for place, tile in enumerate(tiles)}
    joined: dict[Place, Place] = {}
    ends: dict[Place, frozenset[int]] = {}
    for place, tile in enumerate(tiles):
        for side in SIDES:
            found = [laid.runs_on(sheet, tile.cell, side) for sheet in laid.sheets]
            where = {each[:2] for each in found if each is not None}
            cell, its_side = next(iter(where)) if len(where) == 1 else (("", 0, 0), 0)
            if None not in found and cell in place_of:
                joined[place, side] = place_of[cell], its_side
            else:
                ends[place, side] = frozenset(which for which, each in enumerate(found) if each is None)
    return joined, ends


def _tiles(
    laid: Laid, facet: Facet, block: tuple[range, range], covered: dict[Cell, tuple[Panel, ...]]
) -> Iterator[Tile]:
    u, v = (
        laid.lines[axis][part.start : part.stop + 1] for axis, part in zip(facet.axes, block, strict=True)
    )
    corners = facet.place(np.array(u)[:, None], np.array(v)[None, :])
    for cell, panels in covered.items():
        i, j = cell[1] - block[0].start, cell[2] - block[1].start
        points = corners[[i, i + 1, i + 1, i], [j, j, j + 1, j + 1]]
        yield Tile(cell, facet, panels, (u[i], u[i + 1]), (v[j], v[j + 1]), points)


def _lines(shape: Complex, sheets: tuple[Sheet, ...], cell_in: float | None) -> dict[str, list[float]]:
    """Return where facets, mounts, bends of the wall and these sheets cut each axis."""
    cuts: dict[str, set[float]] = defaultdict(set)
    for facet in shape.facets:
        spans = [(facet.u, facet.v), *facet.holes]
        spans += [(panel.u, panel.v) for s in sheets for panel in s.panels if panel.facet == facet.name]
        spans += [(mount.u, mount.v) for mount in shape.mounts if mount.facet == facet.name]
        for pair in spans:
            for axis, span in zip(facet.axes, pair, strict=True):
                cuts[axis].update(span)
        if facet.warp is not None:
            cuts[facet.axes[0]].update(facet.warp.u)
            cuts[facet.axes[1]].update(facet.warp.v)
    return {axis: _divided(_apart(sorted(values)), cell_in) for axis, values in cuts.items()}


def _apart(values: list[float]) -> list[float]:
    return values[:1] + [value for before, value in pairwise(values) if value - before > SAME]


def _divided(lines: list[float], most: float | None) -> list[float]:
    if most is None:
        return lines
    found = lines[:1]
    for a, b in pairwise(lines):
        found += np.linspace(a, b, max(math.ceil((b - a) / most - SAME), 1) + 1)[1:].tolist()
    return found


def _side(edge: Edge, side: int) -> int:
    """Return which side of a cell an edge is, when the cell lies below it (-1) or above it (+1)."""
    if edge.across == "v":
        return 0 if side > 0 else 2
    return 3 if side > 0 else 1


def rise(facet: Facet) -> Point:
    """Return the direction of steepest rise on a facet, as long as the sine of its slope; level: nothing."""
    a, b, _, d = (np.array(corner) for corner in facet.corners)
    normal = np.cross(b - a, d - a)
    normal /= np.linalg.norm(normal)
    x, y, z = (np.array([0.0, 0.0, 1.0]) - normal[2] * normal).tolist()
    return x, y, z


def outward(shape: Complex) -> dict[str, Floats]:
    """Return the unit normal of every facet on the side where sheets are laid.

    On the first facet of a wall it is u × v; over every edge the sides must go on being one side.
    """
    signs = _signs(shape)
    normals = {}
    for facet in shape.facets:
        a, b, _, d = (np.array(corner) for corner in facet.corners)
        normal = np.cross(b - a, d - a)
        normals[facet.name] = signs[facet.name] * normal / np.linalg.norm(normal)
    return normals


def _signs(shape: Complex) -> dict[str, float]:
    """Return +1 for facets whose u × v points to the outer side, -1 for the others."""
    signs = {facet.name: 1.0 for facet in shape.facets[:1]}
    todo = list(signs)
    while todo:
        here = todo.pop()
        for glue in shape.glues:
            for own, other, sides in (
                (glue.one, glue.other, (glue.side_one, glue.side_other)),
                (glue.other, glue.one, (glue.side_other, glue.side_one)),
            ):
                if own.facet == here and other.facet not in signs:
                    signs[other.facet] = -signs[here] * _turn(own, sides[0]) * _turn(other, sides[1])
                    todo.append(other.facet)
    return {facet.name: signs.get(facet.name, 1.0) for facet in shape.facets}


def _turn(edge: Edge, side: int) -> float:
    """Return +1 if one walks the edge in the sense of rising values with the facet on the left, else -1."""
    return float(side if edge.across == "v" else -side)


def covers(panel: Panel, u: Span, v: Span) -> bool:
    """Tell whether a panel covers a whole rectangle of its facet."""
    spans = (panel.u, u), (panel.v, v)
    return all(own[0] < other[0] + SAME and own[1] > other[1] - SAME for own, other in spans)


def on_each_other(one: Panel | Mount, other: Panel | Mount) -> bool:
    """Tell whether two rectangles of one facet share more than an edge."""
    spans = (one.u, other.u), (one.v, other.v)
    return one.facet == other.facet and all(min(a[1], b[1]) - max(a[0], b[0]) > SAME for a, b in spans)


def corner_at(shape: Complex, point: Floats) -> Corner | None:
    """Return the corner of the wall that lies at a point."""
    for corner in shape.corners:
        if np.abs(np.array(corner.point) - point).max() < 1e-6:
            return corner
    return None
