"""Inches of bond on the way of water, measured on small cells.

Water driven by a head can stand no higher than that head above where it came in, its cap. A cheap way in low
down and a dear one higher up both count, so a node may be reached at several costs, each with its own cap.
Caps are taken from the highest down: a way at a lower cap is worth following only where it is cheaper than
every way at a higher one.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sillwright.water.flow import Flow
from sillwright.water.lattice import Bools, Floats, Ints
from sillwright.water.places import Places, goal_places
from sillwright.water.states import POINT, WEATHER, Portals, States

NEVER = math.inf
RUNGS = 0.25, 2.0
"""Caps and heights are compared on a ladder of the heights of portals, its rungs so far apart, inches.

Between two rungs water may stand higher than its cap: the bond found is then the less.
"""
HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class Blocks:
    """The nodes of a wall: a state with a bond is cut into small cells, one without is a node as it is.

    Without a bond there is nothing to measure.
    """

    first: Ints
    """The first node of every state; that of small cell (i, j) is first + i * across_v + j."""
    across_u: Ints
    """How many small cells along u."""
    across_v: Ints
    state: Ints
    """Of every node."""
    i: Ints
    j: Ints
    size: Floats
    """Length of the small cells of every state along u and v, inches; 0 where there is no bond."""

    def at_edge(self, state: Ints, side: Ints, place: Ints) -> Ints:
        """Return the nodes along an edge of states; `place` counts along it."""
        i = np.where(side == 0, 0, np.where(side == 1, self.across_u[state] - 1, place))
        j = np.where(side == 2, 0, np.where(side == 3, self.across_v[state] - 1, place))
        whole = self.across_u[state] * self.across_v[state] == 1
        return self.first[state] + np.where(whole, 0, i * self.across_v[state] + j)


@dataclass(frozen=True, slots=True)
class Graph:
    """Ways between nodes, sorted by their tails: those of node n are rows starts[n] to starts[n + 1].

    After the nodes of the wall come the places to be kept dry, from which nothing leads on.
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
    blocks: Blocks
    graph: Graph
    labels: Labels

    def inches(self, place: int) -> float:
        """Return the least inches of bond on any way to a place; inf: there is no way."""
        label = self.labels.best[self.graph.first_place + place]
        return float(self.labels.inches[label]) if label >= 0 else NEVER


def bonds(flow: Flow, named: Places, head_in_water: float, cell_in: float, limit_in: float = NEVER) -> Bonds:
    """Return the least inches of bond on the way to every place that a head of water reaches.

    No small cell is longer than `cell_in`; ways across more bond than `limit_in` are not looked for.
    """
    blocks = cut(flow.states, cell_in)
    graph = bond_graph(flow, named, blocks, head_in_water)
    return Bonds(flow.states, named, blocks, graph, least_bond(graph, limit_in))


def cut(states: States, cell_in: float) -> Blocks:
    """Return the small cells of all states with a bond."""
    size = states.size[states.cell]
    steps = np.maximum(np.ceil(size / cell_in - HAIR), 1).astype(np.intp)
    steps[~states.bonded | states.inside | states.open_air] = 1
    across_u, across_v = steps[:, 0], steps[:, 1]
    many = across_u * across_v
    first = np.cumsum(many) - many
    state = np.repeat(np.arange(len(many)), many)
    i, j = np.divmod(np.arange(len(state)) - first[state], across_v[state])
    return Blocks(first, across_u, across_v, state, i, j, np.where(states.bonded[:, None], size / steps, 0.0))


Columns = tuple[Ints, Ints, Floats, Floats]


def bond_graph(flow: Flow, named: Places, blocks: Blocks, head_in_water: float) -> Graph:
    """Return the graph of a wall whose shortest ways are those of least bond."""
    states, first_place = flow.states, len(blocks.state)
    size = first_place + 2 * len(named.names)
    inside = states.portals.rows(~states.portals.sealed & (states.portals.one >= 0))
    between = _small(inside.rows(inside.other >= 0), states, blocks)
    goals = flow.goals
    place = first_place + goal_places(states, goals.source, goals.goal, named)
    onto = _small(goals.ways.rows(goals.source >= 0), states, blocks)
    a, b, half, beyond, low = (between.one, between.other, between.half_one, between.half_other, between.low)
    columns: list[Columns] = [
        (a, b, half + beyond, low),
        (b, a, half + beyond, low),
        *_within_blocks(states, blocks),
        (onto.one, place[goals.source >= 0][onto.row], onto.half_one, onto.low),
    ]
    tails, ends, inches, low = (np.concatenate(parts) for parts in zip(*columns, strict=True))
    order = np.argsort(tails, kind="stable")
    ladder = _ladder(states.portals)
    entry = _small(inside.rows(inside.other == WEATHER), states, blocks)
    direct = np.flatnonzero(goals.source == WEATHER)
    height = np.concatenate([entry.high, states.middle[states.spots], goals.high[direct]])
    nothing = np.zeros(len(states.spots) + len(direct))
    return Graph(
        np.searchsorted(tails[order], np.arange(size + 1)),
        ends[order],
        inches[order],
        _rungs(ladder, low[order]),
        np.concatenate([entry.one, blocks.first[states.spots], place[direct]]),
        np.concatenate([entry.half_one, nothing]),
        _rungs(ladder, height + head_in_water),
        np.concatenate([blocks.state[entry.one], states.spots, np.maximum(goals.goal[direct], 0)]),
        first_place,
    )


