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
    """The nodes of a wall: a state with a bond has one at every corner of its small cells, any other has one.

    Without a bond there is nothing to measure.
    """

    first: Ints
    """The first node of every state; that of corner (i, j) is first + i * (steps_v + 1) + j."""
    steps_u: Ints
    """How many small cells along u; 0 where there is no bond."""
    steps_v: Ints
    state: Ints
    """Of every node."""
    i: Ints
    j: Ints
    size: Floats
    """Length of the small cells of every state along u and v, inches; 0 where there is no bond."""

    def at_edge(self, state: Ints, side: Ints, place: Ints) -> Ints:
        """Return the nodes along an edge of states; `place` counts along it."""
        i = np.where(side == 0, 0, np.where(side == 1, self.steps_u[state], place))
        j = np.where(side == 2, 0, np.where(side == 3, self.steps_v[state], place))
        return self.first[state] + np.where(self.steps_u[state] > 0, i * (self.steps_v[state] + 1) + j, 0)

    def shares(self, node: Ints) -> tuple[Floats, Floats]:
        """Return how far along u and v of their cells nodes lie, 0 to 1; in the middle where is no bond."""
        state = self.state[node]
        steps_u, steps_v = self.steps_u[state], self.steps_v[state]
        middle = steps_u == 0
        s, t = (
            np.where(middle, 0.5, place / np.maximum(steps, 1))
            for place, steps in ((self.i[node], steps_u), (self.j[node], steps_v))
        )
        return s, t


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


def bonds(flow: Flow, named: Places, head_in_water: float, cell_in: float) -> Bonds:
    """Return the least inches of bond on the way to every place that a head of water reaches.

    No small cell is longer than `cell_in`.
    """
    blocks = cut(flow.states, cell_in)
    graph = bond_graph(flow, named, blocks, head_in_water)
    goals = goal_places(flow.states, flow.goals.source, flow.goals.goal, named)
    wet = np.unique(goals[flow.flood(free=False)[0] <= head_in_water + HAIR])
    return Bonds(flow.states, named, blocks, graph, least_bond(graph, graph.first_place + wet))


