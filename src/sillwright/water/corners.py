"""Points where facets meet: which sheets hold a corner inside them, and which leave a pinhole there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations

from sillwright.water.lattice import Lattice
from sillwright.water.model import Corner, Edge, Kind, Sheet

Matches = Callable[[int, int], tuple[tuple[int, int], ...]]
CellsRound = Callable[[str, float, float], list[int]]
ON = 1e-6


def pinholes(
    lattice: Lattice, matches: Matches, cells_round: CellsRound
) -> Iterator[tuple[float, int, set[int], tuple[float, float]]]:
    """Yield (height, cell, places in its stack, (u, v)): the sheets that water gets through at a corner.

    A sheet is whole at a corner only if it lies all round the point and hangs together there: one that ends
    at the point, or is slit to it, leaves a hole, however small.
    """
    for corner in lattice.dressing.complex.corners:
        found = list(_sheets_at(lattice, corner, matches, cells_round))
        for facet, u, v in corner.at:
            for cell in cells_round(facet, u, v):
                gone = {
                    _place(lattice, cell, sheet)
                    for sheet, cells, whole in found
                    if cell in cells and not whole
                }
                if gone:
                    yield corner.point[2], cell, gone, (u, v)


def holding(lattice: Lattice, corner: Corner, matches: Matches, cells_round: CellsRound) -> tuple[Sheet, ...]:
    """Return the sheets that hold a corner point inside them, in the order of work."""
    found = _sheets_at(lattice, corner, matches, cells_round)
    return tuple(sorted((sheet for sheet, _, whole in found if whole), key=lambda sheet: sheet.laid))


def _sheets_at(
    lattice: Lattice, corner: Corner, matches: Matches, cells_round: CellsRound
) -> Iterator[tuple[Sheet, list[int], bool]]:
    touching = {place[0]: cells_round(*place) for place in corner.at}
    every = [cell for cells in touching.values() for cell in cells]
    outside = [cell for cell in every if not _mounted(lattice, cell)]
    behind = next(
        (cells for cells in touching.values() if any(_mounted(lattice, cell) for cell in cells)), []
    )
    rounds = [(cells, _beside(lattice, corner, cells)) for cells in (outside, behind) if cells]
    for name, sheet in _by_name(lattice, outside).items():
        if sheet.kind not in (Kind.UNIT, Kind.BEAD):
            own = [cell for cell in outside if _has(lattice, cell, name)]
            yield sheet, own, any(_goes_round(lattice, name, *each, matches) for each in rounds)


def _beside(lattice: Lattice, corner: Corner, cells: list[int]) -> list[tuple[int, int]]:
    return [pair for pair in combinations(cells, 2) if _adjoin(lattice, corner, *pair)]


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


def _adjoin(lattice: Lattice, corner: Corner, one: int, other: int) -> bool:
    """Tell whether two cells at a corner share an edge that ends there."""
    return _next_to(lattice, one, other) or _glued(lattice, corner, one, other)


def _next_to(lattice: Lattice, one: int, other: int) -> bool:
    for grid in lattice.grids.values():
        size = grid.shape[0] * grid.shape[1]
        if all(grid.first <= cell < grid.first + size for cell in (one, other)):
            steps = [
                abs(a - b)
                for a, b in zip(
                    divmod(one - grid.first, grid.shape[1]),
                    divmod(other - grid.first, grid.shape[1]),
                    strict=True,
                )
            ]
            return sum(steps) == 1
    return False


def _glued(lattice: Lattice, corner: Corner, one: int, other: int) -> bool:
    where = {facet: (u, v) for facet, u, v in corner.at}
    for glue in lattice.dressing.complex.glues:
        if all(_on(edge, where) for edge in (glue.one, glue.other)):
            pairs = zip(
                lattice.along(glue.one, glue.side_one)[0],
                lattice.along(glue.other, glue.side_other)[0],
                strict=True,
            )
            if any({one, other} == {int(a), int(b)} for a, b in pairs):
                return True
    return False


def _on(edge: Edge, where: dict[str, tuple[float, float]]) -> bool:
    if edge.facet not in where:
        return False
    across, along = where[edge.facet] if edge.across == "u" else where[edge.facet][::-1]
    return abs(across - edge.at) < ON and edge.span[0] - ON < along < edge.span[1] + ON
