"""What water does in a dressed wall: where it runs by its weight, and where a head of water drives it.

Two graphs of the same wall answer. On the large cells, cut only where sheets end, lie the heads: they need no
more, for a way up depends on edges alone. On small cells lie the inches of bond: they are lengths.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array
from scipy.sparse.csgraph import breadth_first_order, dijkstra

from sillwright.water.heads import least_heads
from sillwright.water.lattice import Floats, Ints, lattice
from sillwright.water.model import Dressing
from sillwright.water.states import ROOM, WEATHER, Bools, Portals, States, states

NEVER = math.inf


@dataclass(frozen=True, slots=True)
class Arrivals:
    """Where water reaches wood, or the room: rows of the portals of a graph, turned to face their goal."""

    source: Ints
    """The state before the last step, or WEATHER."""
    goal: Ints
    """The state on wood, or ROOM."""
    low: Floats
    high: Floats
    falls: Bools
    """Does water take the step by its weight alone?"""
    step: Floats
    """Inches from the middle of the source's cell to its edge."""
    portal: Ints


def arrivals(states_: States) -> Arrivals:
    """Return every way from somewhere else onto wood that must stay dry, or into the room."""
    portals = states_.portals
    wood_one, wood_other = _wood(states_, portals.one), _wood(states_, portals.other)
    on = np.flatnonzero(~portals.sealed & wood_other & ~wood_one)
    off = np.flatnonzero(~portals.sealed & wood_one & ~wood_other)
    rows = np.concatenate([on, off])
    turned = np.arange(len(rows)) >= len(on)
    return Arrivals(
        np.where(turned, portals.other[rows], portals.one[rows]),
        np.where(turned, portals.one[rows], portals.other[rows]),
        portals.low[rows],
        portals.high[rows],
        np.where(turned, portals.back[rows], portals.there[rows]),
        np.where(turned, portals.beyond[rows], portals.across[rows]),
        rows,
    )


def _wood(states_: States, side: Ints) -> Bools:
    on: Bools = np.where(side >= 0, states_.on_wood[np.maximum(side, 0)], side == ROOM)
    return on


@dataclass(frozen=True)
class Flow:
    """The water in a dressed wall, on the large cells."""

    states: States

    @cached_property
    def goals(self) -> Arrivals:
        """Return where water could reach wood or the room."""
        return arrivals(self.states)

    @cached_property
    def _free(self) -> Bools:
        """Return which portals cross no bond on either side."""
        portals, bonded = self.states.portals, self.states.bonded
        return ~portals.sealed & ~_at(bonded, portals.one) & ~_at(bonded, portals.other)

    def falls(self, *, free: bool) -> Bools:
        """Tell which goals water reaches by its weight alone, across no bond at all or across any."""
        portals, size = self.states.portals, len(self.states.cell)
        rows = np.flatnonzero(self._free if free else ~portals.sealed)
        one, other = portals.one[rows], portals.other[rows]
        there, back = portals.there[rows], portals.back[rows]
        tails = np.concatenate([one[there], other[back]])
        ends = np.concatenate([other[there], one[back]])
        sources = self.states.spots if not free else self.states.spots
        tails = np.concatenate([np.where(tails == WEATHER, size, tails), np.full(len(sources), size)])
        ends = np.concatenate([ends, sources])
        real = (ends >= 0) & (tails >= 0)
        graph = _sparse(tails[real], ends[real], np.ones(int(real.sum())), size + 1)
        wet = np.zeros(size + 1, np.bool_)
        wet[breadth_first_order(graph, size, return_predecessors=False)] = True
        goals = self.goals
        start_bonded = _at(self.states.bonded, goals.source) if free else np.False_
        reached = np.where(goals.source == WEATHER, True, wet[np.maximum(goals.source, 0)])
        found: Bools = reached & goals.falls & ~start_bonded
        return found

    def heads(self, *, free: bool) -> Floats:
        """Return the least head in inches that brings water to each goal, inf if none does."""
        portals, goals, size = self.states.portals, self.goals, len(self.states.cell)
        keep = (self._free if free else ~portals.sealed) & (portals.other >= 0) & (portals.one >= 0)
        leaves = size + np.arange(len(goals.goal))
        open_way = ~_at(self.states.bonded, goals.source) if free else np.ones(len(leaves), np.bool_)
        into = (goals.source >= 0) & open_way
        ways = (
            np.concatenate([portals.one[keep], goals.source[into]]),
            np.concatenate([portals.other[keep], leaves[into]]),
            np.concatenate([portals.low[keep], goals.low[into]]),
        )
        rained = (portals.other == WEATHER) & (portals.one >= 0) & (self._free if free else ~portals.sealed)
        direct = goals.source == WEATHER
        entries = (
            np.concatenate([portals.one[rained], self.states.spots, leaves[direct]]),
            np.concatenate([portals.high[rained], self.states.middle[self.states.spots], goals.high[direct]]),
        )
        head, _ = least_heads(size + len(leaves), ways, entries)
        return head[leaves]

    def reached(self, head_in_water: float) -> Bools:
        """Tell which states a head of water reaches at all, through any bond."""
        portals, size = self.states.portals, len(self.states.cell)
        keep = ~portals.sealed & (portals.other >= 0) & (portals.one >= 0)
        rained = ~portals.sealed & (portals.other == WEATHER) & (portals.one >= 0)
        ways = portals.one[keep], portals.other[keep], portals.low[keep]
        entries = (
            np.concatenate([portals.one[rained], self.states.spots]),
            np.concatenate([portals.high[rained], self.states.middle[self.states.spots]]),
        )
        head, _ = least_heads(size, ways, entries)
        return head <= head_in_water + 1e-9


