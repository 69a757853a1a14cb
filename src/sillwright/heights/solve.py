"""From a chain to its heights: what is tied, what is chosen, what clashes, how sure each height is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

import numpy as np

from sillwright.heights.choose import TIED, choose
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
    z, missed = choose(chain, found, held)
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
    asked = [
        (step, step.wish, made)
        for step, made in zip(chain.steps, steps, strict=True)
        if step.wish is not None
    ]
    for step, wish, made in asked:
        if made.size is None or abs(made.size - wish) < TIED:
            continue
        low, high = (wish, inf) if made.size < wish else (-inf, wish)
        # a wish that counts more is served before this one: no need to say so
        others = [
            _wish(other, size, size)
            for other, size, met in asked
            if other.weight <= step.weight and met.size is not None and abs(met.size - size) < TIED
        ]
        against = stands_against(found, _wish(step, low, high), others)
        if against is not None:
            yield Unmet(step=made, wish=wish, against=against)


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
    z, (low, high) = solved.height(level.name), solved.found.between(DATUM, level.name)
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
    low, high = solved.found.between(step.lower, step.upper)
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
