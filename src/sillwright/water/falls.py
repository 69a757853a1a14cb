"""Where water runs by its weight between two sheets, and whether it comes out behind the lower one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from sillwright.water.geodesic import Place
from sillwright.water.model import Face, Point
from sillwright.water.tiles import SIDES, Cell, Tiling, rise

STEEP = math.cos(math.radians(45))
LEVEL = 1e-6


@dataclass(frozen=True, slots=True)
class Leak:
    """Water gets in where the upper sheet ends on the lower one, and out where that ends behind it."""

    entry: Place
    exit: Place


@dataclass(frozen=True)
class Falls:
    """How water runs over tiles, and over the cells beside them."""

    part: Tiling

    def leaks(self, over: int) -> list[Leak]:
        """Return every way in, and out, if the sheet `over` of the two lay over the other one."""
        found = []
        for entry, ends in self.part.ends.items():
            if ends == {over} and self._runs_in(entry, 1 - over):
                exits = sorted(self._out_of(entry[0], 1 - over))
                found += [Leak(entry, exits[0])] if exits else []
        return found

    def _runs_in(self, entry: Place, under: int) -> bool:
        """Tell whether water on the sheet that runs on past a side of a tile runs over it onto the tile."""
        cell = self.part.tiles[entry[0]].cell
        if not self.takes(cell, entry[1]):
            return False
        beyond = self.part.laid.runs_on(self.part.sheets[under], cell, entry[1])
        return beyond is not None and self.leaves(beyond[0], beyond[1])

    def _out_of(self, start: int, under: int) -> Iterator[Place]:
        """Yield the sides where water that runs down between the sheets passes the end of the lower one."""
        part, seen, todo = self.part, {start}, [start]
        while todo:
            place = todo.pop()
            cell = part.tiles[place].cell
            for side in SIDES:
                if not self.leaves(cell, side):
                    continue
                following = part.joined.get((place, side))
                if following is not None:
                    if following[0] not in seen and self.takes(part.tiles[following[0]].cell, following[1]):
                        seen.add(following[0])
                        todo.append(following[0])
                elif part.ends[place, side] == {under}:
                    beyond = part.laid.runs_on(part.sheets[1 - under], cell, side)
                    if beyond is not None and self.takes(beyond[0], beyond[1]):
                        yield place, side

    def leaves(self, cell: Cell, side: int) -> bool:
        """Tell whether water on a cell runs off over a side of it."""
        fall = self._fall(cell, side)
        return fall is None or fall > STEEP

    def takes(self, cell: Cell, side: int) -> bool:
        """Tell whether water that comes to a side of a cell runs onto it: unless it would have to climb."""
        fall = self._fall(cell, side)
        return fall is None or fall < STEEP

    def _fall(self, cell: Cell, side: int) -> float | None:
        """Return how straight the fall of a cell points out over a side, -1 to 1; None: it points nowhere."""
        if cell not in self._known:
            self._known[cell] = self._of(cell)
        falls = self._known[cell]
        return falls[side] if falls else None

    @cached_property
    def _known(self) -> dict[Cell, tuple[float, ...] | None]:
        return {}

    @cached_property
    def _rises(self) -> dict[str, Point]:
        return {}

    def _of(self, cell: Cell) -> tuple[float, ...] | None:
        shape = self.part.laid.shape
        if cell[0] not in self._rises:
            self._rises[cell[0]] = rise(shape.by_name[cell[0]])
        up = self._rises[cell[0]]
        slope = math.hypot(*up)
        if slope < LEVEL or shape.by_name[cell[0]].face is Face.UNDERSIDE:
            return None
        points = self.part.laid.corners(cell).tolist()
        middle = [sum(each) / 4 for each in zip(*points, strict=True)]
        return tuple(
            -_share(_outward(points[side], points[(side + 1) % 4], middle), up) / slope for side in SIDES
        )


def _outward(a: list[float], b: list[float], middle: list[float]) -> list[float]:
    """Return the unit direction square to a side, in the plane of its cell and away from the middle."""
    along = [(q - p) / math.dist(a, b) for p, q in zip(a, b, strict=True)]
    out = [(p + q) / 2 - m for p, q, m in zip(a, b, middle, strict=True)]
    share = math.fsum(o * s for o, s in zip(out, along, strict=True))
    out = [o - share * s for o, s in zip(out, along, strict=True)]
    return [o / math.hypot(*out) for o in out]


def _share(one: list[float], other: Point) -> float:
    return math.fsum(a * b for a, b in zip(one, other, strict=True))
