"""Which readings contradict the others, and whether a laser was knocked.

Data snooping (Baarda 1968) over several kinds of alternative at once: each reading alone wrong by some
amount, or a set-up moved between two of its shots. With whitened residuals b = -v/sigma, the projector
M = I - A Q A' and an alternative's pattern c (whitened):

    size s = c'b / c'Mc        T = (c'b)^2 / c'Mc        (for one reading T = w^2)

The largest T leads. Alternatives that explain nearly as much are not told apart: all are named.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sillwright.job import Job
from sillwright.survey.adjust import Adjustment, Array, adjust
from sillwright.survey.build import build
from sillwright.survey.network import Knock, Network, Verdicts
from sillwright.survey.observation import Equations, Observation
from sillwright.survey.statistics import critical_w, family_alpha

FAMILY_ALPHA = 0.05
"""Chance of accusing any reading of a wall whose readings are all good."""
CANNOT_TELL = 6.0
"""Alternatives whose T differs by less are not told apart: odds under 20 to 1, exp(6/2)."""
ROUNDS = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """One explanation of a contradiction: a wrong reading, or a knock."""

    t: float
    """The test's T, the square of w."""
    size: float
    """Observed minus true [in]; for a knock, how much the beam rose [in]."""
    reading: Observation | None = None
    knock: Knock | None = None
    evidence: float = 1.0
    """Share of the contradiction that lies in other readings; the rest lies in assumptions about framing."""
    laser: tuple[int, ...] = ()
    """Set-ups of one laser that is out of true by more than its maker states; size is its slope [in/in]."""

    @property
    def w(self) -> float:
        """Size of the contradiction in standard deviations."""
        return float(np.sqrt(self.t))


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """One thing found wrong, with every explanation that fits nearly as well, best first."""

    explanations: tuple[Alternative, ...]

    @property
    def best(self) -> Alternative:
        """The explanation that fits best."""
        return self.explanations[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """A network adjusted under verdicts."""

    network: Network
    adjustment: Adjustment
    verdicts: Verdicts
    contradictions: tuple[Contradiction, ...] = ()
    critical: float = 0.0


def solve(job: Job, verdicts: Verdicts) -> Solution:
    """Return the adjusted network of a job under given verdicts."""
    network = build(job, verdicts)
    observations = tuple(network.observations)
    equations = Equations(observations, len(network.unknowns.start))
    start = np.array(network.unknowns.start)
    adjustment = adjust(equations, equations.value, sd=equations.sd, start=start, settle=1e-7)
    return Solution(network=network, adjustment=adjustment, verdicts=verdicts)


def cleanse(job: Job) -> Solution:
    """Adjust a job's readings, setting aside or widening those that contradict the rest.

    Each round takes the strongest contradiction: one clear culprit is set aside; culprits that cannot be
    told apart all stay with a standard deviation as large as the error each would have. At the end every
    verdict is tried again without it, and dropped if it has become needless.
    """
    found: list[tuple[Contradiction, Verdicts]] = []
    solution = solve(job, Verdicts())
    readings = sum(not o.assumed for o in solution.network.observations)
    critical = critical_w(family_alpha(FAMILY_ALPHA, max(readings, 1)))
    for _ in range(ROUNDS):
        ranked = alternatives(solution)
        if not ranked or ranked[0].w <= critical:
            break
        near = _near_best(job, ranked, critical)
        contradiction = Contradiction(explanations=tuple(_weigh_evidence(solution, a) for a in near))
        verdict = _verdict(solution, contradiction)
        found.append((contradiction, verdict))
        solution = solve(job, _all_of([v for _, v in found]))
    found, solution = _needless_dropped(job, found, solution, critical)
    contradictions = tuple(c for c, _ in found)
    return Solution(
        network=solution.network,
        adjustment=solution.adjustment,
        verdicts=solution.verdicts,
        contradictions=contradictions,
        critical=critical,
    )


def projector(adjustment: Adjustment) -> Array:
    """Return M = I - A Q A' (n, n) of the whitened system."""
    a = adjustment.design
    return np.asarray(np.eye(a.shape[0]) - a @ adjustment.cofactor @ a.T)


def alternatives(solution: Solution) -> list[Alternative]:
    """Return every alternative with its T, the strongest first."""
    observations = solution.network.observations
    adjustment = solution.adjustment
    b = -adjustment.whitened
    m = projector(adjustment)
    sd = np.array([o.sd for o in observations])
    real = np.array([not o.assumed and o.status != "set aside" for o in observations])
    r = np.diag(m)
    usable = real & (r > 1e-7)
    t = np.where(usable, b**2 / np.where(usable, r, 1.0), 0.0)
    found = [
        Alternative(t=float(t[i]), size=float(b[i] * sd[i] / r[i]), reading=observations[i])
        for i in np.flatnonzero(usable)
    ]
    found += _knocks(solution, b, m, sd) + _lasers(solution, b, m, sd)
    return sorted(found, key=lambda alternative: -alternative.t)


def _knocks(solution: Solution, b: Array, m: Array, sd: Array) -> list[Alternative]:
    observations, known = solution.network.observations, {k.setup for k in solution.verdicts.knocks}
    found = []
    for setup in range(len(solution.network.heights)):
        rows = [i for i, o in enumerate(observations) if o.setup == setup and o.status != "set aside"]
        orders = sorted({observations[i].order for i in rows})[:-1]
        if setup in known or not orders:
            continue
        pattern = np.zeros((len(orders), len(sd)))
        for k, after in enumerate(orders):
            later = [i for i in rows if observations[i].order > after]
            pattern[k, later] = 1.0 / sd[later]
        power = np.einsum("kn,kn->k", pattern @ m, pattern)
        lean = pattern @ b
        seen = power > 1e-6 * np.einsum("kn,kn->k", pattern, pattern)
        found += [
            Alternative(
                t=float(lean[k] ** 2 / power[k]),
                size=float(lean[k] / power[k]),
                knock=Knock(setup, orders[k]),
            )
            for k in np.flatnonzero(seen)
        ]
    return found


def _lasers(solution: Solution, b: Array, m: Array, sd: Array) -> list[Alternative]:
    """Return, for each laser, the alternative that the maker's statement of its level does not hold."""
    rows = {o.id: i for i, o in enumerate(solution.network.observations)}
    found = []
    for group in solution.network.lasers:
        own = [(rows[f"assumed.tilt.{setup + 1}"], sign) for setup, sign in group]
        c = np.zeros(len(sd))
        for row, sign in own:
            c[row] = sign / sd[row]
        power = float(c @ m @ c)
        if power > 0.05 * float(c @ c):
            lean = float(c @ b)
            setups = tuple(setup for setup, _ in group)
            found.append(Alternative(t=lean**2 / power, size=-lean / power, laser=setups))
    return found


def _near_best(job: Job, ranked: list[Alternative], critical: float) -> tuple[Alternative, ...]:
    best = ranked[0]
    near = [a for a in ranked if a.t > best.t - CANNOT_TELL and a.w > critical]
    possible = [a for a in near if a.reading is None or _possible(job, a)]
    return tuple(possible or near)


def _weigh_evidence(solution: Solution, alternative: Alternative) -> Alternative:
    """Fill in how much of the contradiction shows in readings rather than in assumptions."""
    if alternative.reading is None:
        return alternative
    observations = solution.network.observations
    own = next(i for i, o in enumerate(observations) if o.id == alternative.reading.id)
    a = solution.adjustment.design
    pattern = (a[own] @ solution.adjustment.cofactor @ a.T) ** 2
    pattern[own] = 0.0
    real = np.array([not o.assumed for o in observations])
    return replace(alternative, evidence=float(pattern[real].sum() / max(pattern.sum(), 1e-300)))


def _possible(job: Job, alternative: Alternative) -> bool:
    """Tell whether a jack, read wrong by that much, would still leave every shot of its sill in the opening."""
    reading = alternative.reading
    if reading is None or reading.kind != "run":
        return True
    jack = reading.value - alternative.size
    places = [
        s.x for setup in job.setup for s in setup.series if s.sill == reading.opening and s.x is not None
    ]
    if not places:
        return True
    return jack <= min(places) + 0.5 if ".left" in reading.id else jack >= max(places) - 0.5


def _verdict(solution: Solution, contradiction: Contradiction) -> Verdicts:
    explanations = contradiction.explanations
    if explanations[0].laser:
        return Verdicts(distrusted=frozenset(explanations[0].laser))
    if any(a.knock for a in explanations):
        return _knock_verdict(solution, explanations)
    if len(explanations) == 1 and explanations[0].reading is not None:
        return Verdicts(excluded=frozenset({explanations[0].reading.id}))
    widened = {a.reading.id: max(abs(a.size), a.reading.sd) for a in explanations if a.reading is not None}
    return Verdicts(widened=widened)


def _knock_verdict(solution: Solution, explanations: tuple[Alternative, ...]) -> Verdicts:
    """Place the knock; the shots it may have come before or after are set aside, the rest corrected."""
    leading = next(a.knock for a in explanations if a.knock is not None)
    places = [a.knock.after for a in explanations if a.knock is not None and a.knock.setup == leading.setup]
    unsure = range(min(places) + 1, max(places) + 1)
    excluded = {o.id for o in solution.network.observations if o.setup == leading.setup and o.order in unsure}
    widened = {a.reading.id: max(abs(a.size), a.reading.sd) for a in explanations if a.reading is not None}
    return Verdicts(
        excluded=frozenset(excluded), widened=widened, knocks=(Knock(leading.setup, leading.after),)
    )


def _all_of(verdicts: list[Verdicts]) -> Verdicts:
    widened: dict[str, float] = {}
    for verdict in verdicts:
        for ident, sd in verdict.widened.items():
            widened[ident] = max(sd, widened.get(ident, 0.0))
    excluded = frozenset().union(*(v.excluded for v in verdicts))
    return Verdicts(
        excluded=excluded,
        widened=widened,
        knocks=tuple(k for v in verdicts for k in v.knocks),
        distrusted=frozenset().union(*(v.distrusted for v in verdicts)),
    )


def _needless_dropped(
    job: Job, found: list[tuple[Contradiction, Verdicts]], solution: Solution, critical: float
) -> tuple[list[tuple[Contradiction, Verdicts]], Solution]:
    if len(found) < 2:
        return found, solution
    for item in list(found):
        rest = [v for other, v in found if other is not item[0]]
        without = solve(job, _all_of(rest))
        ranked = alternatives(without)
        if not ranked or ranked[0].w <= critical:
            found = [other for other in found if other[0] is not item[0]]
            solution = without
    return found, solution
