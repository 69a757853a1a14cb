"""What water does in a dressed wall: where it runs by its weight, and which head of water drives it where.

The cells are as large as the sheets allow: a way up depends on edges alone, and they are cut at every edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import breadth_first_order

from sillwright.water.heads import least_heads
from sillwright.water.lattice import Bools, Floats, Ints, lattice
from sillwright.water.model import Dressing
from sillwright.water.states import ROOM, WEATHER, Portals, States, states


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
    ways: Portals
    """The portals themselves, turned so that `one` is the source and `other` the goal."""


def arrivals(states_: States) -> Arrivals:
    """Return every way from somewhere else onto wood that must stay dry, or into the room."""
    portals = states_.portals
    wood_one, wood_other = _wood(states_, portals.one), _wood(states_, portals.other)
    on = np.flatnonzero(~portals.sealed & wood_other & ~wood_one)
    off = np.flatnonzero(~portals.sealed & wood_one & ~wood_other)
    ways = portals.rows(np.concatenate([on, off])).turned(np.arange(len(on) + len(off)) >= len(on))
    return Arrivals(ways.one, ways.other, ways.low, ways.high, ways.there, ways)


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
        return ~portals.sealed & ~at(bonded, portals.one) & ~at(bonded, portals.other)

    def falls(self, *, free: bool) -> Bools:
        """Tell which goals water reaches by its weight alone, across no bond at all or across any."""
        portals, size = self.states.portals, len(self.states.cell)
        rows = np.flatnonzero(self._free if free else ~portals.sealed)
        one, other = portals.one[rows], portals.other[rows]
        there, back = portals.there[rows], portals.back[rows]
        tails = np.concatenate([one[there], other[back]])
        ends = np.concatenate([other[there], one[back]])
        sources = self.states.spots
        tails = np.concatenate([np.where(tails == WEATHER, size, tails), np.full(len(sources), size)])
        ends = np.concatenate([ends, sources])
        real = (ends >= 0) & (tails >= 0)
        graph = sparse(tails[real], ends[real], np.ones(int(real.sum())), size + 1)
        wet = np.zeros(size + 1, np.bool_)
        wet[breadth_first_order(graph, size, return_predecessors=False)] = True
        goals = self.goals
        start_bonded = at(self.states.bonded, goals.source) if free else np.False_
        reached = np.where(goals.source == WEATHER, True, wet[np.maximum(goals.source, 0)])
        found: Bools = reached & goals.falls & ~start_bonded
        return found

    def passable(self, *, free: bool) -> Ints:
        """Return the portals that no seal closes; or only those that cross no bond."""
        return np.flatnonzero(self._free if free else ~self.states.portals.sealed)

    def flood(self, *, free: bool) -> tuple[Floats, Floats]:
        """Return the least head in inches that brings water to each goal, and the height where it came in.

        The head is inf where none does. `free`: across no bond at all.
        """
        return self._flood_free if free else self._flood_any

    @cached_property
    def _flood_free(self) -> tuple[Floats, Floats]:
        return self._flood(free=True)

    @cached_property
    def _flood_any(self) -> tuple[Floats, Floats]:
        return self._flood(free=False)

    def _flood(self, *, free: bool) -> tuple[Floats, Floats]:
        portals, goals, size = self.states.portals, self.goals, len(self.states.cell)
        keep = (self._free if free else ~portals.sealed) & (portals.other >= 0) & (portals.one >= 0)
        leaves = size + np.arange(len(goals.goal))
        open_way = ~at(self.states.bonded, goals.source) if free else np.ones(len(leaves), np.bool_)
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
        head, source = least_heads(size + len(leaves), ways, entries)
        return head[leaves], source[leaves]


def flow(dressing: Dressing) -> Flow:
    """Return what water does in a dressed wall."""
    return Flow(states(lattice(dressing)))


def at(flags: Bools, side: Ints) -> Bools:
    """Return the flags of states; weather and room have none."""
    found: Bools = np.where(side >= 0, flags[np.maximum(side, 0)], False)
    return found


def sparse(tails: Ints, ends: Ints, weights: Floats, size: int) -> csr_array:
    """Return a graph whose repeated ways stay apart: adding them up would lengthen them."""
    order = np.argsort(tails, kind="stable")
    starts = np.searchsorted(tails[order], np.arange(size + 1))
    return csr_array(
        (weights[order], ends[order].astype(np.int32), starts.astype(np.int32)), shape=(size, size)
    )