def cut(states: States, cell_in: float) -> Blocks:
    """Return the corners of the small cells of all states with a bond."""
    size = states.size[states.cell]
    steps = np.maximum(np.ceil(size / cell_in - HAIR), 1).astype(np.intp)
    steps[~states.bonded | states.inside | states.open_air] = 0
    steps_u, steps_v = steps[:, 0], steps[:, 1]
    many = (steps_u + 1) * (steps_v + 1)
    first = np.cumsum(many) - many
    state = np.repeat(np.arange(len(many)), many)
    i, j = np.divmod(np.arange(len(state)) - first[state], steps_v[state] + 1)
    return Blocks(first, steps_u, steps_v, state, i, j, np.where(steps > 0, size / np.maximum(steps, 1), 0.0))


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
    a, b, far, low = between.one, between.other, between.far_one + between.far_other, between.low
    columns: list[Columns] = [
        (a, b, far, low),
        (b, a, far, low),
        *_within_blocks(states, blocks),
        (onto.one, place[goals.source >= 0][onto.row], onto.far_one, onto.low),
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
        np.concatenate([entry.far_one, nothing]),
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
    """The nodes that meet in portals: those along an edge of a bond one by one, others as they are."""

    row: Ints
    """Of the portals."""
    one: Ints
    """Nodes."""
    other: Ints
    far_one: Floats
    """Inches of bond from the node to the portal: nothing, but where water passes through a point."""
    far_other: Floats
    low: Floats
    high: Floats


def _small(portals: Portals, states: States, blocks: Blocks) -> _Small:
    other = np.maximum(portals.other, 0)
    steps = np.maximum(
        _steps(portals.one, portals.side_one, blocks),
        np.where(portals.other >= 0, _steps(other, portals.side_other, blocks), 0),
    )
    row = np.repeat(np.arange(len(steps)), steps + 1)
    place = np.arange(len(row)) - np.repeat(np.cumsum(steps + 1) - steps - 1, steps + 1)
    along = portals.rows(row)
    share = place / np.maximum(steps, 1)[row]
    height = along.start + (along.end - along.start) * share
    one, far_one = _nodes(along.one, along.side_one, along, share, states, blocks)
    there, far_other = _nodes(np.maximum(along.other, 0), along.side_other, along, share, states, blocks)
    whole = steps[row] == 0
    low, high = (np.where(whole, end, height) for end in (along.low, along.high))
    return _Small(row, one, there, far_one, far_other, low, high)


def _steps(state: Ints, side: Ints, blocks: Blocks) -> Ints:
    along = np.where(side <= 1, blocks.steps_v[state], blocks.steps_u[state])
    return np.where(side == POINT, 0, along)


def _nodes(
    state: Ints, side: Ints, portals: Portals, share: Floats, states: States, blocks: Blocks
) -> tuple[Ints, Floats]:
    """Return the nodes at shares of portals, and the inches of bond from there."""
    steps = _steps(state, side, blocks)
    place = np.rint(share * steps).astype(np.intp)
    size = np.where(side <= 1, blocks.size[state, 1], blocks.size[state, 0])
    node, far = blocks.at_edge(state, side, place), np.abs(share * steps - place) * size
    for row in np.flatnonzero(side == POINT):
        node[row], far[row] = _at_point(
            int(state[row]), float(portals.u[row]), float(portals.v[row]), states, blocks
        )
    return node, far


def _at_point(state: int, u: float, v: float, states: States, blocks: Blocks) -> tuple[int, float]:
    """Return the node of a state nearest to a point, and how far it is."""
    if blocks.steps_u[state] == 0:
        return int(blocks.first[state]), 0.0
    u0, v0 = states.lattice.origin(int(states.cell[state]))
    du, dv = blocks.size[state]
    s, t = (u - u0) / du, (v - v0) / dv
    i = min(max(round(s), 0), int(blocks.steps_u[state]))
    j = min(max(round(t), 0), int(blocks.steps_v[state]))
    return int(blocks.first[state] + i * (blocks.steps_v[state] + 1) + j), math.hypot(
        (s - i) * du, (t - j) * dv
    )


MOVES = (1, 0), (0, 1), (1, 1), (1, -1), (1, 2), (2, 1), (1, -2), (2, -1)
"""From corner to corner; in square cells a straight way in between is found at most 2.8 % too long."""


def _within_blocks(states: States, blocks: Blocks) -> list[Columns]:
    """Return the ways between the corners of the small cells of each state."""
    node = np.flatnonzero(blocks.steps_u[blocks.state] > 0)
    state, i, j = blocks.state[node], blocks.i[node], blocks.j[node]
    u, v = blocks.steps_u[state], blocks.steps_v[state]
    du, dv = blocks.size[state].T
    height = _heights(states, blocks)
    found: list[Columns] = []
    for along, up in MOVES:
        there = (i + along <= u) & (j + up <= v) & (j + up >= 0)
        one = node[there]
        other = one + along * (v[there] + 1) + up
        far = np.hypot(along * du[there], up * dv[there])
        low = np.maximum(height[one], height[other])
        found += [(one, other, far, low), (other, one, far, low)]
    return found


def _heights(states: States, blocks: Blocks) -> Floats:
    """Return the heights of all nodes."""
    s, t = blocks.shares(np.arange(len(blocks.state)))
    a, b, c, d = states.corners[states.cell[blocks.state]].T
    height: Floats = (1 - s) * (1 - t) * a + s * (1 - t) * b + s * t * c + (1 - s) * t * d
    return height


def least_bond(graph: Graph, wanted: Ints | None = None) -> Labels:
    """Return the ways of least bond to the wanted nodes, at falling caps; None: to every node.

    What costs more than the dearest way yet to a wanted node leads to none that is better.
    """
    search = _Search(graph, wanted)
    for cap in np.unique(graph.entry_cap)[::-1]:
        waiting = search.enter(np.flatnonzero(graph.entry_cap == cap))
        while len(waiting.label):
            near, far = search.parted(waiting)
            waiting = far.and_(search.spread(near, int(cap)))
    return search.labels()


@dataclass(frozen=True, slots=True)
class _Front:
    """Labels from which ways go on."""

    label: Ints
    node: Ints
    inches: Floats

    def rows(self, rows: Bools) -> _Front:
        """Return some of them."""
        return _Front(self.label[rows], self.node[rows], self.inches[rows])

    def and_(self, other: _Front) -> _Front:
        """Return these and others."""
        pairs = zip(*((each.label, each.node, each.inches) for each in (self, other)), strict=True)
        return _Front(*(np.concatenate(pair) for pair in pairs))


class _Search:
    """All fronts of water, grown ring by ring: the nearest labels first, so that few are bettered later."""

    def __init__(self, graph: Graph, wanted: Ints | None) -> None:
        self.graph, self.wanted = graph, wanted
        self.stride = float(graph.inches.max(initial=0.0)) / 2
        self.least = np.full(graph.size, NEVER)
        self.best = np.full(graph.size, -1, np.intp)
        self.node: list[Ints] = []
        self.inches: list[Floats] = []
        self.parent: list[Ints] = []
        self.count = 0

    def enter(self, rows: Ints) -> _Front:
        """Let water in at rows of the entries; return the new labels."""
        return self._keep(self.graph.entry[rows], self.graph.entry_inches[rows], -1 - rows)

    def parted(self, front: _Front) -> tuple[_Front, _Front]:
        """Return the labels that were not bettered since, the nearest ones and the others."""
        standing = front.rows(self.best[front.node] == front.label)
        near = standing.inches <= standing.inches.min(initial=NEVER) + self.stride
        return standing.rows(near), standing.rows(~near)

    def spread(self, front: _Front, cap: int) -> _Front:
        """Return the labels that follow from those of the front, where they are better than what is known."""
        graph = self.graph
        starts = graph.starts[front.node]
        sizes = graph.starts[front.node + 1] - starts
        rows = np.repeat(starts - np.cumsum(sizes) + sizes, sizes) + np.arange(sizes.sum())
        tails = np.repeat(np.arange(len(sizes)), sizes)
        passable = graph.rung[rows] <= cap
        rows, tails = rows[passable], tails[passable]
        return self._keep(graph.ends[rows], front.inches[tails] + graph.inches[rows], front.label[tails])

    def _keep(self, node: Ints, inches: Floats, parent: Ints) -> _Front:
        limit = NEVER if self.wanted is None else self.least[self.wanted].max(initial=0.0)
        better: Bools = (inches < self.least[node] - HAIR) & (inches < limit)
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
        return _Front(fresh, node, inches)

    def labels(self) -> Labels:
        """Return all labels."""
        nothing = np.zeros(0, np.intp)
        return Labels(
            np.concatenate([nothing, *self.node]),
            np.concatenate([np.zeros(0), *self.inches]),
            np.concatenate([nothing, *self.parent]),
            self.best,
        )
