"""The part of a wall that some sheets all cover, in tiles, and what happens at the sides of each tile.

A tile is a cell of the wall cut along the edges of these sheets alone. Its sides are numbered round it: 0 at
the lower end of `v`, 1 at the upper end of `u`, 2 at the upper end of `v`, 3 at the lower end of `u`; corner
`k` is where side `k` starts.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sillwright.water.geodesic import Place, Surface
from sillwright.water.lattice import Floats, Lattice, lattice
from sillwright.water.model import Complex, Corner, Dressing, Edge, Face, Facet, Join, Panel, Sheet

SIDES = range(4)


@dataclass(frozen=True, slots=True)
class Tile:
    """A piece of a facet that the same panels cover everywhere."""

    cell: int
    facet: Facet
    panels: tuple[Panel, ...]
    """Of each sheet."""
    points: Floats
    """Its corners in space, a row each."""

    @property
    def middle(self) -> Floats:
        """Return the middle of its corners."""
        found: Floats = self.points.mean(axis=0)
        return found

    def ends(self, side: int) -> tuple[Floats, Floats]:
        """Return both ends of a side."""
        return self.points[side], self.points[(side + 1) % 4]


@dataclass(frozen=True)
class Tiling:
    """Tiles of one sheet, or of the overlap of several."""

    lattice: Lattice
    sheets: tuple[Sheet, ...]
    tiles: tuple[Tile, ...]

    @cached_property
    def place_of(self) -> dict[int, int]:
        """Return the place of a tile in the list, by the number of its cell."""
        return {tile.cell: place for place, tile in enumerate(self.tiles)}

    @cached_property
    def _panel_at(self) -> dict[tuple[str, int], Panel]:
        return dict(_panel_at(self.lattice))

    @cached_property
    def _joins(self) -> dict[tuple[str, frozenset[str]], Join]:
        return {
            (sheet.name, frozenset((seam.one, seam.other))): seam.join
            for sheet in self.sheets
            for seam in sheet.seams
        }

    @cached_property
    def _glued(self) -> dict[Place, list[Place]]:
        return _glued(self.lattice)

    def beyond(self, cell: int, side: int) -> Iterator[Place]:
        """Yield the cells that meet a side of a cell, and which of their sides that is."""
        tile = self.tiles[self.place_of[cell]]
        grid = self.lattice.grids[tile.facet.name]
        i, j = divmod(cell - grid.first, grid.shape[1])
        i, j = i + (0, 1, 0, -1)[side], j + (-1, 0, 1, 0)[side]
        if 0 <= i < grid.shape[0] and 0 <= j < grid.shape[1]:
            number = int(grid.numbers[i, j])
            if self.lattice.stack_of[number] >= 0:
                yield number, (side + 2) % 4
        yield from self._glued.get((cell, side), ())

    def panel(self, sheet: Sheet, cell: int) -> Panel | None:
        """Return the panel of a sheet that covers a cell."""
        return self._panel_at.get((sheet.name, cell))

    def join(self, sheet: Sheet, one: Panel, other: Panel) -> Join | None:
        """Return how two panels of a sheet hang together; None: not at all."""
        if one.name == other.name:
            return Join.FOLD
        return self._joins.get((sheet.name, frozenset((one.name, other.name))))

    def runs_on(self, which: int, place: int, side: int) -> tuple[Place, Join] | None:
        """Return where a sheet goes on past a side of a tile, cell and side, and how; None: it ends there."""
        sheet, tile = self.sheets[which], self.tiles[place]
        for cell, its_side in self.beyond(tile.cell, side):
            panel = self.panel(sheet, cell)
            join = self.join(sheet, tile.panels[which], panel) if panel else None
            if join is not None:
                return (cell, its_side), join
        return None

    @cached_property
    def _sides(self) -> tuple[dict[Place, Place], dict[Place, frozenset[int]]]:
        joined: dict[Place, Place] = {}
        ends: dict[Place, frozenset[int]] = {}
        for place in range(len(self.tiles)):
            for side in SIDES:
                found = [self.runs_on(which, place, side) for which in range(len(self.sheets))]
                where = {each[0] for each in found if each is not None}
                if None not in found and len(where) == 1:
                    cell, its_side = where.pop()
                    joined[place, side] = self.place_of[cell], its_side
                else:
                    ends[place, side] = frozenset(which for which, each in enumerate(found) if each is None)
        return joined, ends

    @property
    def joined(self) -> dict[Place, Place]:
        """Return the sides over which all sheets run on together, by tile: both ways round."""
        return self._sides[0]

    @property
    def ends(self) -> dict[Place, frozenset[int]]:
        """Return the other sides of tiles, and which sheets end there; none of them: they part company there."""
        return self._sides[1]

    @cached_property
    def surface(self) -> Surface:
        """Return the tiles as one surface that ways can be found on."""
        points = np.array([tile.points for tile in self.tiles]).reshape(-1, 4, 3)
        return Surface(points, self.joined)

    @cached_property
    def upward(self) -> dict[str, Floats]:
        """Return the direction of steepest rise on each facet, times its slope; zero on a level one."""
        return {name: _rise(grid.facet) for name, grid in self.lattice.grids.items()}


def tiling(shape: Complex, *sheets: Sheet, cell_in: float | None = None) -> Tiling:
    """Return the tiles that all of some sheets cover, no larger than `cell_in` inches if that is given."""
    cells = lattice(Dressing(complex=shape, sheets=sheets), cell_in)
    covered: dict[int, dict[str, Panel]] = defaultdict(dict)
    for (name, cell), panel in _panel_at(cells):
        covered[cell][name] = panel
    names = [sheet.name for sheet in sheets]
    tiles = []
    for grid in cells.grids.values():
        corners = grid.facet.place(grid.u[:, None], grid.v[None, :])
        for cell in grid.numbers.ravel().tolist():
            found = covered.get(cell, {})
            if cells.stack_of[cell] < 0 or len(found) < len(names):
                continue
            i, j = divmod(cell - grid.first, grid.shape[1])
            points = corners[[i, i + 1, i + 1, i], [j, j, j + 1, j + 1]]
            tiles.append(Tile(cell, grid.facet, tuple(found[name] for name in names), points))
    return Tiling(cells, sheets, tuple(tiles))


def _panel_at(cells: Lattice) -> Iterator[tuple[tuple[str, int], Panel]]:
    for sheet, panel in cells.panels:
        grid = cells.grids[panel.facet]
        for cell in grid.numbers[grid.block(panel.u, panel.v)].ravel().tolist():
            yield (sheet.name, cell), panel


def _glued(cells: Lattice) -> dict[Place, list[Place]]:
    """Return which sides of cells meet over the edges of facets, both ways round."""
    found: dict[Place, list[Place]] = defaultdict(list)
    for glue in cells.dressing.complex.glues:
        one, _ = cells.along(glue.one, glue.side_one)
        other, _ = cells.along(glue.other, glue.side_other)
        sides = _side(glue.one, glue.side_one), _side(glue.other, glue.side_other)
        for a, b in zip(one.tolist(), other.tolist(), strict=True):
            found[a, sides[0]].append((b, sides[1]))
            found[b, sides[1]].append((a, sides[0]))
    return found


def _side(edge: Edge, side: int) -> int:
    """Return which side of a cell an edge is, when the cell lies below it (-1) or above it (+1)."""
    if edge.across == "v":
        return 0 if side > 0 else 2
    return 3 if side > 0 else 1


def _rise(facet: Facet) -> Floats:
    a, b, _, d = (np.array(corner) for corner in facet.corners)
    normal = np.cross(b - a, d - a)
    normal /= np.linalg.norm(normal)
    up = np.array([0.0, 0.0, 1.0])
    found: Floats = up - normal * (normal @ up)
    return found


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


def corner_at(shape: Complex, point: Floats) -> Corner | None:
    """Return the corner of the wall that lies at a point."""
    for corner in shape.corners:
        if np.abs(np.array(corner.point) - point).max() < 1e-6:
            return corner
    return None


def is_upright(tile: Tile) -> bool:
    """Tell whether water runs straight down on a tile."""
    return tile.facet.face is Face.UPRIGHT
