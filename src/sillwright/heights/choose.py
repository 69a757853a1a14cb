"""The heights of a chain within the room its relations leave, by one linear program.

Levels that are tied to each other move as one, so the program has one variable for each body of them that can
still move.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from math import inf, isfinite

from sillwright.bounds import SMALLEST
from sillwright.errors import SillwrightError
from sillwright.heights.conflict import Sorted
from sillwright.heights.model import DATUM, Chain, Link, Step, Tree
from sillwright.heights.spread import path, worst_case
from sillwright.program import INFINITY, Program

TIED = 1e-6
"""A level with less room than this is tied [in]."""
_LET_GO = 1e3
_BELOW = 0.5
"""All wishes of one kind together weigh less than any one of the kind above it."""
_Terms = list[tuple[int, float]]


def choose(chain: Chain, found: Sorted, held: Tree) -> tuple[dict[str, float], float]:
    """Return every height, and the sum of what the relations let go are missed by [in].

    First the relations let go are missed by as little as can be, then wishes are met as nearly as can be
    (least sum of weighted distances), then limits are kept clear by the worst case, then levels go to the
    middle of their room. Heights not bound to the datum are right only among themselves.

    Args:    found: relations that hold together, and those let go; held: what holds each level
    """
    bodies = _Bodies.of(found)
    wishes = [step for step in chain.steps if step.wish is not None]
    clear = _BELOW * min((step.weight for step in wishes), default=1.0) / len(found.kept or [0])
    for link in found.kept:
        if bodies.terms(link):
            bodies.keep(link)
            bodies.keep_clear(link, worst_case(path(held, lower=link.lower, upper=link.upper)), cost=clear)
    lost = [bodies.miss(link) for link in found.let_go]
    for step in wishes:
        bodies.come_near(step)
    bodies.to_the_middle(found, cost=_BELOW * clear / len(found.index))
    x = bodies.solved()
    z = {name: offset + (x[at] if at is not None else 0.0) for name, (at, offset) in bodies.place.items()}
    return z, float(sum(x[by] for by in lost))


@dataclass(slots=True)
class _Bodies:
    """Levels by what they are tied to, in a program to be."""

    place: dict[str, tuple[int | None, float]]
    """The variable that a level goes by, None for the datum, and how far above it the level lies [in]."""
    first: dict[int, str] = field(default_factory=dict)
    """The level that a variable is the height of."""
    program: Program = field(default_factory=Program)

    @classmethod
    def of(cls, found: Sorted) -> _Bodies:
        names, bodies = list(found.index), cls({DATUM: (None, 0.0)})
        tied_to = (found.room + found.room.T < SMALLEST).argmax(axis=1)
        for name, first in zip(names[1:], (names[at] for at in tied_to[1:]), strict=True):
            if first == name:
                variable = bodies.program.variable(low=-INFINITY)
                bodies.first[variable], bodies.place[name] = name, (variable, 0.0)
            else:
                bodies.place[name] = (bodies.place[first][0], found.between(first, name)[0])
        return bodies

    def terms(self, link: Link | Step) -> _Terms:
        """Return what upper less lower level varies by; empty: nothing."""
        below, above = self.place[link.lower][0], self.place[link.upper][0]
        if below == above:
            return []
        ends = ((above, 1.0), (below, -1.0))
        return [(variable, sign) for variable, sign in ends if variable is not None]

    def least(self, link: Link | Step) -> float:
        """Return upper less lower level where no variable moves them [in]."""
        return self.place[link.upper][1] - self.place[link.lower][1]

    def keep(self, link: Link) -> None:
        least = self.least(link)
        low, high = max(link.low - least, -INFINITY), min(link.high - least, INFINITY)
        self.program.row(self.terms(link), low=low, high=high)

    def keep_clear(self, link: Link, worst: float, *, cost: float) -> None:
        """Add the wish that limits stay clear by as much as the worst case takes."""
        if link.rank == 0 or not 0.0 < worst < inf:
            return
        by = self.program.variable(cost=cost)
        terms, least = self.terms(link), self.least(link)
        if link.low > -inf:
            self.program.row([*terms, (by, 1.0)], low=link.low + worst - least)
        if link.high < inf:
            self.program.row([*terms, (by, -1.0)], high=link.high - worst - least)

    def miss(self, link: Link) -> int:
        """Add what a relation let go is missed by, at a cost above all wishes; return its variable."""
        by = self.program.variable(cost=_LET_GO)
        terms, least = self.terms(link), self.least(link)
        self.program.row([*terms, (by, -1.0)], high=min(link.high - least, INFINITY))
        self.program.row([*terms, (by, 1.0)], low=max(link.low - least, -INFINITY))
        return by

    def come_near(self, step: Step) -> None:
        """Add what a step's size off its wish costs, more where it falls short."""
        terms, off = self.terms(step), self.program.variable(cost=step.weight)
        wish = (step.wish or 0.0) - self.least(step)
        if terms:
            self.program.row([*terms, (off, -1.0)], high=wish)
            self.program.row([*terms, (off, 1.0 / step.shortage)], low=wish)

    def to_the_middle(self, found: Sorted, *, cost: float) -> None:
        """Add the wish that every level stands in the middle of its room."""
        count = Counter(variable for variable, _ in self.place.values())
        for variable, name in self.first.items():
            low, high = found.between(DATUM, name)
            if isfinite(low) and isfinite(high):
                middle = (low + high) / 2
                self.program.spread([(variable, 1.0)], cost=cost * count[variable], constant=-middle)

    def solved(self) -> list[float]:
        """Return the value of each variable."""
        if not self.program.cost:
            return []
        answer = self.program.solve()
        if answer is None:  # the relations kept were shown to hold together
            raise SillwrightError("these heights hold together but were not found; please report the chain")
        return [float(value) for value in answer.x]
