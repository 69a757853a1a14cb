"""Points where facets meet: which sheets hold a corner inside them, and which leave a pinhole there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from sillwright.water.lattice import Lattice
from sillwright.water.model import Corner, Edge, Kind, Sheet

Matches = Callable[[int, int], tuple[tuple[int, int], ...]]
ON = 1e-6


@dataclass(frozen=True, slots=True)
class AtCorner:
    """A sheet at a corner point."""

    sheet: Sheet
    cells: tuple[int, ...]
    """Those round the point that it lies on."""
    whole: bool
    """Does it hold the point inside it: lies it all round, and hangs together there?"""


def sheets_at_corners(lattice: Lattice, matches: Matches) -> dict[str, tuple[AtCorner, ...]]:
    """Return the sheets at every corner by its name, in the order of work."""
    return {
        corner.name: tuple(_sheets_at(lattice, corner, matches))
        for corner in lattice.dressing.complex.corners
    }


def pinholes(
    lattice: Lattice, at_corners: dict[str, tuple[AtCorner, ...]]
) -> Iterator[tuple[float, int, set[int], tuple[float, float]]]:
    """Yield (height, cell, places in its stack, (u, v)): the sheets that water gets through at a corner.

    A sheet that ends at the point, or is slit to it, leaves a hole, however small.
    """
    for corner in lattice.dressing.complex.corners:
        torn = [each for each in at_corners[corner.name] if not each.whole]
        for facet, u, v in corner.at:
            for cell in lattice.cells_round(facet, u, v):
                gone = {_place(lattice, cell, each.sheet) for each in torn if cell in each.cells}
                if gone:
                    yield corner.point[2], cell, gone, (u, v)


def _sheets_at(lattice: Lattice, corner: Corner, matches: Matches) -> Iterator[AtCorner]:
    touching = [lattice.cells_round(*place) for place in corner.at]
    outside = [cell for cells in touching for cell in cells if not _mounted(lattice, cell)]
    behind = next((cells for cells in touching if any(_mounted(lattice, cell) for cell in cells)), [])
    rounds = [(cells, _beside(lattice, corner, cells)) for cells in (outside, behind) if cells]
    for name, sheet in _by_name(lattice, outside).items():
        if sheet.kind not in (Kind.UNIT, Kind.BEAD):
            own = tuple(cell for cell in outside if _has(lattice, cell, name))
            yield AtCorner(sheet, own, any(_goes_round(lattice, name, *each, matches) for each in rounds))


def _beside(lattice: Lattice, corner: Corner, cells: list[int]) -> list[tuple[int, int]]:
    """Return the pairs of cells at a corner that share an edge which ends there."""
    pairs = [pair for pair in combinations(cells, 2) if _next_to(lattice, *pair)]
    where = {facet: (u, v) for facet, u, v in corner.at}
    for glue in lattice.dressing.complex.glues:
        if _on(glue.one, where) and _on(glue.other, where):
            one, _ = lattice.along(glue.one, glue.side_one)
            other, _ = lattice.along(glue.other, glue.side_other)
            both = np.isin(one, cells) & np.isin(other, cells)
            pairs += zip(one[both].tolist(), other[both].tolist(), strict=True)
    return pairs


def _goes_round(
    lattice: Lattice, name: str, cells: list[int], beside: list[tuple[int, int]], matches: Matches
) -> bool:
    """Tell whether a sheet lies on all cells round a point, in one piece."""
    on_all = all(_has(lattice, cell, name) for cell in cells)
    return on_all and all(_runs_on(lattice, name, *pair, matches) for pair in beside)


def _mounted(lattice: Lattice, cell: int) -> bool:
    return any(lattice.panels[place][0].kind == Kind.MOUNT for place in _stack(lattice, cell))


def _stack(lattice: Lattice, cell: int) -> tuple[int, ...]:
    return lattice.stacks[lattice.stack_of[cell]]


def _by_name(lattice: Lattice, cells: list[int]) -> dict[str, Sheet]:
    places = sorted({place for cell in cells for place in _stack(lattice, cell)})
    return {lattice.panels[place][0].name: lattice.panels[place][0] for place in places}


def _has(lattice: Lattice, cell: int, name: str) -> bool:
    return any(lattice.panels[place][0].name == name for place in _stack(lattice, cell))


def _place(lattice: Lattice, cell: int, sheet: Sheet) -> int:
    names = [lattice.panels[place][0].name for place in _stack(lattice, cell)]
    return names.index(sheet.name)


def _runs_on(lattice: Lattice, name: str, one: int, other: int, matches: Matches) -> bool:
    stacks = int(lattice.stack_of[one]), int(lattice.stack_of[other])
    if stacks[0] == stacks[1]:
        return True
    return any(lattice.panels[lattice.stacks[stacks[0]][k]][0].name == name for k, _ in matches(*stacks))


def _next_to(lattice: Lattice, one: int, other: int) -> bool:
    grid = lattice.grid_of(one)
    columns = grid.shape[1]
    if not grid.first <= other < grid.first + grid.shape[0] * columns:
        return False
    (a, b), (c, d) = divmod(one - grid.first, columns), divmod(other - grid.first, columns)
    return abs(a - c) + abs(b - d) == 1


def _on(edge: Edge, where: dict[str, tuple[float, float]]) -> bool:
    if edge.facet not in where:
        return False
    across, along = where[edge.facet] if edge.across == "u" else where[edge.facet][::-1]
    return abs(across - edge.at) < ON and edge.span[0] - ON < along < edge.span[1] + ON
