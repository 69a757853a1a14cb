"""From a chain to its heights: what is tied, what is chosen, what clashes, how sure each height is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite

import numpy as np

from sillwright.bounds import SMALLEST
from sillwright.errors import SillwrightError
from sillwright.heights.conflict import Sorted, sort_out, stands_against, with_play
from sillwright.heights.faults import refuse_faults
from sillwright.heights.model import (
    DATUM,
    Chain,
    ChainResult,
    Demand,
    DemandResult,
    Difference,
    Holds,
    How,
    Level,
    LevelResult,
    Link,
    Step,
    StepResult,
    Tree,
    Unmet,
)
from sillwright.heights.spread import links, path, root_sum_square, shares, tree, worst_case
from sillwright.program import INFINITY, Program

TIED = 1e-6
"""A level with less room than this is tied [in]."""
_LET_GO = 1e3
_BELOW = 0.5
"""All wishes of one kind together weigh less than any one of the kind above it."""


@dataclass(frozen=True, slots=True)
class _Solved:
    """Heights as found; those of another cluster than the datum's are right only among themselves."""

    z: dict[str, float]
    cluster: dict[str, str]
    held: Tree
    found: Sorted

    def height(self, name: str) -> float | None:
        """Return a height above the datum [in]; None: nothing ties it there."""
        return self.z[name] if self.cluster[name] == DATUM else None

    def between(self, lower: str, upper: str) -> float | None:
        """Return upper less lower [in]; None: nothing ties them."""
        return self.z[upper] - self.z[lower] if self.cluster[lower] == self.cluster[upper] else None

    def room(self, lower: str, upper: str) -> tuple[float, float]:
        """Return the least and the most that one level can stand above another [in]."""
        return _room(self.found, lower, upper)

    def spread(self, lower: str, upper: str) -> tuple[float, float]:
        """Return how far upper less lower can be off, at worst and by root of squares [in]."""
        pieces = path(self.held, lower=lower, upper=upper)
        return worst_case(pieces), root_sum_square(pieces)


def solve(chain: Chain) -> ChainResult:
    """Return every height of a chain, its spread, the room it has, and which demands clash.

    Wishes are met as nearly as the rest allows (least sum of weighted distances); what no wish settles
    keeps clear of its limits by the worst case, then goes to the middle of its room; what nothing bounds
    stays open.
    Demands that clash are named and one is let go; wishes not met are told with what stands against them.

    Args:    chain: levels, steps and demands [in]
    Raises:  BadInput: the chain contradicts itself in form, with every fault
    """
    refuse_faults(chain)
    names = [DATUM, *(level.name for level in chain.levels)]
    relations = links(chain)
    held = tree(names, relations)
    found = sort_out(names, [_loosened(link, held) for link in relations], held_by=held.held_by)
    z, missed = _heights(chain, found, held)
    solved = _Solved(z, _clusters(chain, found), held, found)
    steps = tuple(_step(step, solved) for step in chain.steps)
    return ChainResult(
        chain=chain,
        held=held,
        levels=tuple(_level(level, solved) for level in chain.levels),
        steps=steps,
        demands=tuple(_demand(demand, solved) for demand in chain.demands),
        conflicts=found.conflicts,
        unmet=tuple(_unmet(chain, steps, found)),
        missed=missed,
    )


def difference(result: ChainResult, *, lower: str, upper: str) -> Difference:
    """Return upper less lower level, how far that can be off, and which pieces contribute most.

    Args:    lower, upper: names of levels, or `DATUM`
    Raises:  KeyError: the chain has no such level
    """
    pieces = path(result.held, lower=lower, upper=upper)
    below, above = (0.0 if name == DATUM else result.z(name) for name in (lower, upper))
    return Difference(
        lower=lower,
        upper=upper,
        size=None if below is None or above is None else above - below,
        worst=worst_case(pieces),
        rss=root_sum_square(pieces),
        shares=shares(pieces),
    )


def _loosened(link: Link, held: Tree) -> Link:
    """Return a given link with play where others already tie its ends: then its tolerances may take it up."""
    if link.rank > 0 or link.name in held.held_by:
        return link
    play = worst_case(path(held, lower=link.lower, upper=link.upper)) + link.tolerance
    return with_play(link, play)


def _heights(chain: Chain, found: Sorted, held: Tree) -> tuple[dict[str, float], float]:
    program = Program()
    variable = {name: program.variable(low=-INFINITY) for name in found.index}
    program.low[variable[DATUM]] = program.high[variable[DATUM]] = 0.0
    wishes = [step for step in chain.steps if step.wish is not None]
    clear = _BELOW * min((step.weight for step in wishes), default=1.0) / len(found.kept or [0])
    for link in found.kept:
        program.row(_terms(link, variable), low=max(link.low, -INFINITY), high=min(link.high, INFINITY))
        _keep_clear(program, link, variable, held, cost=clear)
    lost = [_missed_by(program, link, variable) for link in found.let_go]
    for step in wishes:
        _come_near(program, step, variable)
    for name in found.index:
        low, high = _room(found, DATUM, name)
        if isfinite(low) and isfinite(high) and high - low > TIED:
            pull = _BELOW * clear / len(found.index)
            program.spread([(variable[name], 1.0)], cost=pull, constant=-(low + high) / 2)
    answer = program.solve()
    if answer is None:  # the relations kept were shown to hold together
        raise SillwrightError("these heights hold together but were not found; please report the chain")
    return {name: float(answer.x[v]) for name, v in variable.items()}, float(sum(answer.x[v] for v in lost))


def _terms(link: Link | Step, variable: dict[str, int]) -> list[tuple[int, float]]:
    return [(variable[link.upper], 1.0), (variable[link.lower], -1.0)]


