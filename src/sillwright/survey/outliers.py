"""Which readings contradict the others, and whether a laser was knocked.

Data snooping (Baarda 1968) over several kinds of alternative at once: each reading alone wrong by some
amount, a set-up moved between two of its shots, a laser out of true. With whitened residuals b, the
projector M = I - A Q A' and an alternative's pattern c (whitened):

    size s = c'b / c'Mc        T = (c'b)^2 / c'Mc        (for one reading T = w^2)

`search` finds the set of causes that explains most. Alternatives that explain nearly as much as a cause
of that set are not told apart from it: all are named.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sillwright.errors import NotDetermined
from sillwright.job import Job
from sillwright.survey.adjust import Adjustment, Array, adjust
from sillwright.survey.build import build, reweighted
from sillwright.survey.causes import Pool, pool_of
from sillwright.survey.doubt import Contradiction, contradictions
from sillwright.survey.network import Knock, Network, Verdicts
from sillwright.survey.observation import Diagonal, Equations, Observation
from sillwright.survey.search import Search
from sillwright.survey.statistics import critical_w, family_alpha

FAMILY_ALPHA = 0.02
"""Chance of accusing any reading or laser of a wall whose readings are all good."""
NOTHING = (
    "the job has neither openings nor laser set-ups; add an [[opening]] or a [[setup]] with its readings"
)
SETTLE = 1e-3
"""Readings move by less than this many of their sds in the last step; the step after it would be 1e-8 in."""
NEAR = 0.25
"""Largest move of a diagonal's ends for which a search holds as it was [in]: its slope changes little."""
FAR = 12.0
"""A reading this far from a rough guess of it is named when nothing settles [in]."""
PASSES = 4
"""The search is repeated at the wall as adjusted without what it found, until it finds the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """A network adjusted under verdicts."""

    network: Network
    adjustment: Adjustment
    verdicts: Verdicts
    contradictions: tuple[Contradiction, ...] = ()
    critical: float = 0.0


def solve(job: Job, verdicts: Verdicts, *, first: Network | None = None) -> Solution:
    """Return the adjusted network of a job under given verdicts.

    `first`, the network without verdicts, spares building it again where they change weights only.
    """
    network = (reweighted(first, verdicts) if first is not None else None) or build(job, verdicts)
    if not network.observations:
        raise NotDetermined(NOTHING)
    observations = tuple(network.observations)
    equations = Equations(observations, len(network.unknowns.start))
    start = np.array(network.unknowns.start)
    try:
        adjustment = adjust(equations, equations.value, sd=equations.sd, start=start, settle=SETTLE)
    except NotDetermined as fault:
        raise NotDetermined(f"{fault}. {_where(observations, equations, start)}") from None
    return Solution(network=network, adjustment=adjustment, verdicts=verdicts)


def _where(observations: tuple[Observation, ...], equations: Equations, start: Array) -> str:
    """Return what to look at when readings are too far apart for any wall."""
    off = np.abs(equations(start)[0] - equations.value)
    far = sorted(
        (i for i, o in enumerate(observations) if not o.assumed and off[i] > FAR), key=lambda i: -off[i]
    )
    named = "; ".join(f"{observations[i].label} ({observations[i].path})" for i in far[:3])
    return f"Look for a wrong digit or a wrong unit{': ' + named if named else ''}."


def cleanse(job: Job) -> Solution:
    """Adjust a job's readings, setting aside or widening those that contradict the rest.

    One clear culprit is set aside; culprits that cannot be told apart all stay, with a standard deviation as
    large as the error each would have. A knocked set-up gets a change of height between two of its shots.
    """
    solution, critical = solve(job, Verdicts()), 0.0
    first = solution.network
    found: tuple[Contradiction, ...] = ()
    for _ in range(PASSES):
        pool = pool_of(solution.network, solution.adjustment)
        critical = critical or _critical(pool)
        found = contradictions(job, Search(pool, critical))
        verdicts = _all_of([_verdict(solution.network, c) for c in found])
        if _same(verdicts, solution.verdicts):
            break
        before, solution = solution, solve(job, verdicts, first=first)
        if _near(before, solution) and _calm(solution, critical):
            break
    return Solution(
        network=solution.network,
        adjustment=solution.adjustment,
        verdicts=solution.verdicts,
        contradictions=found,
        critical=critical,
    )


def _near(one: Solution, other: Solution) -> bool:
    """Tell whether the diagonals, all that is not linear, run nearly alike in two solutions."""
    names, was = one.network.unknowns.index, one.adjustment.x
    bent = [i for i, o in enumerate(other.network.observations) if isinstance(o.terms, Diagonal)]
    ends = np.any(other.adjustment.design[bent] != 0.0, axis=0)
    return all(
        name in names and abs(was[names[name]] - now) < NEAR
        for name, now, end in zip(other.network.unknowns.index, other.adjustment.x, ends, strict=True)
        if end
    )


def _calm(solution: Solution, critical: float) -> bool:
    """Tell whether no reading contradicts the others any more."""
    used = np.array([not o.assumed and o.status == "used" for o in solution.network.observations])
    w = np.nan_to_num(solution.adjustment.standardised[used])
    return bool(np.all(np.abs(w) <= critical))


def _critical(pool: Pool) -> float:
    return critical_w(family_alpha(FAMILY_ALPHA, max(int(pool.alone.sum()), 1)))


def _verdict(network: Network, contradiction: Contradiction) -> Verdicts:
    explanations = contradiction.explanations
    distrusted = frozenset(setup for a in explanations for setup in a.laser)
    accused = [a for a in explanations if a.reading is not None]
    if len(explanations) == 1 and explanations[0].reading is not None:
        return Verdicts(excluded=frozenset({explanations[0].reading.id}))
    widened = {a.reading.id: max(abs(a.size), a.reading.own_sd) for a in accused if a.reading is not None}
    knock = contradiction.knock
    unsure: tuple[str, ...] = ()
    if knock is not None:
        unsure = tuple(
            o.id
            for o in network.observations
            if o.setup == knock.setup and o.order in contradiction.bracket and o.id not in widened
        )
    return Verdicts(
        excluded=frozenset(unsure),
        widened=widened,
        knocks=() if knock is None else (knock,),
        distrusted=distrusted,
    )


def _all_of(verdicts: list[Verdicts]) -> Verdicts:
    widened: dict[str, float] = {}
    for verdict in verdicts:
        for ident, sd in verdict.widened.items():
            widened[ident] = max(sd, widened.get(ident, 0.0))
    knocks: dict[Knock, None] = dict.fromkeys(k for v in verdicts for k in v.knocks)
    return Verdicts(
        excluded=frozenset().union(*(v.excluded for v in verdicts)),
        widened=widened,
        knocks=tuple(knocks),
        distrusted=frozenset().union(*(v.distrusted for v in verdicts)),
    )


def _same(a: Verdicts, b: Verdicts) -> bool:
    return (a.excluded, set(a.widened), a.knocks, a.distrusted) == (
        b.excluded,
        set(b.widened),
        b.knocks,
        b.distrusted,
    )