def _ladder(portals: Portals) -> Floats:
    marks = np.unique(np.concatenate([portals.low, portals.high]))
    steps = np.floor((marks - marks[0]) / RUNGS[0])
    marks = marks[np.concatenate([[True], np.diff(steps) > 0])]
    return np.unique(np.concatenate([marks, np.arange(marks[0], marks[-1], RUNGS[1])]))


def _rungs(ladder: Floats, heights: Floats) -> Ints:
    return np.searchsorted(ladder, heights + 1e-8, "right") - 1


@dataclass(frozen=True, slots=True)
class _Small:
    """Portals cut along the small cells beside them."""

    row: Ints
    """Of the portals."""
    one: Ints
    """Nodes."""
    other: Ints
    half_one: Floats
    """Inches of bond from the middle of the small cell to the portal."""
    half_other: Floats
    low: Floats
    high: Floats


def _small(portals: Portals, states: States, blocks: Blocks) -> _Small:
    other = np.maximum(portals.other, 0)
    pieces = np.maximum(
        _pieces(portals.one, portals.side_one, blocks),
        np.where(portals.other >= 0, _pieces(other, portals.side_other, blocks), 1),
    )
    row = np.repeat(np.arange(len(pieces)), pieces)
    place = np.arange(len(row)) - np.repeat(np.cumsum(pieces) - pieces, pieces)
    along = portals.rows(row)
    lower, upper = (along.start + (along.end - along.start) * (place + end) / pieces[row] for end in (0, 1))
    one, half_one = _nodes(along.one, along.side_one, along, place, states, blocks)
    there, half_other = _nodes(np.maximum(along.other, 0), along.side_other, along, place, states, blocks)
    return _Small(row, one, there, half_one, half_other, np.minimum(lower, upper), np.maximum(lower, upper))


def _pieces(state: Ints, side: Ints, blocks: Blocks) -> Ints:
    along = np.where(side <= 1, blocks.across_v[state], blocks.across_u[state])
    return np.where(side == POINT, 1, along)


def _nodes(
    state: Ints, side: Ints, portals: Portals, place: Ints, states: States, blocks: Blocks
) -> tuple[Ints, Floats]:
    """Return the nodes at portals, and the inches of bond from their middles."""
    node = blocks.at_edge(state, side, place)
    half = np.where(side <= 1, blocks.size[state, 0], blocks.size[state, 1]) / 2
    points = np.flatnonzero(side == POINT)
    for row in points:
        node[row], half[row] = _at_point(
            int(state[row]), float(portals.u[row]), float(portals.v[row]), states, blocks
        )
    return node, half


def _at_point(state: int, u: float, v: float, states: States, blocks: Blocks) -> tuple[int, float]:
    """Return the node of a state that holds a point, and how far its middle is."""
    if not states.bonded[state]:
        return int(blocks.first[state]), 0.0
    u0, v0 = states.lattice.origin(int(states.cell[state]))
    du, dv = blocks.size[state]
    s, t = (u - u0) / du, (v - v0) / dv
    i = min(max(int(s), 0), int(blocks.across_u[state]) - 1)
    j = min(max(int(t), 0), int(blocks.across_v[state]) - 1)
    far = math.hypot((s - i - 0.5) * du, (t - j - 0.5) * dv)
    return int(blocks.first[state] + i * blocks.across_v[state] + j), far


def _within_blocks(states: States, blocks: Blocks) -> list[Columns]:
    """Return the ways between the small cells of each state: to the next ones, and across corners."""
    node = np.arange(len(blocks.state))
    u, v = blocks.across_u[blocks.state], blocks.across_v[blocks.state]
    du, dv = blocks.size[blocks.state].T
    height = _heights(states, blocks)
    found: list[Columns] = []
    for along, up in ((1, 0), (0, 1), (1, 1), (1, -1)):
        there = (blocks.i + along < u) & (blocks.j + up < v) & (blocks.j + up >= 0)
        one = node[there]
        other = one + along * v[there] + up
        far = np.hypot(along * du[there], up * dv[there])
        low = np.minimum(height[one], height[other])
        found += [(one, other, far, low), (other, one, far, low)]
    return found


def _heights(states: States, blocks: Blocks) -> Floats:
    """Return the heights of the middles of all nodes."""
    s = (blocks.i + 0.5) / blocks.across_u[blocks.state]
    t = (blocks.j + 0.5) / blocks.across_v[blocks.state]
    a, b, c, d = states.corners[states.cell[blocks.state]].T
    height: Floats = (1 - s) * (1 - t) * a + s * (1 - t) * b + s * t * c + (1 - s) * t * d
    return height


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
        tails = np.repeat(np.arange(len(nodes)), sizes)
        passable = graph.rung[rows] <= cap
        rows, tails = rows[passable], tails[passable]
        return self._keep(graph.ends[rows], self.inches[-1][tails] + graph.inches[rows], front[tails])

    def _keep(self, node: Ints, inches: Floats, parent: Ints) -> Ints:
        better: Bools = (inches < self.least[node] - HAIR) & (inches <= self.limit)
        node, inches, parent = node[better], inches[better], parent[better]
        np.minimum.at(self.least, node, inches)
        best = inches <= self.least[node]
        node, place = np.unique(node[best], return_index=True)
        inches, parent = inches[best][place], parent[best][place]
        fresh = self.count + np.arange(len(node))
        self.best[node] = fresh
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