def _come_near(program: Program, step: Step, variable: dict[str, int]) -> None:
    """Add what a step's size off its wish costs, more where it falls short."""
    wish, off = step.wish or 0.0, program.variable(cost=step.weight)
    program.row([*_terms(step, variable), (off, -1.0)], high=wish)
    program.row([*_terms(step, variable), (off, 1.0 / step.shortage)], low=wish)


def _keep_clear(program: Program, link: Link, variable: dict[str, int], held: Tree, *, cost: float) -> None:
    """Add the wish, below all others, that limits stay clear by as much as the worst case takes."""
    if link.rank == 0:
        return
    worst = worst_case(path(held, lower=link.lower, upper=link.upper))
    if not 0.0 < worst < inf:
        return
    by = program.variable(cost=cost)
    if link.low > -inf:
        program.row([*_terms(link, variable), (by, 1.0)], low=link.low + worst)
    if link.high < inf:
        program.row([*_terms(link, variable), (by, -1.0)], high=link.high - worst)


def _missed_by(program: Program, link: Link, variable: dict[str, int]) -> int:
    """Add what a relation let go is missed by, at a cost above all wishes; return its variable."""
    by = program.variable(cost=_LET_GO)
    program.row([*_terms(link, variable), (by, -1.0)], high=min(link.high, INFINITY))
    program.row([*_terms(link, variable), (by, 1.0)], low=max(link.low, -INFINITY))
    return by


def _clusters(chain: Chain, found: Sorted) -> dict[str, str]:
    """Return, for each level, the first of those it is tied to: by bounds on both sides, or by a wish."""
    names = list(found.index)
    near = np.isfinite(found.room) & np.isfinite(found.room.T)  # of each two of three, so of all three
    first = {name: names[at] for name, at in zip(names, near.argmax(axis=1), strict=True)}
    for step in chain.steps:
        ends = sorted((first[step.lower], first[step.upper]), key=found.index.__getitem__)
        if step.wish is not None:
            first = {name: ends[0] if at == ends[1] else at for name, at in first.items()}
    return first


def _unmet(chain: Chain, steps: tuple[StepResult, ...], found: Sorted) -> Iterator[Unmet]:
    asked = list(zip(chain.steps, steps, strict=True))
    met = [
        _wish(step, step.wish, step.wish)
        for step, made in asked
        if step.wish is not None and _met(step, made)
    ]
    for step, made in asked:
        if step.wish is None or made.size is None or _met(step, made):
            continue
        low, high = (step.wish, inf) if made.size < step.wish else (-inf, step.wish)
        wish, names = _wish(step, low, high), list(found.index)
        against = stands_against(names, found.kept, wish) or stands_against(names, [*found.kept, *met], wish)
        if against is not None:
            yield Unmet(step=made, wish=step.wish, against=against)


def _met(step: Step, made: StepResult) -> bool:
    return made.size is not None and step.wish is not None and abs(made.size - step.wish) < TIED


def _wish(step: Step, low: float, high: float) -> Link:
    return Link(
        name=f"{step.name}, wish",
        opening=step.opening,
        text=f"{step.words}, as wished",
        lower=step.lower,
        upper=step.upper,
        low=low,
        high=high,
        rank=1,
    )


def _level(level: Level, solved: _Solved) -> LevelResult:
    z, (low, high) = solved.height(level.name), solved.room(DATUM, level.name)
    worst, rss = solved.spread(DATUM, level.name)
    known = level.z is not None
    return LevelResult(
        name=level.name,
        opening=level.opening,
        text=level.words,
        z=z,
        low=level.z if level.z is not None else low,
        high=level.z if level.z is not None else high,
        worst=worst,
        rss=rss,
        how="known" if known else _how(z, low, high),
    )


def _step(step: Step, solved: _Solved) -> StepResult:
    low, high = solved.room(step.lower, step.upper)
    worst, rss = solved.spread(step.lower, step.upper)
    size = step.size if step.size is not None else solved.between(step.lower, step.upper)
    margin = inf if size is None else min(size - step.low, step.high - size)
    return StepResult(
        name=step.name,
        opening=step.opening,
        text=step.words,
        lower=step.lower,
        upper=step.upper,
        size=size,
        low=low,
        high=high,
        margin=margin,
        worst=worst,
        rss=rss,
        how="known" if step.size is not None else _how(size, low, high),
        holds=_holds(size, margin, worst, rss),
    )


def _demand(demand: Demand, solved: _Solved) -> DemandResult:
    worst, rss = solved.spread(demand.lower, demand.upper)
    size = solved.between(demand.lower, demand.upper)
    margin = inf if size is None else min(size - demand.low, demand.high - size)
    return DemandResult(
        name=demand.name,
        opening=demand.opening,
        text=demand.words,
        lower=demand.lower,
        upper=demand.upper,
        source=demand.source,
        size=size,
        low=demand.low,
        high=demand.high,
        margin=margin,
        worst=worst,
        rss=rss,
        holds=_holds(size, margin, worst, rss),
    )


def _room(found: Sorted, lower: str, upper: str) -> tuple[float, float]:
    """Return the least and the most that one level can stand above another; one value where it is tied."""
    below, above = found.index[lower], found.index[upper]
    low, high = 0.0 - float(found.room[above, below]), float(found.room[below, above])
    return ((low + high) / 2, (low + high) / 2) if high - low < SMALLEST else (low, high)


def _how(value: float | None, low: float, high: float) -> How:
    if value is None:
        return "open"
    return "tied" if high - low <= TIED else "chosen"


def _holds(size: float | None, margin: float, worst: float, rss: float) -> Holds:
    if size is None:
        return "open"
    if margin < -TIED:
        return "not"
    if margin >= worst - TIED:
        return "at worst"
    return "statistically" if margin >= rss - TIED else "as drawn"
