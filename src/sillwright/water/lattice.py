"""The cells of a wall: every facet cut along every edge of every sheet, so that no lap is rounded.

In a cell the same sheets lie over one another everywhere, its stack. Water lies at one of its interfaces:
0 is the substrate, and `len(stack)` is on top of everything.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sillwright.water.model import Complex, Dressing, Edge, Facet, Panel, Sheet, Span

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]
Stack = tuple[int, ...]
SAME = 1e-6
"""Two lines of cells nearer than this are one, in inches."""


@dataclass(frozen=True)
class Grid:
    """The cells of one facet: between consecutive lines."""

    facet: Facet
    u: Floats
    v: Floats
    first: int
    """The number of its first cell; that of cell (i, j) is first + i * (len(v) - 1) + j."""

    @property
    def shape(self) -> tuple[int, int]:
        """Return the number of cells along u and v."""
        return len(self.u) - 1, len(self.v) - 1

    @cached_property
    def numbers(self) -> Ints:
        """Return the numbers of all cells, in the grid's shape."""
        rows, columns = self.shape
        return self.first + np.arange(rows * columns).reshape(rows, columns)

    def block(self, u: Span, v: Span) -> tuple[slice, slice]:
        """Return the cells inside a rectangle whose edges are lines of the grid."""
        return _slice(self.u, u), _slice(self.v, v)

    def heights(self, u: Floats, v: Floats) -> Floats:
        """Return z at points of the facet."""
        z: Floats = self.facet.place(u, v)[..., 2]
        return z


@dataclass(frozen=True)
class Lattice:
    """All cells of a dressed wall, with their stacks."""

    dressing: Dressing
    panels: tuple[tuple[Sheet, Panel], ...]
    """In the order of work: a stack holds their places in this list, rising."""
    grids: dict[str, Grid]
    stacks: tuple[Stack, ...]
    """The different stacks; one stands for all cells that have it."""
    stack_of: Ints
    """Of every cell; -1: a hole."""
    seams: frozenset[tuple[int, int]]
    """Pairs of panels that are one piece along the edge they share, both ways round."""

    @cached_property
    def count(self) -> Ints:
        """Return how many sheets lie on every cell; -1: a hole."""
        depth = np.array([len(stack) for stack in self.stacks] or [0], np.intp)
        return np.where(self.stack_of < 0, -1, depth[self.stack_of])

    def grid_of(self, cell: int) -> Grid:
        """Return the grid that a cell belongs to."""
        return next(
            grid
            for grid in self.grids.values()
            if grid.first <= cell < grid.first + grid.shape[0] * grid.shape[1]
        )

    def origin(self, cell: int) -> tuple[float, float]:
        """Return the least u and v of a cell."""
        grid = self.grid_of(cell)
        i, j = divmod(cell - grid.first, grid.shape[1])
        return float(grid.u[i]), float(grid.v[j])

    def cells_round(self, facet: str, u: float, v: float) -> list[int]:
        """Return the cells of a facet that touch a point of its lines."""
        grid = self.grids[facet]
        rows, columns = (
            np.flatnonzero((lines[:-1] < at + SAME) & (lines[1:] > at - SAME))
            for lines, at in ((grid.u, u), (grid.v, v))
        )
        cells = grid.numbers[np.ix_(rows, columns)].ravel()
        return [int(cell) for cell in cells if self.stack_of[cell] >= 0]

    def along(self, edge: Edge, side: int) -> tuple[Ints, Floats]:
        """Return the cells on one side of an edge, and the lines that part them."""
        grid = self.grids[edge.facet]
        across, running = (grid.u, grid.v) if edge.across == "u" else (grid.v, grid.u)
        line = int(np.abs(across - edge.at).argmin())
        part = _slice(running, edge.span)
        place = line if side > 0 else line - 1
        cells = grid.numbers
        found = cells[place, part] if edge.across == "u" else cells[part, place]
        return found, running[part.start : part.stop + 1]


