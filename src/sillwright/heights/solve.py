"""From a chain to its heights: what is tied, what is chosen, what clashes, how sure each height is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite

import numpy as np
from scipy.sparse.csgraph import connected_components

from sillwright.bounds import SMALLEST, Matrix, closed
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
    Step,
    StepResult,
    Unmet,
)
from sillwright.heights.spread import (
    Link,
    Tree,
    arcs_of,
    links,
    path,
    root_sum_square,
    shares,
    tree,
    worst_case,
)
from sillwright.program import INFINITY, Program

TIED = 1e-6
"""A level with less room than this is tied [in]."""
_PULL = 1e-4
_CLEAR = 1e-2
_LET_GO = 1e3


@dataclass(frozen=True, slots=True)
class Heights:
    """Heights as found; those of another cluster than the datum's are right only among themselves."""

    z: dict[str, float]
    cluster: dict[str, str]

    def height(self, name: str) -> float | None:
        """Return a height above the datum [in]; None: nothing ties it there."""
        return self.z[name] if self.cluster[name] == DATUM else None

    def between(self, lower: str, upper: str) -> float | None:
        """Return upper less lower [in]; None: nothing ties them."""
        return self.z[upper] - self.z[lower] if self.cluster[lower] == self.cluster[upper] else None


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
    held = tree(chain)
    names = [DATUM, *(level.name for level in chain.levels)]
    relations = [_loosened(link, held) for link in links(chain)]
    found = sort_out(names, relations, held_by=held.held_by)
    whole = arcs_of(names, found.kept)
    room = closed(whole)
    z, missed = _heights(chain, found, room, whole.index)
    shown = Heights(z, _clusters(chain, names, room))
    return ChainResult(
        chain=chain,
        levels=tuple(_level(level, shown, held, room, whole.index) for level in chain.levels),
        steps=tuple(_step(step, shown, held, room, whole.index) for step in chain.steps),
        demands=tuple(_demand(demand, shown, held) for demand in chain.demands),
        conflicts=found.conflicts,
        unmet=tuple(_unmet(chain, shown, names, found.kept)),
        missed=missed,
    )


def difference(result: ChainResult, *, lower: str, upper: str) -> Difference:
    """Return upper less lower level, how far that can be off, and which pieces contribute most.

    Args:    lower, upper: names of levels, or `DATUM`
    Raises:  KeyError: the chain has no such level
    """
    pieces = path(tree(result.chain), lower=lower, upper=upper)
    return Difference(
        lower=lower,
        upper=upper,
        size=_size(result, lower, upper),
        worst=worst_case(pieces),
        rss=root_sum_square(pieces),
        shares=shares(pieces),
    )


def _size(result: ChainResult, lower: str, upper: str) -> float | None:
    z = {level.name: level.z for level in result.levels} | {DATUM: 0.0}
    below, above = z[lower], z[upper]
    return None if below is None or above is None else above - below


def _loosened(link: Link, held: Tree) -> Link:
    """Return a given link with play where others already tie its ends: then its tolerances may take it up."""
    if link.rank > 0 or link.name in held.held_by:
        return link
    play = worst_case(path(held, lower=link.lower, upper=link.upper)) + link.tolerance
    return with_play(link, play)


def _heights(
    chain: Chain, found: Sorted, room: Matrix, index: dict[str, int]
) -> tuple[dict[str, float], float]:
    program, held = Program(), tree(chain)
    variable = {name: program.variable(low=-INFINITY) for name in index}
    program.low[variable[DATUM]] = program.high[variable[DATUM]] = 0.0
    for link in found.kept:
        program.row(_terms(link, variable), low=max(link.low, -INFINITY), high=min(link.high, INFINITY))
        _keep_clear(program, link, variable, held)
    lost = [_missed_by(program, link, variable) for link in found.let_go]
    for step in chain.steps:
        if step.wish is not None:
            program.spread(_terms(step, variable), cost=step.weight, constant=-step.wish)
    for name, at in index.items():
        low, high = _room(room, index[DATUM], at)
        if isfinite(low) and isfinite(high) and high - low > TIED:
            program.spread([(variable[name], 1.0)], cost=_PULL, constant=-(low + high) / 2)
    answer = program.solve()
    if answer is None:  # the relations kept were shown to hold together
        raise SillwrightError("these heights hold together but were not found; please report the chain")
    return {name: float(answer.x[v]) for name, v in variable.items()}, float(sum(answer.x[v] for v in lost))


