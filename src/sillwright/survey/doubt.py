"""From causes to contradictions: what is wrong, and what would explain it as well.

Two explanations whose T differs by less than `CANNOT_TELL` are not told apart.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from sillwright.job import Job
from sillwright.survey.network import Knock
from sillwright.survey.observation import Observation
from sillwright.survey.search import MOST_FOR_PAIRS, Search

CANNOT_TELL = 6.0
"""Alternatives whose T differs by less are not told apart: odds under 20 to 1, exp(6/2)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One explanation of a contradiction: a wrong reading, a knock, or a laser out of true."""

    t: float
    """By how much v'Pv falls with it, the square of w."""
    size: float
    """Observed minus true [in]; for a knock, how much the beam rose [in]; for a laser, its slope [in/in]."""
    reading: Observation | None = None
    knock: Knock | None = None
    laser: tuple[int, ...] = ()
    """Set-ups of one laser that is out of true by more than its maker states."""
    evidence: float = 1.0
    """Share of the contradiction that lies in other readings; the rest lies in assumptions about framing."""

    @property
    def w(self) -> float:
        """Size of the contradiction in standard deviations."""
        return float(np.sqrt(self.t))


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """Something found wrong, with every explanation that fits nearly as well, best first."""

    explanations: tuple[Alternative, ...]
    wrong: int = 1
    """How many of the explanations hold at once."""

    @property
    def best(self) -> Alternative:
        """The explanation that fits best."""
        return self.explanations[0]

    @property
    def knock(self) -> Knock | None:
        """The likeliest knock among the explanations."""
        return next((a.knock for a in self.explanations if a.knock is not None), None)

    @property
    def bracket(self) -> range:
        """Places in the series of the knocked set-up that may lie before or after the knock."""
        setup = self.knock.setup if self.knock else -1
        places = [a.knock.after for a in self.explanations if a.knock is not None and a.knock.setup == setup]
        return range(min(places, default=0) + 1, max(places, default=0) + 1)


def contradictions(job: Job, search: Search) -> tuple[Contradiction, ...]:
    """Return what is found wrong, the clearest first, each with all that would explain it as well."""
    chosen = search.run()
    near = {block[0]: _near(job, search, block) for block in search.blocks()}
    groups = [(group, 1) for group in near.values()]
    for (a, b), others in _either_pair(job, search, chosen, near):
        groups.append(({**near[a], **near[b], **others}, 2))
    found = [
        Contradiction(explanations=tuple(sorted(g.values(), key=_rank)), wrong=wrong)
        for g, wrong in _joined(groups)
    ]
    return tuple(sorted(found, key=lambda c: -c.best.t))


def _near(job: Job, search: Search, block: list[int]) -> dict[int, Alternative]:
    """Return a cause and all that would stand in its place nearly as well."""
    chosen = search.chosen
    rest = [c for c in chosen if c not in block]
    now, base = search.explained(chosen), search.explained(rest)
    if len(block) > 1:
        sets = [s for s in search.places(block[0]) if search.explained([*rest, *s]) > now - CANNOT_TELL]
    else:
        gains = search.gains(rest)
        near = np.flatnonzero((gains > now - base - CANNOT_TELL) & (gains > search.critical**2))
        sets = [[int(k)] for k in near]
    found = {s[0]: _alternative(search, rest, s) for s in sets} or {
        block[0]: _alternative(search, rest, block)
    }
    possible = {k: a for k, a in found.items() if _possible(job, a)}
    return possible or found


def _alternative(search: Search, rest: list[int], some: list[int]) -> Alternative:
    """Return one explanation given the other causes; a knock that turned the beam comes as two causes."""
    cause = search.pool.causes[some[0]]
    sizes = search.sizes([*rest, *some])
    knock = cause.knock
    if knock is not None and len(some) > 1:
        knock = Knock(knock.setup, knock.after, tilted=True)
    return Alternative(
        t=max(search.explained([*rest, *some]) - search.explained(rest), 0.0),
        size=float(sizes[len(rest)] * cause.unit),
        reading=cause.reading,
        knock=knock,
        laser=cause.laser,
        evidence=search.pool.evidence(some[0]),
    )


def _either_pair(
    job: Job, search: Search, chosen: list[int], near: dict[int, dict[int, Alternative]]
) -> Iterable[tuple[tuple[int, int], dict[int, Alternative]]]:
    """Yield pairs of chosen readings for which two quite different readings would stand as well."""
    causes = search.pool.causes
    readings = [c for c in near if causes[c].reading is not None]
    for pair in combinations(readings, 2) if len(near) <= MOST_FOR_PAIRS else ():
        rest = [c for c in chosen if c not in pair]
        limit = search.explained(chosen) - search.explained(rest) - CANNOT_TELL
        gains = np.triu(search.pair_gains(rest))
        others: dict[int, Alternative] = {}
        for i, j in np.argwhere(gains > limit).tolist():
            told = any(i in near[a] and j in near[b] for a, b in (pair, pair[::-1]))
            both = causes[i].reading is not None and causes[j].reading is not None
            if both and not told and _both_needed(search, rest, i, j):
                for one, other in ((i, j), (j, i)):
                    explained = _alternative(search, [*rest, other], [one])
                    if one not in pair and _possible(job, explained):
                        others[one] = explained
        if others:
            yield pair, others


def _both_needed(search: Search, rest: list[int], i: int, j: int) -> bool:
    together, limit = search.explained([*rest, i, j]), search.critical**2
    return all(together - search.explained([*rest, one]) > limit for one in (i, j))


def _possible(job: Job, alternative: Alternative) -> bool:
    """Tell whether a jack, read wrong by that much, would leave every shot of its sill in the opening."""
    reading = alternative.reading
    if reading is None or reading.kind != "run":
        return True
    jack = reading.value - alternative.size
    shots = [s for setup in job.setup for s in setup.series if s.sill == reading.opening]
    places = [s.x for s in shots if s.x is not None]
    if not places:
        return True
    return jack <= min(places) + 0.5 if ".left" in reading.id else jack >= max(places) - 0.5


def _rank(alternative: Alternative) -> tuple[float, int]:
    """Order by T; of those that explain alike, a laser turned round or a reading before a knock."""
    return -round(alternative.t, 3), 2 if alternative.knock else 1 if alternative.reading else 0


def _joined(groups: list[tuple[dict[int, Alternative], int]]) -> list[tuple[dict[int, Alternative], int]]:
    """Join groups that name the same cause: as many of them are wrong as there were leads."""
    joined: list[tuple[dict[int, Alternative], set[int]]] = []
    for number, (group, wrong) in enumerate(groups):
        merged, leads = dict(group), {number} if wrong == 1 else set()
        for other in [o for o in joined if merged.keys() & o[0].keys()]:
            joined.remove(other)
            merged, leads = {**other[0], **merged}, leads | other[1]
        joined.append((merged, leads))
    return [(group, max(len(leads), 1)) for group, leads in joined]
