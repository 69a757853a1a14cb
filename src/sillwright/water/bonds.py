"""Inches of bond on the way of water, measured on small cells.

Water driven by a head can stand no higher than that head above where it came in, its cap. A cheap way in low
down and a dear one higher up both count, so a state may be reached at several costs, each with its own cap.
Caps are taken from the highest down: a way at a lower cap is worth following only where it is cheaper than
every way at a higher one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sillwright.water.flow import Arrivals, Flow, arrivals, at
from sillwright.water.lattice import Floats, Ints, lattice
from sillwright.water.places import Places, goal_places, places
from sillwright.water.states import ROOM, WEATHER, States, states

NEVER = math.inf
RUNG = 2.0
"""Caps and heights are compared on a ladder of all heights of the large cells, with no gap wider than this."""
HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Graph:
    """Ways between nodes, sorted by their tails: those of node n are rows starts[n] to starts[n + 1].

    States without a bond in one large cell share a node, for there is nothing to measure; every place to
    be kept dry is a node, from which nothing leads on.
    """

    starts: Ints
    ends: Ints
    inches: Floats
    rung: Ints
    """The rung of the ladder that the water must reach to pass."""
    entry: Ints
    """Nodes where water comes in; a node may stand here often."""
    entry_inches: Floats
    entry_cap: Ints
    entry_state: Ints
    """The state where it comes in."""
    entry_falls: NDArray[np.bool_]
    ladder: Floats
    first_place: int
    """The node of the first place."""

    @property
    def size(self) -> int:
        """Return the number of nodes."""
        return len(self.starts) - 1


@dataclass(frozen=True, slots=True)
class Labels:
    """Ways found, newest last: each reaches a node from an earlier one."""

    node: Ints
    inches: Floats
    parent: Ints
    """Of a label; negative: -1 - the row of the entry."""
    best: Ints
    """The label of least inches at every node; -1: not reached."""

    def chain(self, label: int) -> list[int]:
        """Return the labels from the entry to a label."""
        chain = [label]
        while self.parent[chain[-1]] >= 0:
            chain.append(int(self.parent[chain[-1]]))
        return chain[::-1]


@dataclass(frozen=True, slots=True)
class Bonds:
    """The inches of bond that a head of water has to cross to every place."""

    states: States
    places: Places
    graph: Graph
    labels: Labels
    state_of_node: Ints

    def inches(self, place: int) -> float:
        """Return the least inches of bond on any way to a place; inf: there is no way."""
        label = self.labels.best[self.graph.first_place + place]
        return float(self.labels.inches[label]) if label >= 0 else NEVER


def bonds(coarse: Flow, head_in_water: float, cell_in: float, limit_in: float = NEVER) -> Bonds:
    """Return the least inches of bond on the way to every place that a head of water reaches.

    Args:
        coarse:   the same wall on large cells
        cell_in:  no cell is longer than this, inches
        limit_in: ways across more bond than this are not looked for
    """
    fine = states(lattice(coarse.states.lattice.dressing, cell_in))
    named = places(fine.lattice)
    graph, state_of_node = bond_graph(coarse, fine, named, head_in_water)
    return Bonds(fine, named, graph, least_bond(graph, limit_in), state_of_node)


def bond_graph(coarse: Flow, fine: States, named: Places, head_in_water: float) -> tuple[Graph, Ints]:
    """Return the graph of a wall on small cells, and a state of each of its nodes."""
    node, state_of_node = _nodes(fine, large_state(coarse.states, fine), len(coarse.states.cell))
    ladder = _ladder(coarse)
    tails, ends, inches, low = (
        np.concatenate(parts) for parts in zip(*_ways(fine, named, node, len(state_of_node)), strict=True)
    )
    apart = tails != ends
    tails, ends, inches, low = tails[apart], ends[apart], inches[apart], low[apart]
    order = np.argsort(tails, kind="stable")
    size = len(state_of_node) + 2 * len(named.names)
    entry, entry_inches, height, state, falls = _entries(fine, named, node, len(state_of_node))
    return (
        Graph(
            np.searchsorted(tails[order], np.arange(size + 1)),
            ends[order],
            inches[order],
            _rungs(ladder, low[order]),
            entry,
            entry_inches,
            _rungs(ladder, height + head_in_water),
            state,
            falls,
            ladder,
            len(state_of_node),
        ),
        state_of_node,
    )


def _nodes(fine: States, large: Ints, count: int) -> tuple[Ints, Ints]:
    """Number the nodes: a bonded state has its own, the others share that of their large cell."""
    raw = np.where(fine.bonded, count + np.arange(len(large)), large)
    _, state_of_node, node = np.unique(raw, return_index=True, return_inverse=True)
    return node, state_of_node


def _ladder(coarse: Flow) -> Floats:
    portals = coarse.states.portals
    marks = np.unique(np.round(np.concatenate([portals.low, portals.high]), 9))
    steps = np.arange(marks[0], marks[-1], RUNG)
    return np.unique(np.concatenate([marks, steps]))


def _rungs(ladder: Floats, heights: Floats) -> Ints:
    return np.searchsorted(ladder, heights + 1e-8, "right") - 1


Columns = tuple[Ints, Ints, Floats, Floats]


def _ways(fine: States, named: Places, node: Ints, first_place: int) -> list[Columns]:
    """Return tails, ends, inches of bond and lowest points of all ways between nodes."""
    portals = fine.portals
    rows = np.flatnonzero(~portals.sealed & (portals.one >= 0) & (portals.other >= 0))
    one, other, low = portals.one[rows], portals.other[rows], portals.low[rows]
    inches = portals.across[rows] * fine.bonded[one] + portals.beyond[rows] * fine.bonded[other]
    a, b = node[one], node[other]
    p, q, length, height = _diagonals(fine)
    goals = arrivals(fine)
    inside = np.flatnonzero(goals.source >= 0)
    place = first_place + goal_places(fine, goals.source, goals.goal, named)[inside]
    source = goals.source[inside]
    step = goals.step[inside] * fine.bonded[source]
    return [
        (a, b, inches, low),
        (b, a, inches, low),
        (node[p], node[q], length, height),
        (node[q], node[p], length, height),
        (node[source], place, step, goals.low[inside]),
    ]


def _entries(
    fine: States, named: Places, node: Ints, first_place: int
) -> tuple[Ints, Floats, Floats, Ints, NDArray[np.bool_]]:
    """Return the nodes where water comes in, the bond up to their middle, heights, states, and falls."""
    portals, goals = fine.portals, arrivals(fine)
    rows = np.flatnonzero(~portals.sealed & (portals.other == WEATHER) & (portals.one >= 0))
    one = portals.one[rows]
    direct = np.flatnonzero(goals.source == WEATHER)
    place = first_place + goal_places(fine, goals.source, goals.goal, named)[direct]
    state = np.where(goals.goal[direct] == ROOM, 0, goals.goal[direct])
    return (
        np.concatenate([node[one], node[fine.spots], place]),
        np.concatenate([portals.across[rows] * fine.bonded[one], np.zeros(len(fine.spots) + len(place))]),
        np.concatenate([portals.high[rows], fine.middle[fine.spots], goals.high[direct]]),
        np.concatenate([one, fine.spots, state]),
        np.concatenate([portals.back[rows], np.ones(len(fine.spots), np.bool_), goals.falls[direct]]),
    )


def large_state(coarse: States, fine: States) -> Ints:
    """Return the state on the large cells that holds each state on the small ones."""
    cell = np.zeros(len(fine.lattice.stack_of), np.intp)
    for name, grid in fine.lattice.grids.items():
        large = coarse.lattice.grids[name]
        i, j = (
            np.searchsorted(big, (small[1:] + small[:-1]) / 2) - 1
            for big, small in ((large.u, grid.u), (large.v, grid.v))
        )
        cell[grid.numbers] = large.numbers[i[:, None], j[None, :]]
    return coarse.first[cell[fine.cell]] + fine.interface


def _diagonals(fine: States) -> Columns:
    """Return the ways from cell to cell across a corner, where the same sheets lie on all four cells."""
    depth = max((len(stack) for stack in fine.lattice.stacks), default=0) + 1
    one, other, length, height = [], [], [], []
    for grid in fine.lattice.grids.values():
        if min(grid.shape) < 2:
            continue
        cells = grid.numbers
        stack = fine.lattice.stack_of[cells]
        alike = (stack[1:, 1:] == stack[:-1, :-1]) & (stack[1:, 1:] == stack[:-1, 1:])
        alike &= (stack[1:, 1:] == stack[1:, :-1]) & (stack[1:, 1:] >= 0)
        du, dv = (grid.u[2:] - grid.u[:-2]) / 2, (grid.v[2:] - grid.v[:-2]) / 2
        long = np.hypot(du[:, None], dv[None, :])
        for a, b in ((cells[:-1, :-1], cells[1:, 1:]), (cells[1:, :-1], cells[:-1, 1:])):
            first, second, far = a[alike], b[alike], long[alike]
            for i in range(depth):
                deep = fine.lattice.count[first] >= i
                p, q = fine.first[first[deep]] + i, fine.first[second[deep]] + i
                held = fine.bonded[p]
                one.append(p[held])
                other.append(q[held])
                length.append(far[deep][held])
                height.append(np.minimum(fine.middle[p], fine.middle[q])[held])
    nothing: NDArray[np.intp] = np.zeros(0, np.intp)
    return (
        np.concatenate([nothing, *one]),
        np.concatenate([nothing, *other]),
        np.concatenate([np.zeros(0), *length]),
        np.concatenate([np.zeros(0), *height]),
    )


def least_bond(graph: Graph, limit_in: float = NEVER) -> Labels:
    """Return the ways of least bond to every node, at falling caps."""
    search = _Search(graph, limit_in)
    for cap in np.unique(graph.entry_cap)[::-1]:
        front = search.enter(np.flatnonzero(graph.entry_cap == cap))
        while len(front):
            front = search.spread(front, int(cap))
    return search.labels()


class _Search:
    """All fronts of water, grown one ring of nodes at a time."""

    def __init__(self, graph: Graph, limit_in: float) -> None:
        self.graph, self.limit = graph, limit_in
        self.least = np.full(graph.size, NEVER)
        self.best = np.full(graph.size, -1, np.intp)
        self.node: list[Ints] = []
        self.inches: list[Floats] = []
        self.parent: list[Ints] = []
        self.count = 0

    def enter(self, rows: Ints) -> Ints:
        """Let water in at rows of the entries; return the new labels."""
        return self._keep(self.graph.entry[rows], self.graph.entry_inches[rows], -1 - rows)

    def spread(self, front: Ints, cap: int) -> Ints:
        """Return the labels that follow from those of the front, where they are better than what is known."""
        graph = self.graph
        nodes = self.node[-1]
        sizes = graph.starts[nodes + 1] - graph.starts[nodes]
        rows = np.repeat(graph.starts[nodes] - np.cumsum(sizes) + sizes, sizes) + np.arange(sizes.sum())
        passable = graph.rung[rows] <= cap
        rows, tails = rows[passable], np.repeat(np.arange(len(nodes)), sizes)[passable]
        return self._keep(graph.ends[rows], self.inches[-1][tails] + graph.inches[rows], front[tails])

    def _keep(self, node: Ints, inches: Floats, parent: Ints) -> Ints:
        better = (inches < self.least[node] - HAIR) & (inches <= self.limit)
        node, inches, parent = node[better], inches[better], parent[better]
        order = np.lexsort((inches, node))
        node, inches, parent = node[order], inches[order], parent[order]
        first = np.concatenate([[True], node[1:] != node[:-1]]) if len(node) else np.zeros(0, np.bool_)
        node, inches, parent = node[first], inches[first], parent[first]
        fresh = self.count + np.arange(len(node))
        self.least[node], self.best[node] = inches, fresh
        self.node.append(node)
        self.inches.append(inches)
        self.parent.append(parent)
        self.count += len(node)
        return fresh

    def labels(self) -> Labels:
        """Return all labels."""
        nothing = np.zeros(0, np.intp)
        return Labels(
            np.concatenate([nothing, *self.node]),
            np.concatenate([np.zeros(0), *self.inches]),
            np.concatenate([nothing, *self.parent]),
            self.best,
        )