def _unmet(chain: Chain, z: Heights, names: list[str], kept: list[Link]) -> Iterator[Unmet]:
    for step in chain.steps:
        size = z.between(step.lower, step.upper)
        if step.wish is None or size is None or abs(size - step.wish) < TIED:
            continue
        low, high = (step.wish, inf) if size < step.wish else (-inf, step.wish)
        text = f"{step.text or step.name}, as wished"
        wish = Link(
            name=f"{step.name}, wish",
            text=text,
            lower=step.lower,
            upper=step.upper,
            low=low,
            high=high,
            rank=1,
        )
        against = stands_against(names, kept, wish)
        if against is not None:
            yield Unmet(
                step=step.name, text=step.text or step.name, wish=step.wish, size=size, against=against
            )


def _terms(link: Link | Step, variable: dict[str, int]) -> list[tuple[int, float]]:
    return [(variable[link.upper], 1.0), (variable[link.lower], -1.0)]


def _keep_clear(program: Program, link: Link, variable: dict[str, int], held: Tree) -> None:
    """Add the wish, below all others, that limits stay clear by as much as the worst case takes."""
    worst = worst_case(path(held, lower=link.lower, upper=link.upper))
    if link.rank == 0 or not 0.0 < worst < inf:
        return
    by = program.variable(cost=_CLEAR)
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


def _clusters(chain: Chain, names: list[str], room: Matrix) -> dict[str, str]:
    """Return, for each level, the first of those it is tied to: by bounds on both sides, or by a wish."""
    index = {name: number for number, name in enumerate(names)}
    near = np.isfinite(room) & np.isfinite(room.T)
    for step in chain.steps:
        if step.wish is not None:
            near[index[step.lower], index[step.upper]] = near[index[step.upper], index[step.lower]] = True
    _, label = connected_components(near, directed=False)
    first = {int(number): name for name, number in reversed(list(zip(names, label, strict=True)))}
    return {name: first[int(number)] for name, number in zip(names, label, strict=True)}


def _level(level: Level, z: Heights, held: Tree, room: Matrix, index: dict[str, int]) -> LevelResult:
    at = index[level.name]
    low, high = _room(room, index[DATUM], at)
    pieces = path(held, lower=DATUM, upper=level.name)
    how: How = "known" if level.z is not None else _how(z.height(level.name), low, high)
    if level.z is not None:
        low = high = level.z
    return LevelResult(
        name=level.name,
        text=level.text or level.name,
        z=z.height(level.name),
        low=low,
        high=high,
        worst=worst_case(pieces),
        rss=root_sum_square(pieces),
        how=how,
    )


def _step(step: Step, z: Heights, held: Tree, room: Matrix, index: dict[str, int]) -> StepResult:
    lower, upper = index[step.lower], index[step.upper]
    low, high = _room(room, lower, upper)
    pieces = path(held, lower=step.lower, upper=step.upper)
    worst, rss = worst_case(pieces), root_sum_square(pieces)
    size = step.size if step.size is not None else z.between(step.lower, step.upper)
    margin = inf if size is None else min(size - step.low, step.high - size)
    return StepResult(
        name=step.name,
        text=step.text or step.name,
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


def _room(room: Matrix, lower: int, upper: int) -> tuple[float, float]:
    """Return the least and the most that one level can stand above another; one value where it is tied."""
    low, high = 0.0 - float(room[upper, lower]), float(room[lower, upper])
    return ((low + high) / 2, (low + high) / 2) if high - low < SMALLEST else (low, high)


def _how(value: float | None, low: float, high: float) -> How:
    if value is None:
        return "open"
    return "tied" if high - low <= TIED else "chosen"


def _demand(demand: Demand, z: Heights, held: Tree) -> DemandResult:
    pieces = path(held, lower=demand.lower, upper=demand.upper)
    worst, rss = worst_case(pieces), root_sum_square(pieces)
    size = z.between(demand.lower, demand.upper)
    margin = inf if size is None else min(size - demand.low, demand.high - size)
    return DemandResult(
        name=demand.name,
        text=demand.text or demand.name,
        source=demand.source,
        size=size,
        low=demand.low,
        high=demand.high,
        margin=margin,
        worst=worst,
        rss=rss,
        holds=_holds(size, margin, worst, rss),
    )


def _holds(size: float | None, margin: float, worst: float, rss: float) -> Holds:
    if size is None:
        return "open"
    if margin < -TIED:
        return "not"
    if margin >= worst - TIED:
        return "at worst"
    return "statistically" if margin >= rss - TIED else "as drawn"