def lattice(dressing: Dressing) -> Lattice:
    """Return the cells of a dressed wall, as large as its sheets allow."""
    panels = _in_order(dressing)
    lines = _lines(dressing.complex, [panel for _, panel in panels])
    grids, first = {}, 0
    for facet in dressing.complex.facets:
        u, v = (_within(lines[axis], span) for axis, span in zip(facet.axes, (facet.u, facet.v), strict=True))
        grids[facet.name] = Grid(facet, u, v, first)
        first += (len(u) - 1) * (len(v) - 1)
    stacks, stack_of = _stacks(panels, grids, first)
    return Lattice(dressing, panels, grids, stacks, stack_of, _seams(panels))


def _in_order(dressing: Dressing) -> tuple[tuple[Sheet, Panel], ...]:
    every = [(sheet, panel) for sheet in dressing.sheets for panel in sheet.panels]
    return tuple(sorted(every, key=lambda pair: pair[1].laid if pair[1].laid is not None else pair[0].laid))


def _lines(shape: Complex, panels: list[Panel]) -> dict[str, Floats]:
    cuts: dict[str, set[float]] = {}

    def cut(facet: Facet, u: Span, v: Span) -> None:
        for axis, span in zip(facet.axes, (u, v), strict=True):
            cuts.setdefault(axis, set()).update(span)

    for facet in shape.facets:
        cut(facet, facet.u, facet.v)
        for hole in (*facet.holes, *([facet.rain] if facet.rain else [])):
            cut(facet, *hole)
        for zone in facet.zones:
            cut(facet, zone.u, zone.v)
    for panel in panels:
        cut(shape.by_name[panel.facet], panel.u, panel.v)
    for mount in shape.mounts:
        cut(shape.by_name[mount.facet], mount.u, mount.v)
    return {axis: _apart(np.array(sorted(values))) for axis, values in cuts.items()}


def _apart(values: Floats) -> Floats:
    apart: Floats = values[np.concatenate([[True], np.diff(values) > SAME])]
    return apart


def _within(lines: Floats, span: Span) -> Floats:
    inside: Floats = lines[(lines > span[0] - SAME) & (lines < span[1] + SAME)]
    return inside


def _slice(lines: Floats, span: Span) -> slice:
    return slice(int(np.searchsorted(lines, span[0] - SAME)), int(np.searchsorted(lines, span[1] - SAME)))


def _stacks(
    panels: tuple[tuple[Sheet, Panel], ...], grids: dict[str, Grid], count: int
) -> tuple[tuple[Stack, ...], Ints]:
    """Give every cell its stack: each panel laid turns a stack into the one with it on top."""
    stacks: list[Stack] = [()]
    grown: dict[tuple[int, int], int] = {}
    stack_of = np.zeros(count, np.intp)
    for place, (_, panel) in enumerate(panels):
        grid = grids[panel.facet]
        cells = grid.numbers[grid.block(panel.u, panel.v)].ravel()
        for under in np.flatnonzero(np.bincount(stack_of[cells], minlength=1)):
            key = (int(under), place)
            if key not in grown:
                grown[key] = len(stacks)
                stacks.append((*stacks[under], place))
            stack_of[cells[stack_of[cells] == under]] = grown[key]
    for grid in grids.values():
        for hole in grid.facet.holes:
            stack_of[grid.numbers[grid.block(*hole)]] = -1
    return tuple(stacks), stack_of


def _seams(panels: tuple[tuple[Sheet, Panel], ...]) -> frozenset[tuple[int, int]]:
    place = {(sheet.name, panel.name): number for number, (sheet, panel) in enumerate(panels)}
    pairs = set()
    for sheet in {sheet.name: sheet for sheet, _ in panels}.values():
        for seam in sheet.seams:
            one, other = place[sheet.name, seam.one], place[sheet.name, seam.other]
            pairs |= {(one, other), (other, one)}
    return frozenset(pairs)
