"""How far a height can be off: the pieces that hold it, added at their worst and as a root of squares.

The pieces that hold a level are a path from the datum: known levels and fixed steps first, then steps to be
found, in the order of the chain. Two levels share the start of their paths; what they share drops out of
their difference.
"""

from __future__ import annotations

from math import hypot, inf

from sillwright.bounds import Arcs, Bound, arcs
from sillwright.heights.model import DATUM, SDS_IN_WORST, Chain, Demand, Level, Link, Share, Step, Tree


def arcs_of(names: list[str], relations: list[Link]) -> Arcs[Link]:
    """Return the relations as bounds on how far each level stands above each other."""
    return arcs(
        names,
        (
            bound
            for link in relations
            for bound in (
                Bound(link.lower, link.upper, link.high, link),
                Bound(link.upper, link.lower, -link.low, link),
            )
        ),
    )


def links(chain: Chain) -> list[Link]:
    """Return the chain as relations: known levels from the datum, steps, demands."""
    known = [_from_level(level) for level in chain.levels if level.z is not None]
    return [*known, *map(_from_step, chain.steps), *map(_from_demand, chain.demands)]


def tree(names: list[str], relations: list[Link]) -> Tree:
    """Return the pieces that hold each level; a level that hangs on nothing is the root of its own tree.

    Args:    names: of the levels, the datum first; relations: the chain's, in its order
    """
    group = {name: name for name in names}
    kept: list[Link] = []
    for link in sorted(relations, key=lambda link: link.rank):
        a, b = _find(group, link.lower), _find(group, link.upper)
        if link.rank < 2 and a != b:
            group[a] = b
            kept.append(link)
    return _rooted(names, kept)


def path(held: Tree, *, lower: str, upper: str) -> list[Link] | None:
    """Return the links by which one level is held from the other; None: no piece joins them."""
    if held.root[lower] != held.root[upper]:
        return None
    down, across = held.way[lower], held.way[upper]
    shared = 0
    for one, other in zip(reversed(down), reversed(across), strict=False):
        if one is not other:
            break
        shared += 1
    return [*down[: len(down) - shared], *across[: len(across) - shared]]


def worst_case(pieces: list[Link] | None) -> float:
    """Return the sum of tolerances: every piece off the same way; infinite where none joins them."""
    return inf if pieces is None else sum(piece.tolerance for piece in pieces)


def root_sum_square(pieces: list[Link] | None) -> float:
    """Return the root of the sum of squares of tolerances, that of pieces which err independently.

    Source:  P. J. Drake (ed.), Dimensioning and Tolerancing Handbook, McGraw-Hill 1999, ch. 9; each tolerance
             stands for the same number of standard deviations, three
    """
    return inf if pieces is None else hypot(*(piece.tolerance for piece in pieces))


def shares(pieces: list[Link] | None) -> tuple[Share, ...]:
    """Return what each piece adds to the spread, most first; pieces without a tolerance left out."""
    loose = [piece for piece in pieces or () if piece.tolerance > 0.0]
    worst, square = worst_case(loose), sum(piece.tolerance**2 for piece in loose)
    found = [
        Share(
            name=piece.name,
            text=piece.text,
            tolerance=piece.tolerance,
            of_worst=piece.tolerance / worst,
            of_variance=piece.tolerance**2 / square,
        )
        for piece in loose
    ]
    return tuple(sorted(found, key=lambda share: -share.tolerance))


def _from_level(level: Level) -> Link:
    z = level.z or 0.0
    return Link(
        name=level.name,
        opening=level.opening,
        text=level.words,
        lower=DATUM,
        upper=level.name,
        low=z,
        high=z,
        tolerance=SDS_IN_WORST * level.sd,
        rank=0,
    )


def _from_step(step: Step) -> Link:
    low, high = (step.low, step.high) if step.size is None else (step.size, step.size)
    return Link(
        name=step.name,
        opening=step.opening,
        text=step.words,
        lower=step.lower,
        upper=step.upper,
        low=low,
        high=high,
        tolerance=step.tolerance,
        source=step.source,
        rank=0 if step.size is not None else 1,
    )


def _from_demand(demand: Demand) -> Link:
    return Link(
        name=demand.name,
        opening=demand.opening,
        text=demand.words,
        lower=demand.lower,
        upper=demand.upper,
        low=demand.low,
        high=demand.high,
        source=demand.source,
        rank=2,
    )


def _find(group: dict[str, str], name: str) -> str:
    while group[name] != name:
        name = group[name]
    return name


def _rooted(names: list[str], kept: list[Link]) -> Tree:
    beside: dict[str, list[tuple[str, Link]]] = {name: [] for name in names}
    for link in kept:
        beside[link.lower].append((link.upper, link))
        beside[link.upper].append((link.lower, link))
    way: dict[str, tuple[Link, ...]] = {}
    root: dict[str, str] = {}
    for start in names:  # the datum comes first
        if start in root:
            continue
        root[start], way[start] = start, ()
        waiting = [start]
        while waiting:
            name = waiting.pop()
            for other, link in beside[name]:
                if other not in root:
                    root[other], way[other] = start, (link, *way[name])
                    waiting.append(other)
    return Tree(way, root, frozenset(link.name for link in kept))