def flow(dressing: Dressing) -> Flow:
    """Return what water does in a dressed wall."""
    return Flow(states(lattice(dressing)))


def _at(flags: Bools, side: Ints) -> Bools:
    found: Bools = np.where(side >= 0, flags[np.maximum(side, 0)], False)
    return found


def _sparse(tails: Ints, ends: Ints, weights: Floats, size: int) -> csr_array:
    """Return a graph whose repeated ways stay apart: adding them up would lengthen them."""
    order = np.argsort(tails, kind="stable")
    starts = np.searchsorted(tails[order], np.arange(size + 1))
    return csr_array(
        (weights[order], ends[order].astype(np.int32), starts.astype(np.int32)), shape=(size, size)
    )


@dataclass(frozen=True)
class Bonds:
    """The inches of bond that water has to cross to each state, on small cells, below a head."""

    states: States
    """On the small cells."""
    node: Ints
    """Of each state: states without a bond in one large cell share theirs, for there is nothing to measure."""
    dist: Floats
    """Of each node, inches."""
    before: Ints
    """The node that the shortest way comes from; negative at a source."""
    goals: Arrivals
    inches: Floats
    """Of each goal."""


def bonds(coarse: Flow, head_in_water: float, cell_in: float, limit_in: float = NEVER) -> Bonds:
    """Return the least inches of bond on the way to every goal that a head of water reaches.

    Args:
        coarse:   the same wall on large cells
        cell_in:  no cell is longer than this, inches
        limit_in: ways across more bond than this are not looked for
    """
    fine = states(lattice(coarse.states.lattice.dressing, cell_in))
    graph = cost_graph(coarse, fine, head_in_water)
    dist, before = shortest(graph, limit_in)
    goals = arrivals(fine)
    allowed = coarse.reached(head_in_water)[large_state(coarse.states, fine)]
    step = goals.step * _at(fine.bonded, goals.source)
    node = np.where(goals.source >= 0, graph.node[np.maximum(goals.source, 0)], 0)
    inches = np.where(goals.source == WEATHER, 0.0, dist[node] + step)
    usable = (goals.source == WEATHER) | _at(allowed, goals.source)
    return Bonds(fine, graph.node, dist, before, goals, np.where(usable, inches, NEVER))


