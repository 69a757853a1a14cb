"""The way that water takes to a place, step by step, for a picture and for a sentence."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
from scipy.sparse.csgraph import breadth_first_order

from sillwright.water.bonds import Bonds
from sillwright.water.flow import Flow, sparse
from sillwright.water.lattice import Floats, Ints, Lattice
from sillwright.water.model import Point
from sillwright.water.states import ROOM, WEATHER, States

HAIR = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A stretch of the way on one facet, between the same two layers."""

    facet: str
    facet_words: str
    over: str | None
    """The sheet that the water runs on in the open; None: it is covered, or on wood."""
    under: str | None
    """The sheet that lies on the water; None: it is in the open."""
    bond_in: float
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """How water gets to a place."""

    start: str
    """Where it comes in, in words."""
    steps: tuple[Step, ...]
    goal: str
    bond_in: float
    head_in_water: float
    """The head that the way needs, inches."""

    @property
    def points(self) -> tuple[Point, ...]:
        """Return the way as a line in space."""
        return tuple(point for step in self.steps for point in step.points)

    @property
    def sentence(self) -> str:
        """Return the way in words."""
        told = [_stretch(step) for step in self.steps]
        through = f", {', '.join(told)}" if told else ""
        return (
            f"From {self.start}{through}, onto the {self.goal}."
            if self.goal[:4] != "room"
            else (f"From {self.start}{through}, into the {self.goal}.")
        )


def _stretch(step: Step) -> str:
    layer = f"under the {step.under}" if step.under else f"over the {step.over or step.facet_words}"
    bond = f" ({step.bond_in:.2f} in of bond)" if step.bond_in > HAIR else ""
    return f"{layer} on the {step.facet_words}{bond}"


def trace_flood(flow: Flow, goal: int, *, free: bool, goal_words: str) -> Way | None:
    """Return a way to a goal that needs the least head: by the flood of the large cells."""
    heads, sources = flow.flood(free=free)
    if math.isinf(heads[goal]):
        return None
    states, goals = flow.states, flow.goals
    last = int(goals.source[goal])
    top = sources[goal] + heads[goal] + HAIR
    portals = flow.passable(free=free)
    ends = _entries(flow, portals, sources[goal])
    chain = _back(states, portals, last, top, ends) if last != WEATHER else []
    if chain is None:
        return None
    start = (ends[chain[-1]] or _rain(states, chain[-1])) if chain else _rain(states, int(goals.goal[goal]))
    chain = chain[::-1]
    middle = np.full(len(chain), 0.5)
    points = _points(states, np.array(chain, np.intp), middle, middle)
    steps = _steps(states, [(state, point, 0.0) for state, point in zip(chain, points, strict=True)])
    return Way(start=start, steps=steps, goal=goal_words, bond_in=0.0, head_in_water=float(heads[goal]))


def _entries(flow: Flow, portals: Ints, height: float) -> dict[int, str]:
    """Return the states where water comes in at a height or above, and how, in words."""
    states = flow.states
    rained = portals[
        (states.portals.other[portals] == WEATHER) & (states.portals.high[portals] > height - HAIR)
    ]
    found = {int(state): "" for state in states.portals.one[rained]}
    for state, spot in zip(states.spots.tolist(), states.lattice.dressing.weak_spots, strict=True):
        if states.middle[state] > height - HAIR:
            found[state] = spot.words
    return found


def _back(states: States, portals: Ints, last: int, top: float, ends: dict[int, str]) -> list[int] | None:
    """Return the states from the last one back to an entry, never above a height."""
    ways = states.portals
    rows = portals[(ways.one[portals] >= 0) & (ways.other[portals] >= 0) & (ways.low[portals] <= top)]
    one, other = ways.one[rows], ways.other[rows]
    size = len(states.cell)
    graph = sparse(np.concatenate([one, other]), np.concatenate([other, one]), np.ones(2 * len(one)), size)
    reached, before = breadth_first_order(graph, last, directed=True)
    first = next((int(state) for state in reached if int(state) in ends), None)
    if first is None:
        return None
    chain = [first]
    while chain[-1] != last:
        chain.append(int(before[chain[-1]]))
    return chain[::-1]


