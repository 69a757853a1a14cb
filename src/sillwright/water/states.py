"""Where water can be, and the ways from there: a graph of states and portals.

A state is a cell and an interface of its stack. Through the edge of two cells water may change to every
interface that keeps each sheet common to both cells on the side of it where it is: that alone makes water
run over a lap, behind one, and out at an edge.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cache, cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sillwright.errors import BadInput, Fault
from sillwright.water.corners import AtCorner, pinholes, sheets_at_corners
from sillwright.water.lattice import Bools, Floats, Grid, Ints, Lattice, Stack
from sillwright.water.model import Edge, Face, Fastener, Glue, Kind, Mount

WEATHER = -1
"""In the open, where rain falls."""
ROOM = -2
LEVEL = 1e-6
STEEP = math.sqrt(0.5)
"""The sine of 45 degrees: an edge that rises more is a jamb's, one that rises less a sill's or a head's."""
Match = tuple[int, int]


POINT = -1


@dataclass(frozen=True, slots=True)
class Portals:
    """Ways between two states each, as columns. A state is its number, or WEATHER, or ROOM."""

    one: Ints
    other: Ints
    start: Floats
    """Height of the portal's first end, along the axis that it runs on; inches."""
    end: Floats
    there: Bools
    """Does water run from one to the other by its weight alone?"""
    back: Bools
    side_one: Ints
    """The edge of the cell of `one`: at its least or greatest u (0, 1), or v (2, 3); or POINT."""
    side_other: Ints
    u: Floats
    """Where a point is, on the facet's axes."""
    v: Floats
    sealed: Bools
    """Through a sheet that closes round the fastener, or past a fastener bedded in sealant."""

    @property
    def low(self) -> Floats:
        """Return the least height at which water can pass, inches."""
        return np.minimum(self.start, self.end)

    @property
    def high(self) -> Floats:
        """Return the greatest height at which water can pass, inches."""
        return np.maximum(self.start, self.end)

    def rows(self, rows: Ints | Bools) -> Portals:
        """Return some of the portals."""
        return Portals(*(getattr(self, each.name)[rows] for each in fields(self)))

    def turned(self, rows: Bools) -> Portals:
        """Return the portals, some of them seen from their other side."""
        swap = {"one": "other", "there": "back", "side_one": "side_other"}
        swap |= {value: key for key, value in swap.items()}
        columns = {each.name: getattr(self, each.name) for each in fields(self)}
        return Portals(
            **{name: np.where(rows, columns[swap.get(name, name)], own) for name, own in columns.items()}
        )


@dataclass(frozen=True)
class States:
    """All states of a dressed wall. State `first[cell] + i` is interface i of the cell."""

    lattice: Lattice
    cell: Ints
    interface: Ints
    first: Ints
    open_air: Bools
    """Is the state in the open, where rain falls?"""
    inside: Bools
    """Is it inside the unit or the mount, where no water is looked for?"""
    bonded: Bools
    """Do the two layers hold to each other there?"""
    portals: Portals
    corners: Floats
    """Heights of the corners of every cell, inches: at (u0, v0), (u1, v0), (u1, v1), (u0, v1)."""
    size: Floats
    """Length of every cell along u and v, inches."""
    spots: Ints
    """States into which the unit's own weak spots let water, in their order."""
    at_corners: dict[str, tuple[AtCorner, ...]]
    """The sheets at every corner, by its name."""

    @property
    def middle(self) -> Floats:
        """Return the height of the middle of every state's cell, inches."""
        middle: Floats = self.corners.mean(axis=1)[self.cell]
        return middle

    @cached_property
    def on_wood(self) -> Bools:
        """Return which states wet what must stay dry."""
        dry = np.zeros(len(self.lattice.stack_of), np.bool_)
        for grid in self.lattice.grids.values():
            dry[grid.numbers] = grid.facet.dry
        wet: Bools = dry[self.cell] & (self.interface == 0) & ~self.inside
        return wet


def states(lattice: Lattice) -> States:
    """Return the states of a lattice and the ways between them.

    Raises:
        BadInput: a sheet would have to pass through another one
    """
    depth = lattice.count + 1
    first = np.concatenate([[0], np.cumsum(depth)])[:-1]
    cell = np.repeat(np.arange(len(depth)), depth)
    interface = np.arange(len(cell)) - first[cell]
    open_air, inside = _outermost(lattice, cell, interface)
    build = _Build(lattice, first)
    for grid in lattice.grids.values():
        build.within(grid)
    for glue in lattice.dressing.complex.glues:
        build.over(glue)
    for edge in lattice.dressing.complex.room:
        build.into_room(edge)
    for fastener in lattice.dressing.fasteners:
        build.through(fastener)
    at_corners = sheets_at_corners(lattice, build.matches)
    build.at_corners(at_corners)
    portals = _clean(build.portals(), open_air, inside)
    spots = [build.spot(each.facet, each.u, each.v) for each in lattice.dressing.weak_spots]
    bonded = _bonded(lattice, cell, interface)
    every = np.array(spots, np.intp)
    return States(
        lattice,
        cell,
        interface,
        first,
        open_air,
        inside,
        bonded,
        portals,
        build.corners,
        build.size,
        every,
        at_corners,
    )


