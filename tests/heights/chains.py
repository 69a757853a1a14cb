"""Small chains for tests: random ones, and one made of its parts."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from hypothesis import strategies as st

from sillwright.heights import DATUM, Chain, Demand, Level, Step

SIXTEENTH = 1 / 16


def sizes(least: int, most: int) -> st.SearchStrategy[float]:
    """Return lengths on the marks of a tape."""
    return st.integers(least, most).map(lambda count: count * SIXTEENTH)


@st.composite
def chains(draw: st.DrawFn, *, most_levels: int = 6) -> Chain:
    """Return a chain of a few levels, one at least known, with steps and demands at random."""
    count = draw(st.integers(2, most_levels))
    names = [f"level {number}" for number in range(count)]
    levels = [Level(name=name) for name in names]
    levels[0] = Level(name=names[0], z=draw(sizes(-64, 64)), sd=draw(sizes(0, 3)) / 3)
    if draw(st.booleans()):
        levels[-1] = Level(name=names[-1], z=draw(sizes(-64, 64)), sd=draw(sizes(0, 3)) / 3)
    ends = st.tuples(st.sampled_from([DATUM, *names]), st.sampled_from(names)).filter(lambda e: e[0] != e[1])
    steps = [_step(draw, f"step {number}", draw(ends)) for number in range(draw(st.integers(1, count + 1)))]
    demands = [_demand(draw, f"demand {number}", draw(ends)) for number in range(draw(st.integers(0, 3)))]
    return Chain(levels=tuple(levels), steps=tuple(steps), demands=tuple(demands))


def _step(draw: st.DrawFn, name: str, ends: tuple[str, str]) -> Step:
    lower, upper = ends
    tolerance = draw(sizes(0, 4))
    if draw(st.booleans()):
        return Step(name=name, lower=lower, upper=upper, size=draw(sizes(-32, 32)), tolerance=tolerance)
    low, high = draw(_limits())
    wish = draw(st.none() | sizes(-32, 32))
    return Step(name=name, lower=lower, upper=upper, low=low, high=high, wish=wish, tolerance=tolerance)


def _demand(draw: st.DrawFn, name: str, ends: tuple[str, str]) -> Demand:
    low, high = draw(_limits())
    return Demand(name=name, lower=ends[0], upper=ends[1], low=low, high=high)


def _limits() -> st.SearchStrategy[tuple[float, float]]:
    both = st.tuples(sizes(-48, 48), sizes(0, 48)).map(lambda pair: (pair[0], pair[0] + pair[1]))
    return both | sizes(-48, 48).map(lambda low: (low, inf)) | sizes(-48, 48).map(lambda high: (-inf, high))


def upside_down(chain: Chain) -> Chain:
    """Return the chain with z counted down."""
    levels = tuple(replace(level, z=None if level.z is None else -level.z) for level in chain.levels)
    steps = tuple(replace(step, lower=step.upper, upper=step.lower) for step in chain.steps)
    demands = tuple(replace(demand, lower=demand.upper, upper=demand.lower) for demand in chain.demands)
    return Chain(levels=levels, steps=steps, demands=demands)


def in_other_units(chain: Chain, factor: float) -> Chain:
    """Return the chain with every length times a factor."""
    levels = tuple(
        replace(level, z=None if level.z is None else level.z * factor, sd=level.sd * factor)
        for level in chain.levels
    )
    steps = tuple(
        replace(
            step,
            size=None if step.size is None else step.size * factor,
            wish=None if step.wish is None else step.wish * factor,
            tolerance=step.tolerance * factor,
            low=step.low * factor,
            high=step.high * factor,
        )
        for step in chain.steps
    )
    demands = tuple(
        replace(demand, low=demand.low * factor, high=demand.high * factor) for demand in chain.demands
    )
    return Chain(levels=levels, steps=steps, demands=demands)


def stack(*sizes_and_tolerances: tuple[float, float]) -> Chain:
    """Return a chain of fixed steps on the datum, one on the other: level 0 to level n."""
    levels = [Level(name="level 0", z=0.0)]
    steps = []
    for number, (size, tolerance) in enumerate(sizes_and_tolerances, start=1):
        levels.append(Level(name=f"level {number}"))
        lower, upper = f"level {number - 1}", f"level {number}"
        steps.append(Step(name=f"step {number}", lower=lower, upper=upper, size=size, tolerance=tolerance))
    return Chain(levels=tuple(levels), steps=tuple(steps))
