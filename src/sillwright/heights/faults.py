"""What makes a chain unusable, all of it told at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from math import isfinite, isnan

from sillwright.errors import BadInput, Fault
from sillwright.heights.model import DATUM, Chain, Demand, Level, Step


def refuse_faults(chain: Chain) -> None:
    """Do nothing where a chain can be solved.

    Raises:  BadInput: with every fault found
    """
    faults = [*_names(chain), *_levels(chain), *_steps(chain), *_demands(chain)]
    if faults:
        raise BadInput(*faults)


def _names(chain: Chain) -> Iterator[Fault]:
    every: tuple[Level | Step | Demand, ...] = (*chain.levels, *chain.steps, *chain.demands)
    parts = Counter(part.name for part in every)
    for name, count in parts.items():
        if count > 1 or not name:
            yield Fault(f"'{name}'", f"stands in the chain {count} times.", "Give each a name of its own.")
    if DATUM in parts:
        yield Fault(f"'{DATUM}'", "is the name of the height 0.", "Call this level something else.")


def _levels(chain: Chain) -> Iterator[Fault]:
    for level in chain.levels:
        if level.z is not None and not isfinite(level.z):
            yield Fault(_at(level), "its height is not a number.", "Give a finite height, or none.")
        if not _sound(level.sd):
            yield Fault(_at(level), f"a standard deviation of {level.sd:g}.", "Give 0 or more.")
        if level.z is None and level.sd:
            yield Fault(_at(level), "a standard deviation without a height.", "Give both or neither.")


def _steps(chain: Chain) -> Iterator[Fault]:
    known = _known(chain)
    for step in chain.steps:
        yield from _ends(known, step)
        yield from _bounds(step)
        if not _sound(step.tolerance):
            yield Fault(_at(step), f"a tolerance of {step.tolerance:g}.", "Give 0 or more.")
        if not (_sound(step.weight) and step.weight > 0):
            yield Fault(_at(step), f"a weight of {step.weight:g}.", "Give more than 0.")
        if any(value is not None and not isfinite(value) for value in (step.size, step.wish)):
            yield Fault(_at(step), "its size or wish is not a number.", "Give a finite size, or none.")
        if step.size is not None and (isfinite(step.low) or isfinite(step.high) or step.wish is not None):
            yield Fault(_at(step), "a size, and bounds or a wish too.", "Give a size, or what it may be.")


def _demands(chain: Chain) -> Iterator[Fault]:
    known = _known(chain)
    for demand in chain.demands:
        yield from _ends(known, demand)
        yield from _bounds(demand)


def _known(chain: Chain) -> frozenset[str]:
    return frozenset((DATUM, *(level.name for level in chain.levels)))


def _ends(known: frozenset[str], link: Step | Demand) -> Iterator[Fault]:
    for end in (link.lower, link.upper):
        if end not in known:
            yield Fault(_at(link), f"the chain has no level '{end}'.", "Name one it has, or add it.")
    if link.lower == link.upper:
        yield Fault(_at(link), "goes from a level to itself.", "Name two levels.")


def _bounds(link: Step | Demand) -> Iterator[Fault]:
    if isnan(link.low) or isnan(link.high) or link.low > link.high:
        yield Fault(_at(link), f"at least {link.low:g} and at most {link.high:g}.", "Exchange the two.")


def _sound(value: float) -> bool:
    return isfinite(value) and value >= 0.0


def _at(part: Level | Step | Demand) -> str:
    kind = type(part).__name__.lower()
    return f"{kind} '{part.name}'"
