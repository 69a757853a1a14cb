"""Which demands cannot hold together, and the least change to each that would cure it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from sillwright.bounds import SMALLEST, Matrix, clashes, closed, smallest_clash
from sillwright.heights.model import DATUM, Conflict, Cure, Link
from sillwright.heights.spread import arcs_of


@dataclass(frozen=True, slots=True)
class Sorted:
    """Relations that hold together, those let go for it, and why."""

    kept: list[Link]
    let_go: list[Link]
    conflicts: tuple[Conflict, ...]
    index: dict[str, int]
    """Place of each level in `room`."""
    room: Matrix
    """The most that each level (column) can stand above each other (row) by the relations kept [in]."""

    def between(self, lower: str, upper: str) -> tuple[float, float]:
        """Return the least and the most that one level can stand above another; one value if tied."""
        below, above = self.index[lower], self.index[upper]
        low, high = 0.0 - float(self.room[above, below]), float(self.room[below, above])
        return ((low + high) / 2, (low + high) / 2) if high - low < SMALLEST else (low, high)


def sort_out(names: list[str], relations: list[Link], *, held_by: frozenset[str]) -> Sorted:
    """Return the conflicts among relations, with one let go for each until the rest hold together.

    Args:  held_by: names of the pieces that hold the levels; they never clash among themselves, so every
           conflict has a relation outside them that can be let go: the last of the chain's order
    """
    kept, let_go, loops = list(relations), [], []
    order = {link.name: number for number, link in enumerate(relations)}
    while True:
        found = arcs_of(names, kept)
        room = closed(found)
        loop, short = smallest_clash(found) if clashes(room) else ([], 0.0)
        if not loop:
            break
        loop.sort(key=lambda link: order[link.name])
        given_up = [link for link in loop if link.name not in held_by][-1]
        kept.remove(given_up)
        let_go.append(given_up)
        loops.append((loop, given_up, short))
    conflicts = tuple(_conflict(names, kept, loop, given_up, short) for loop, given_up, short in loops)
    return Sorted(kept, let_go, conflicts, found.index, room)


def stands_against(found: Sorted, wish: Link, others: list[Link]) -> Conflict | None:
    """Return a smallest set that a wish clashes with; None: none.

    Args:    found: relations that hold together; others: wishes to look among where these leave room for it
    """
    low, high = found.between(wish.lower, wish.upper)
    room = low - SMALLEST <= wish.high and wish.low <= high + SMALLEST
    if room and not others:
        return None
    names, kept = list(found.index), [*found.kept, *(others if room else ())]
    loop, short = smallest_clash(arcs_of(names, [*kept, wish]))
    return _conflict(names, kept, loop, wish, short) if loop else None


def _conflict(names: list[str], kept: list[Link], loop: list[Link], given_up: Link, short: float) -> Conflict:
    whole = [*kept, given_up]
    cures = []
    for link in loop:
        by = least_change(names, whole, link)
        if by is not None:
            cures.append(Cure(name=link.name, text=link.text, kind=_kind(link), by=abs(by), larger=by > 0))
    return Conflict(
        names=tuple(link.name for link in loop),
        openings=tuple(dict.fromkeys(link.opening for link in loop if link.opening)),
        texts=tuple(link.text for link in loop),
        sources=tuple(dict.fromkeys(link.source for link in loop if link.source)),
        short=short,
        cures=tuple(sorted(cures, key=lambda cure: cure.by)),
    )


def least_change(names: list[str], relations: list[Link], link: Link) -> float | None:
    """Return how far the limits of one relation must move so that all hold [in]; None: it alone is no cure.

    Positive: its upper limit must rise; negative: its lower limit must fall.
    """
    rest = [other for other in relations if other.name != link.name]
    found = arcs_of(names, rest)
    most = closed(found)
    if clashes(most):
        return None
    lower, upper = found.index[link.lower], found.index[link.upper]
    least, greatest = -most[upper, lower], most[lower, upper]
    if least > link.high:
        return float(least - link.high)
    return float(min(greatest - link.low, 0.0))


def _kind(link: Link) -> Literal["level", "size", "limit"]:
    if link.rank > 0:
        return "limit"
    return "level" if link.lower == DATUM else "size"


def with_play(link: Link, play: float) -> Link:
    """Return a given relation that others already tie, with the play that the tolerances round it leave."""
    return replace(link, low=link.low - play - SMALLEST, high=link.high + play + SMALLEST)