@dataclass(frozen=True, slots=True)
class CostGraph:
    """A directed graph whose weights are inches of bond; its last node is the weather."""

    node: Ints
    tails: Ints
    ends: Ints
    weights: Floats
    size: int


def cost_graph(coarse: Flow, fine: States, head_in_water: float) -> CostGraph:
    """Return the graph in which the shortest way is the least bond, for the states that the head reaches."""
    large = large_state(coarse.states, fine)
    allowed = coarse.reached(head_in_water)[large]
    count = len(coarse.states.cell)
    node = np.where(fine.bonded, count + np.arange(len(large)), large)
    used = np.unique(node[allowed & ~fine.open_air & ~fine.inside])
    node = np.searchsorted(used, node).clip(0, max(len(used) - 1, 0))
    portals = fine.portals
    rows = np.flatnonzero(~portals.sealed & (portals.one >= 0) & (portals.other != ROOM))
    rows = rows[
        _at(allowed, portals.one[rows]) & ((portals.other[rows] < 0) | _at(allowed, portals.other[rows]))
    ]
    one, other = portals.one[rows], portals.other[rows]
    weight = portals.across[rows] * _at(fine.bonded, one) + portals.beyond[rows] * _at(fine.bonded, other)
    size = len(used)
    a = node[one]
    b = np.where(other == WEATHER, size, node[np.maximum(other, 0)])
    two_way = other != WEATHER
    diagonal = _diagonals(fine, allowed)
    d, e = node[diagonal[0]], node[diagonal[1]]
    spots = node[fine.spots]
    tails = np.concatenate([b, a[two_way], d, e, np.full(len(spots), size)])
    ends = np.concatenate([a, b[two_way], e, d, spots])
    weights = np.concatenate([weight, weight[two_way], diagonal[2], diagonal[2], np.zeros(len(spots))])
    apart = tails != ends
    return CostGraph(node, tails[apart], ends[apart], weights[apart], size + 1)


def shortest(graph: CostGraph, limit_in: float = NEVER) -> tuple[Floats, Ints]:
    """Return the least weight from the weather to every node, and the node before it."""
    matrix = _sparse(graph.tails, graph.ends, graph.weights, graph.size)
    dist, before = dijkstra(matrix, indices=graph.size - 1, return_predecessors=True, limit=limit_in)
    return dist, before


def large_state(coarse: States, fine: States) -> Ints:
    """Return the state on the large cells that holds each state on the small ones."""
    cell = np.zeros(len(fine.lattice.stack_of), np.intp)
    for name, grid in fine.lattice.grids.items():
        large = coarse.lattice.grids[name]
        i, j = (
            np.searchsorted(big, (small[1:] + small[:-1]) / 2) - 1
            for big, small in ((large.u, grid.u), (large.v, grid.v))
        )
        cell[grid.numbers()] = large.numbers()[i[:, None], j[None, :]]
    return coarse.first[cell[fine.cell]] + fine.interface


def _diagonals(fine: States, allowed: Bools) -> tuple[Ints, Ints, Floats]:
    """Return the ways from cell to cell across a corner, where the same sheets lie on all four cells."""
    depth = max((len(stack) for stack in fine.lattice.stacks), default=0) + 1
    one, other, length = [], [], []
    for grid in fine.lattice.grids.values():
        if min(grid.shape) < 2:
            continue
        cells = grid.numbers()
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
                held = fine.bonded[p] & allowed[p] & allowed[q]
                one.append(p[held])
                other.append(q[held])
                length.append(far[deep][held])
    nothing: NDArray[np.intp] = np.zeros(0, np.intp)
    return (
        np.concatenate([nothing, *one]),
        np.concatenate([nothing, *other]),
        np.concatenate([np.zeros(0), *length]),
    )


__all__ = [
    "Arrivals",
    "Bonds",
    "CostGraph",
    "Flow",
    "Portals",
    "arrivals",
    "bonds",
    "cost_graph",
    "flow",
    "shortest",
]
