"""Names for where water can be: parts of the wood that a carpenter would point at."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sillwright.water.lattice import Ints, Lattice
from sillwright.water.states import ROOM, States


@dataclass(frozen=True, slots=True)
class Places:
    """The places of a wall, and which one every cell belongs to."""

    names: tuple[str, ...]
    words: tuple[str, ...]
    of_cell: Ints

    def name(self, place: int) -> str:
        """Return the name of a place, or of the room behind one."""
        count = len(self.names)
        return self.names[place] if place < count else f"room.{self.names[place - count]}"

    def said(self, place: int) -> str:
        """Return the words for a place, or for the room behind one."""
        count = len(self.names)
        return self.words[place] if place < count else f"room past the {self.words[place - count]}"


def places(lattice: Lattice) -> Places:
    """Return the places of a wall: the zones of its facets, and what is left of each facet."""
    names: list[str] = []
    words: list[str] = []
    of_cell = np.zeros(len(lattice.stack_of), np.intp)
    for grid in lattice.grids.values():
        facet = grid.facet
        whole = (facet.name, facet.words, facet.u, facet.v)
        for name, said, u, v in (whole, *((z.name, z.words, z.u, z.v) for z in facet.zones)):
            of_cell[grid.numbers[grid.block(u, v)]] = len(names)
            names.append(name)
            words.append(said)
    return Places(tuple(names), tuple(words), of_cell)


def goal_places(states: States, source: Ints, goal: Ints, named: Places) -> Ints:
    """Return the place of every goal: of its wood, or, past the last of the wood's, of the room behind it."""
    in_room = goal == ROOM
    seen_from = np.where(in_room, np.maximum(source, 0), np.maximum(goal, 0))
    return named.of_cell[states.cell[seen_from]] + np.where(in_room, len(named.names), 0)