def trace_bond(bonds: Bonds, place: int) -> Way | None:
    """Return the way of least bond to a place on the small cells."""
    labels, graph, states = bonds.labels, bonds.graph, bonds.states
    last = int(labels.best[graph.first_place + place])
    if last < 0:
        return None
    chain = labels.chain(last)
    entry = int(graph.entry_state[-1 - labels.parent[chain[0]]])
    nodes = labels.node[chain[:-1]]
    blocks = bonds.blocks
    at = blocks.state[nodes]
    points = _points(states, at, *blocks.shares(nodes))
    reached = [0.0, *labels.inches[chain].tolist()]
    gained = [b - a for a, b in pairwise(reached)]
    marks = list(zip(at.tolist(), points, gained, strict=False))
    if marks:
        state, point, share = marks[-1]
        marks[-1] = (state, point, share + gained[-1])
    heights = [point[2] for _, point, _ in marks]
    return Way(
        start=_spot_or_rain(states, entry),
        steps=_steps(states, marks),
        goal=bonds.places.said(place),
        bond_in=reached[-1],
        head_in_water=max(heights) - heights[0] if heights else 0.0,
    )


def _spot_or_rain(states: States, state: int) -> str:
    for number, spot in zip(states.spots.tolist(), states.lattice.dressing.weak_spots, strict=True):
        if number == state:
            return spot.words
    return _rain(states, state)


def _rain(states: States, state: int) -> str:
    """Return in words where rain gets between the layers at a state."""
    if state == ROOM:
        return "the open"
    over, under = layers(states.lattice, int(states.cell[state]), int(states.interface[state]))
    facet = states.lattice.grid_of(int(states.cell[state])).facet.words
    return f"the edge of the {under or over or facet} on the {facet}"


def layers(lattice: Lattice, cell: int, interface: int) -> tuple[str | None, str | None]:
    """Return the sheets below and above an interface of a cell, in words."""
    stack = lattice.stacks[lattice.stack_of[cell]]
    over = lattice.panels[stack[interface - 1]][0].words if interface > 0 else None
    under = lattice.panels[stack[interface]][0].words if interface < len(stack) else None
    return over, under


def _points(states: States, state: Ints, s: Floats, t: Floats) -> list[Point]:
    """Return points of the cells of states: shares `s` and `t` of the way along u and v."""
    cell = states.cell[state]
    points = np.zeros((len(cell), 3))
    for grid in states.lattice.grids.values():
        here = np.flatnonzero((cell >= grid.first) & (cell < grid.first + grid.shape[0] * grid.shape[1]))
        if len(here):
            i, j = np.divmod(cell[here] - grid.first, grid.shape[1])
            u = grid.u[i] + s[here] * (grid.u[i + 1] - grid.u[i])
            v = grid.v[j] + t[here] * (grid.v[j + 1] - grid.v[j])
            points[here] = grid.facet.place(u, v)
    return [(x, y, z) for x, y, z in points.tolist()]


def _steps(states: States, marks: list[tuple[int, Point, float]]) -> tuple[Step, ...]:
    return tuple(_grouped(states, marks))


def _grouped(states: States, marks: list[tuple[int, Point, float]]) -> Iterator[Step]:
    def layer(mark: tuple[int, Point, float]) -> tuple[str, str, str | None, str | None]:
        cell, interface = int(states.cell[mark[0]]), int(states.interface[mark[0]])
        over, under = layers(states.lattice, cell, interface)
        facet = states.lattice.grid_of(cell).facet
        return facet.name, facet.words, None if under else over, under

    for (facet, words, over, under), group in groupby(marks, key=layer):
        part = list(group)
        yield Step(
            facet=facet,
            facet_words=words,
            over=over,
            under=under,
            bond_in=float(np.sum([share for _, _, share in part])),
            points=tuple(point for _, point, _ in part),
        )