def _outermost(lattice: Lattice, cell: Ints, interface: Ints) -> tuple[Bools, Bools]:
    """Tell which states are in the open air, and which inside a unit or a mount."""
    rained = np.zeros(len(lattice.stack_of), np.bool_)
    for grid in lattice.grids.values():
        if grid.facet.rain:
            rained[grid.numbers[grid.block(*grid.facet.rain)]] = True
    kinds = [lattice.panels[stack[-1]][0].kind if stack else None for stack in lattice.stacks]
    mount = np.array([kind == Kind.MOUNT for kind in kinds])[lattice.stack_of]
    unit = np.array([kind == Kind.UNIT for kind in kinds])[lattice.stack_of]
    top = interface == lattice.count[cell]
    return top & (rained & ~mount)[cell], top & (mount | (unit & ~rained))[cell]


def _bonded(lattice: Lattice, cell: Ints, interface: Ints) -> Bools:
    table = np.zeros((len(lattice.stacks), max(map(len, lattice.stacks), default=0) + 1), np.bool_)
    for number, stack in enumerate(lattice.stacks):
        for i in range(len(stack) + 1):
            over = i < len(stack) and lattice.panels[stack[i]][1].bonded
            under = 0 < i < len(stack) and lattice.panels[stack[i - 1]][1].bonds_above
            table[number, i] = over or under
    bonded: Bools = table[lattice.stack_of[cell], interface]
    return bonded


def runs_on(lattice: Lattice) -> Callable[[int, int], tuple[Match, ...]]:
    """Return what tells, for two stacks by number, at which of their places the same sheet runs on."""

    @cache
    def matches(one: int, other: int) -> tuple[Match, ...]:
        a, b = lattice.stacks[one], lattice.stacks[other]
        return tuple(
            (k, m) for k, p in enumerate(a) for m, q in enumerate(b) if p == q or (p, q) in lattice.seams
        )

    return matches


