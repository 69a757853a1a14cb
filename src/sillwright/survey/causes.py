"""What can be wrong with a wall's readings, and what each such cause would do to the residuals.

Causes: one reading alone wrong by some amount; a set-up moved between two of its shots, its beam perhaps
turned as well; a laser out of true by more than its maker states. Symbols as in `outliers`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sillwright.survey.adjust import Adjustment, Array
from sillwright.survey.network import Knock, Network
from sillwright.survey.observation import Observation

CHECKED = 1e-6
"""Redundancy below which nothing checks a reading."""
SEEN = 0.05
"""Share of its pattern that a laser's error of level must leave in the residuals to be tested."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """One thing that can be wrong: a reading, a knock, or a laser."""

    reading: Observation | None = None
    knock: Knock | None = None
    laser: tuple[int, ...] = ()
    """Set-ups of a laser that is out of true by more than its maker states."""
    unit: float = 1.0
    """Size of the pattern's unit: a reading's sd [in], 1 in for a knock, 1 in/in for a slope."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """All causes with what the readings say of them."""

    causes: tuple[Cause, ...]
    lean: Array
    """c'b for each cause (k,)."""
    gram: Array
    """c'Mc for each pair of causes (k, k)."""
    with_turn: tuple[tuple[int, int], ...]
    """Each knock with the cause that it turned the beam too."""
    setup: tuple[int, ...]
    """Set-up of each cause that is a knock; -1 for others."""
    rivals: NDArray[np.bool_]
    """Pairs of which the second cannot join the first (k, k): two knocks of one set-up."""
    couples: NDArray[np.bool_]
    """Pairs that can be blamed together (k, k): any two, or a knock with its turn."""
    alone: NDArray[np.bool_]
    """Causes that can be blamed by themselves (k,): not a turn, which needs its knock."""
    hat: Array
    """H = A Q A' of the whitened system (n, n)."""
    real: NDArray[np.bool_]
    """Rows of H that are readings, not assumptions (n,)."""
    row: dict[int, int]
    """Row of H for each cause that is a reading."""

    def evidence(self, cause: int) -> float:
        """Return the share of the contradiction that lies in other readings; the rest lies in assumptions."""
        if cause not in self.row:
            return 1.0
        weight = self.hat[self.row[cause]] ** 2
        weight[self.row[cause]] = 0.0
        return float(weight[self.real].sum() / max(weight.sum(), 1e-300))


def pool_of(network: Network, adjustment: Adjustment) -> Pool:
    """Return every cause, linearised at the adjusted wall as if no verdict had been given yet."""
    observations, rows = network.observations, _kept_rows(network)
    kept = [observations[i] for i in rows]
    own = np.array([o.own_sd for o in kept])
    design, misclosure = _unjudged(network, adjustment, rows, own)
    basis = np.linalg.qr(design)[0]
    hat = basis @ basis.T
    b = misclosure - basis @ (basis.T @ misclosure)
    real = np.array([not o.assumed for o in kept])
    readings = np.flatnonzero(real)
    causes, patterns = _others(network, kept, own)
    reach = patterns - (patterns @ basis) @ basis.T
    across = reach[:, readings]
    gram = np.block(
        [[(np.eye(len(kept)) - hat)[np.ix_(readings, readings)], across.T], [across, reach @ patterns.T]]
    )
    causes = [Cause(reading=kept[i], unit=float(own[i])) for i in readings] + causes
    norm = np.concatenate([np.ones(len(readings)), np.einsum("kn,kn->k", patterns, patterns)])
    lean = np.concatenate([b[readings], patterns @ b])
    least = np.array([SEEN if c.laser else CHECKED for c in causes], dtype=float)
    found = np.flatnonzero(np.diag(gram) > least * norm)
    causes = [causes[k] for k in found]
    setup = np.array([-1 if c.knock is None else c.knock.setup for c in causes], dtype=int)
    rivals = (setup[:, None] == setup) & (setup >= 0)[:, None]
    alone = np.array([c.knock is None or not c.knock.tilted for c in causes], dtype=bool)
    with_turn = _with_turn(causes)
    couples = np.outer(alone, alone) & ~rivals
    for knock, turn in with_turn:
        couples[knock, turn] = True
    return Pool(
        causes=tuple(causes),
        lean=lean[found],
        gram=gram[np.ix_(found, found)],
        with_turn=with_turn,
        setup=tuple(setup.tolist()),
        rivals=rivals,
        couples=couples,
        alone=alone,
        hat=hat,
        real=real,
        row={k: int(readings[place]) for k, place in enumerate(found) if place < len(readings)},
    )


def _kept_rows(network: Network) -> list[int]:
    return [i for i, o in enumerate(network.observations) if not o.id.startswith("assumed.jump")]


def _unjudged(network: Network, adjustment: Adjustment, rows: list[int], own: Array) -> tuple[Array, Array]:
    """Return Jacobian and misclosure whitened by the readings' own sds, without the unknowns of knocks."""
    observations = network.observations
    used = np.array([observations[i].sd for i in rows])
    design = adjustment.design[rows] * (used / own)[:, None]
    misclosure = -adjustment.residual[rows] / own
    jumps = [k for pair in network.jumps.values() for k in pair if k is not None]
    misclosure += design[:, jumps] @ adjustment.x[jumps]
    return np.delete(design, jumps, axis=1), misclosure


def _others(network: Network, kept: Sequence[Observation], own: Array) -> tuple[list[Cause], Array]:
    """Return knocks and lasers with their whitened patterns."""
    causes: list[Cause] = []
    patterns = [np.zeros((0, len(kept)))]
    for setup in range(len(network.heights)):
        some, rows = _knocks(network, kept, own, setup)
        causes += some
        patterns.append(rows)
    place = {o.id: i for i, o in enumerate(kept)}
    for group in network.lasers:
        tilt = place[f"assumed.tilt.{group[0][0] + 1}"]
        row = np.zeros((1, len(kept)))
        row[0, tilt] = -1.0 / own[tilt]
        causes.append(Cause(laser=tuple(setup for setup, _ in group)))
        patterns.append(row)
    return causes, np.vstack(patterns)


def _knocks(
    network: Network, kept: Sequence[Observation], own: Array, setup: int
) -> tuple[list[Cause], Array]:
    shots = np.array([i for i, o in enumerate(kept) if o.setup == setup], dtype=int)
    order = np.array([kept[i].order for i in shots])
    places = sorted(set(order.tolist()))[:-1]
    if not places:
        return [], np.zeros((0, len(kept)))
    along = np.array([kept[i].x or 0.0 for i in shots]) - network.stands[setup]
    later = (order[None, :] > np.array(places)[:, None]) / own[shots]
    rows = np.zeros((2 * len(places), len(kept)))
    rows[: len(places), shots] = later
    rows[len(places) :, shots] = later * along
    causes = [Cause(knock=Knock(setup, after, tilted)) for tilted in (False, True) for after in places]
    return causes, rows


def _with_turn(causes: Sequence[Cause]) -> tuple[tuple[int, int], ...]:
    place = {c.knock: k for k, c in enumerate(causes) if c.knock}
    pairs = [(k, place.get(Knock(knock.setup, knock.after, tilted=True))) for knock, k in place.items()]
    return tuple((k, turn) for k, turn in pairs if turn is not None and turn != k)