class _Build:
    """Collects portals, column by column."""

    def __init__(self, lattice: Lattice, first: Ints) -> None:
        self.lattice, self.first = lattice, first
        self.parts: list[tuple[NDArray[np.generic], ...]] = []
        self.sealed: set[int] = set()
        """The parts that hold ways which a seal closes."""
        size = len(lattice.stack_of)
        self.corners, self.size = np.zeros((size, 4)), np.zeros((size, 2))
        self.upright = np.zeros(size, np.bool_)
        for grid in lattice.grids.values():
            self._measure(grid)
        self.middle = self.corners.mean(axis=1)
        self.matches = runs_on(lattice)
        self.tables = cache(self._table)

    def _measure(self, grid: Grid) -> None:
        z = grid.heights(grid.u[:, None], grid.v[None, :])
        self.corners[grid.numbers] = np.stack([z[:-1, :-1], z[1:, :-1], z[1:, 1:], z[:-1, 1:]], axis=-1)
        self.size[grid.numbers, 0] = np.diff(grid.u)[:, None]
        self.size[grid.numbers, 1] = np.diff(grid.v)[None, :]
        self.upright[grid.numbers] = grid.facet.face == Face.UPRIGHT

    # --- which interface leads to which

    def _table(self, one: int, other: int, extra: tuple[Match, ...] = ()) -> tuple[Ints, Ints]:
        """Return the pairs of interfaces that water can pass between, for two stacks by number."""
        size = len(self.lattice.stacks[other])
        found = (*self.matches(one, other), *extra)
        self._refuse_woven(one, other)
        pairs = []
        for i in range(len(self.lattice.stacks[one]) + 1):
            least = max((m + 1 for k, m in found if k < i), default=0)
            most = min((m for k, m in found if k >= i), default=size)
            pairs += [(i, j) for j in range(max(least, 0), min(most, size) + 1)]
        table = np.array(pairs, np.intp).reshape(-1, 2)
        return table[:, 0], table[:, 1]

    def _refuse_woven(self, one: int, other: int) -> None:
        pairs = self.matches(one, other)
        crossed = next(((a, b) for a in pairs for b in pairs if a[0] < b[0] and a[1] > b[1]), None)
        if crossed is None:
            return
        sheets = [self.lattice.panels[self.lattice.stacks[one][k]][0] for k, _ in crossed]
        what = f"{sheets[0].words} lies under {sheets[1].words} in one place and over it in the next."
        raise BadInput(
            Fault(
                f"water.sheet {sheets[0].name}",
                what,
                "Lay one of them wholly before the other, or cut a flap.",
            )
        )

    # --- pairs of cells

    def _add(self, one: Ints, other: Ints, ends: tuple[Floats, Floats], sides: tuple[int, int]) -> None:
        """Add the portals between cells side by side, with the heights of both ends of their edges."""
        there, back = self._falls(one, other, ends, sides[0])
        self._grouped(one, other, (), (*ends, there, back, *_edges(len(one), sides)))

    def _crossed(self, cells: Ints, ends: tuple[Floats, Floats], side: int) -> Bools:
        """Tell which edges water runs over by its weight: on an upright face it follows a steep one."""
        along = self.size[cells, 1 if side <= 1 else 0]
        flat: Bools = np.abs(ends[0] - ends[1]) < STEEP * along
        return flat | ~self.upright[cells]

    def _falls(self, one: Ints, other: Ints, ends: tuple[Floats, Floats], side: int) -> tuple[Bools, Bools]:
        """Tell whether water runs by its weight alone from one cell to the other, and back."""
        edge = (ends[0] + ends[1]) / 2
        flowing = self._crossed(one, ends, side) | ~self.upright[other]
        above, below = self.middle[one] > edge - LEVEL, self.middle[one] < edge + LEVEL
        over, under = self.middle[other] > edge - LEVEL, self.middle[other] < edge + LEVEL
        return flowing & above & under, flowing & over & below

    def _grouped(
        self, one: Ints, other: Ints, extra: tuple[Match, ...], columns: tuple[NDArray[np.generic], ...]
    ) -> None:
        """Add the portals between pairs of cells: for each pair as many as its two stacks allow."""
        stacks = self.lattice.stack_of[one], self.lattice.stack_of[other]
        rows = np.flatnonzero((stacks[0] >= 0) & (stacks[1] >= 0))
        keys, kind = np.unique(
            stacks[0][rows] * len(self.lattice.stacks) + stacks[1][rows], return_inverse=True
        )
        tables = [self.tables(*divmod(int(key), len(self.lattice.stacks)), extra) for key in keys]
        if not tables:
            return
        sizes = np.array([len(i) for i, _ in tables])
        starts = np.cumsum(sizes) - sizes
        many = sizes[kind]
        place = np.repeat(starts[kind] - np.cumsum(many) + many, many) + np.arange(many.sum())
        i, j = (np.concatenate(part)[place] for part in zip(*tables, strict=True))
        rows = np.repeat(rows, many)
        pairs = self.first[one[rows]] + i, self.first[other[rows]] + j
        self.parts.append((*pairs, *(column[rows] for column in columns)))

    def within(self, grid: Grid) -> None:
        """Add the ways between the cells of a facet."""
        cells = grid.numbers
        z = grid.heights(grid.u[:, None], grid.v[None, :])
        if grid.shape[0] > 1:
            ends = z[1:-1, :-1].ravel(), z[1:-1, 1:].ravel()
            self._plain(cells[:-1].ravel(), cells[1:].ravel(), ends, (1, 0))
        if grid.shape[1] > 1:
            ends = z[:-1, 1:-1].ravel(), z[1:, 1:-1].ravel()
            self._plain(cells[:, :-1].ravel(), cells[:, 1:].ravel(), ends, (3, 2))

    def _plain(self, one: Ints, other: Ints, ends: tuple[Floats, Floats], sides: tuple[int, int]) -> None:
        """Add pairs of cells, but for those at the outline of a mount, where a third face meets them."""
        clear = np.ones(len(one), np.bool_)
        for mount in self.lattice.dressing.complex.mounts:
            clear &= self._behind(mount)[one] == self._behind(mount)[other]
        self._add(one[clear], other[clear], (ends[0][clear], ends[1][clear]), sides)

    def _behind(self, mount: Mount) -> Bools:
        inside = np.zeros(len(self.lattice.stack_of), np.bool_)
        grid = self.lattice.grids[mount.facet]
        inside[grid.numbers[grid.block(mount.u, mount.v)]] = True
        return inside

    def over(self, glue: Glue) -> None:
        """Add the ways over an edge where two facets meet, or three at the outline of a mount."""
        one, running = self.lattice.along(glue.one, glue.side_one)
        other, _ = self.lattice.along(glue.other, glue.side_other)
        ends = self._ends(glue.one, running)
        sides = (_side(glue.one, glue.side_one), _side(glue.other, glue.side_other))
        mounts = [each for each in self.lattice.dressing.complex.mounts if each.facet == glue.one.facet]
        mount = next((each for each in mounts if glue.other.facet in each.faces), None)
        if mount is None:
            self._add(one, other, ends, sides)
        else:
            behind, _ = self.lattice.along(glue.one, -glue.side_one)
            self._three(one, behind, other, ends, (*sides, _side(glue.one, -glue.side_one)))

    def _ends(self, edge: Edge, running: Floats) -> tuple[Floats, Floats]:
        grid = self.lattice.grids[edge.facet]
        at = np.full(len(running), edge.at)
        z = grid.heights(at, running) if edge.across == "u" else grid.heights(running, at)
        return z[:-1], z[1:]

    def _three(
        self, wall: Ints, behind: Ints, face: Ints, ends: tuple[Floats, Floats], sides: tuple[int, int, int]
    ) -> None:
        """Add the ways at the outline of a mount: the wall beside it, the wall behind it, its own face.

        What climbs from the wall onto the face lies outside the mount; what goes on behind, inside.
        """
        of = self.lattice.stack_of
        triples = np.stack([of[cells] for cells in (wall, behind, face)])
        for a, b, c in np.unique(triples[:, triples.min(axis=0) >= 0], axis=1).T.tolist():
            rows = np.flatnonzero(np.all(np.array([a, b, c]) == triples.T, axis=1))
            climbs, goes_on = self.matches(a, c), self.matches(a, b)
            top, size = len(self.lattice.stacks[b]) - 1, len(self.lattice.stacks[c])
            inside = tuple((k, top + 1) for k, _ in climbs)
            outside = tuple((k, -1) for k, _ in goes_on)
            slot = (*((m, -1) for _, m in goes_on), (top, size), *((top, m) for _, m in climbs))
            for one, other, extra, pair in (
                (wall[rows], behind[rows], inside, (sides[0], sides[2])),
                (wall[rows], face[rows], outside, sides[:2]),
                (behind[rows], face[rows], slot, (sides[2], sides[1])),
            ):
                z = ends[0][rows], ends[1][rows]
                falls = self._falls(one, other, z, pair[0])
                self._grouped(one, other, extra, (*z, *falls, *_edges(len(one), pair)))

    def into_room(self, edge: Edge) -> None:
        """Add the ways past an edge into the room."""
        grid = self.lattice.grids[edge.facet]
        line = (grid.u if edge.across == "u" else grid.v) - edge.at
        side = 1 if abs(line[0]) < abs(line[-1]) else -1
        cells, running = self.lattice.along(edge, side)
        a, b = self._ends(edge, running)
        sides = _side(edge, side)
        falls = (self.middle[cells] > (a + b) / 2 - LEVEL) & self._crossed(cells, (a, b), sides)
        many = self.lattice.count[cells] + 1
        row = np.repeat(np.arange(len(cells)), many)
        own = self.first[cells[row]] + np.arange(len(row)) - np.repeat(np.cumsum(many) - many, many)
        room = np.full(len(row), ROOM)
        never = np.zeros(len(row), np.bool_)
        self.parts.append((own, room, a[row], b[row], falls[row], never, *_edges(len(row), (sides, sides))))

    def _point(self, one: int, other: int, z: float, at: tuple[float, float], *, sealed: bool) -> None:
        """Add a way through a point."""
        always = np.ones(1, np.bool_)
        place = np.array([at[0]]), np.array([at[1]])
        sides = np.full(1, POINT), np.full(1, POINT)
        height = np.array([z])
        self.parts.append(
            (np.array([one]), np.array([other]), height, height, always, always, *sides, *place)
        )
        if sealed:
            self.sealed.add(len(self.parts) - 1)

    # --- points

    def cell_at(self, facet: str, u: float, v: float) -> int:
        """Return the cell of a facet that holds a point."""
        grid = self.lattice.grids[facet]
        i = int(np.clip(np.searchsorted(grid.u, u, "right") - 1, 0, grid.shape[0] - 1))
        j = int(np.clip(np.searchsorted(grid.v, v, "right") - 1, 0, grid.shape[1] - 1))
        return int(grid.numbers[i, j])

    def _stack(self, cell: int) -> Stack:
        return self.lattice.stacks[self.lattice.stack_of[cell]]

    def through(self, fastener: Fastener) -> None:
        """Let water along a fastener, through every sheet that lay there when it was driven."""
        grid = self.lattice.grids[fastener.facet]
        z = float(grid.heights(np.array([fastener.u]), np.array([fastener.v]))[0])
        outer = self.cell_at(fastener.facet, fastener.u, fastener.v)
        hole = self._down(outer, fastener)
        mount = next((m for m in self.lattice.dressing.complex.mounts if m.name == fastener.through), None)
        if mount is not None:
            wall = self.cell_at(mount.facet, fastener.u, fastener.v)
            hole += [(state, fastener.sealed) for state, _ in self._down(wall, fastener)[1:2]]
            hole += self._down(wall, fastener)[2:]
        self._hole(hole, z, (fastener.u, fastener.v))

    def _down(self, cell: int, fastener: Fastener) -> list[tuple[int, bool]]:
        """Return the states along a fastener from the open to the wood, and whether the way in is sealed."""
        found = [(int(self.first[cell]) + len(self._stack(cell)), False)]
        for k in reversed(range(len(self._stack(cell)))):
            sheet, panel = self.lattice.panels[self._stack(cell)[k]]
            laid = sheet.laid if panel.laid is None else panel.laid
            pierced = laid <= fastener.laid
            seals = sheet.stock.self_seals or fastener.sealed or not pierced
            found.append((int(self.first[cell]) + k, seals and sheet.kind != Kind.MOUNT))
        return found

    def _hole(self, states_: list[tuple[int, bool]], z: float, at: tuple[float, float]) -> None:
        """Let water from every state along a hole to every other one, but past what seals it.

        In a hole water goes straight through, whatever the layers between hold to.
        """
        for place, (one, _) in enumerate(states_):
            for other, seals in states_[place + 1 :]:
                self._point(one, other, z, at, sealed=seals)
                if seals:
                    break

    def at_corners(self, at_corners: dict[str, tuple[AtCorner, ...]]) -> None:
        """Let water through every sheet that does not hold a corner point inside it."""
        for z, cell, gone, at in pinholes(self.lattice, at_corners):
            whole = [k not in gone for k in range(len(self._stack(cell)))]
            base = int(self.first[cell])
            top = [(base + len(whole), False)]
            self._hole(top + [(base + k, whole[k]) for k in reversed(range(len(whole)))], z, at)

    def spot(self, facet: str, u: float, v: float) -> int:
        """Return the state under the unit at a point: where its own weak spot lets water in."""
        cell = self.cell_at(facet, u, v)
        stack = self._stack(cell)
        kinds = [self.lattice.panels[place][0].kind for place in stack]
        under = kinds.index(Kind.UNIT) if Kind.UNIT in kinds else len(stack)
        return int(self.first[cell]) + under

    def portals(self) -> Portals:
        """Return all ways collected."""
        sealed = [np.full(len(part[0]), n in self.sealed) for n, part in enumerate(self.parts)]
        columns = [np.concatenate(column) for column in zip(*self.parts, strict=True)]
        kinds = (np.intp, np.intp, float, float, np.bool_, np.bool_, np.intp, np.intp, float, float)
        typed: list[Any] = [column.astype(kind) for column, kind in zip(columns, kinds, strict=True)]
        typed.append(np.concatenate(sealed))
        return Portals(*typed)


SIDES = {("u", 1): 0, ("u", -1): 1, ("v", 1): 2, ("v", -1): 3}


def _side(edge: Edge, side: int) -> int:
    """Return which edge of its cells lies on a line: the cells lie above it (1) or below it (-1)."""
    return SIDES[edge.across, side]


def _edges(count: int, sides: tuple[int, int]) -> tuple[Ints, Ints, Floats, Floats]:
    nowhere = np.full(count, np.nan)
    return np.full(count, sides[0]), np.full(count, sides[1]), nowhere, nowhere


def _clean(portals: Portals, open_air: Bools, inside: Bools) -> Portals:
    """Put WEATHER for states in the open, and drop ways inside a unit or between two open states."""
    one, other = (_to_weather(side, open_air) for side in (portals.one, portals.other))
    dead = _inside(portals.one, inside) | _inside(portals.other, inside)
    keep = ~dead & ~((one < 0) & (other == WEATHER))
    clear = replace(portals, one=one, other=other).rows(keep)
    return clear.turned(clear.one < 0)


def _to_weather(side: Ints, open_air: Bools) -> Ints:
    state = np.where(side < 0, 0, side)
    return np.where((side >= 0) & open_air[state], WEATHER, side)


def _inside(side: Ints, inside: Bools) -> Bools:
    found: Bools = (side >= 0) & inside[np.where(side < 0, 0, side)]
    return found
