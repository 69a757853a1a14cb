"""Which causes together explain the contradictions best: a search in closed form.

For causes with whitened patterns C (one column each), residuals b and projector M:

    T(C) = (C'b)' (C'MC)^-1 (C'b)

is by how much v'Pv falls when their sizes become unknowns; for one reading it is w^2. Causes are added one
or two at a time while each lowers v'Pv by more than the critical value, then exchanged, singly and in
pairs, as long as that explains more: so two mistakes that hide behind a third, innocent reading are found.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from sillwright.survey.adjust import Array
from sillwright.survey.causes import Pool

ROUNDS = 14
STEP = 1e-6
"""Share by which an exchange must explain more."""
DISTINCT = 1e-4
"""Share of its pattern that a cause must leave unexplained by the others to be told from them."""
RIDGE = 1e-9
"""Share added to each cause's own power, so that causes which do the same can be held side by side."""
MOST_FOR_PAIRS = 6
"""Causes up to which pairs are exchanged."""


@dataclass(slots=True)
class Search:
    """A set of causes held against the readings."""

    pool: Pool
    critical: float
    """Limit of |w|."""
    chosen: list[int] = field(default_factory=list)

    def run(self) -> list[int]:
        """Return the causes that explain the readings, by their place in the pool."""
        seen: set[frozenset[int]] = set()
        for _ in range(ROUNDS):
            if not self._add():
                break
            self._exchange()
            self._prune()
            if frozenset(self.chosen) in seen:
                break
            seen.add(frozenset(self.chosen))
        return self.chosen

    # ---- what a set explains

    def explained(self, some: list[int]) -> float:
        """Return T of a set of causes."""
        return float(self.pool.lean[some] @ self.sizes(some)) if some else 0.0

    def sizes(self, some: list[int]) -> Array:
        """Return the estimated size of each cause, in units of its pattern; of equal causes, shared."""
        gram = self.pool.gram[np.ix_(some, some)]
        return np.asarray(np.linalg.solve(gram + RIDGE * np.diag(np.diag(gram)), self.pool.lean[some]))

    def given(self, some: list[int]) -> tuple[Array, Array]:
        """Return lean and gram of all causes once those in `some` have their sizes."""
        pool = self.pool
        if not some:
            return pool.lean, pool.gram
        own = pool.gram[np.ix_(some, some)]
        weight = np.linalg.solve(own + RIDGE * np.diag(np.diag(own)), pool.gram[some]).T
        return pool.lean - weight @ pool.lean[some], pool.gram - weight @ pool.gram[some]

    def _free(self, some: list[int], power: Array) -> NDArray[np.bool_]:
        free = power > DISTINCT * np.diag(self.pool.gram)
        free &= ~self.pool.rivals[some].any(axis=0)
        free[some] = False
        return np.asarray(free)

    def gains(self, some: list[int]) -> Array:
        """Return by how much T rises when one more cause joins; 0 where it may not."""
        lean, gram = self.given(some)
        power = np.diag(gram)
        free = self._free(some, power) & self.pool.alone
        return np.where(free, lean**2 / np.where(free, power, 1.0), 0.0)

    def pair_gains(self, some: list[int]) -> Array:
        """Return by how much T rises when two more causes join (k, k), a knock with its turn among them."""
        pool, (lean, gram) = self.pool, self.given(some)
        power = np.diag(gram)
        free = self._free(some, power)
        # with powers scaled to 1: (w_i^2 + w_j^2 - 2 w_i w_j rho) / (1 - rho^2)
        scale = np.where(free, 1.0 / np.sqrt(np.where(free, power, 1.0)), 0.0)
        w, rho = lean * scale, gram * scale * scale[:, None]
        square = w**2
        top = square[:, None] + square - (2.0 * w[:, None]) * w * rho
        rest = 1.0 - rho**2
        fit = pool.couples & (rest > DISTINCT) & free & free[:, None]
        return np.where(fit, top / np.maximum(rest, DISTINCT), 0.0)

    # ---- moves

    def _add(self) -> bool:
        limit = self.critical**2
        single, double = self.gains(self.chosen), self.pair_gains(self.chosen)
        if not single.size:
            return False
        one, two = int(np.argmax(single)), divmod(int(np.argmax(double)), len(single))
        if double[two] > max(single[one] + limit, 2.0 * limit):
            self.chosen += [int(two[0]), int(two[1])]
        elif single[one] > limit:
            self.chosen.append(one)
        else:
            return False
        return True

    def blocks(self) -> list[list[int]]:
        """Return the chosen causes one by one, a knock together with its turn."""
        turn_of = {k: t for k, t in self.pool.with_turn if k in self.chosen and t in self.chosen}
        turns = set(turn_of.values())
        return [[c, turn_of[c]] if c in turn_of else [c] for c in self.chosen if c not in turns]

    def places(self, knock: int) -> list[list[int]]:
        """Return each place at which the set-up of a knock may have been moved and turned: both causes."""
        setup = self.pool.setup[knock]
        return [[k, t] for k, t in self.pool.with_turn if self.pool.setup[k] == setup]

    def _exchange(self) -> None:
        for _ in range(2 * ROUNDS):
            if not (self._exchange_one() or self._exchange_two()):
                return

    def _without(self, block: list[int]) -> list[int]:
        return [c for c in self.chosen if c not in block]

    def _exchange_one(self) -> bool:
        now = self.explained(self.chosen)
        for block in self.blocks():
            rest = self._without(block)
            if len(block) == 1:
                gains = self.gains(rest)
                better = [int(np.argmax(gains))]
                then = self.explained(rest) + gains[better[0]]
            else:
                better = max(self.places(block[0]), key=lambda place: self.explained([*rest, *place]))
                then = self.explained([*rest, *better])
            if then > now * (1.0 + STEP):
                self.chosen = [*rest, *better]
                return True
        return False

    def _exchange_two(self) -> bool:
        blocks = self.blocks()
        if len(blocks) > MOST_FOR_PAIRS:
            return False
        now = self.explained(self.chosen)
        single = [b[0] for b in blocks if len(b) == 1]
        for pair in [*map(list, combinations(single, 2)), *(b for b in blocks if len(b) > 1)]:
            rest = self._without(pair)
            gains = self.pair_gains(rest)
            best = divmod(int(np.argmax(gains)), len(gains))
            if self.explained(rest) + gains[best] > now * (1.0 + STEP):
                self.chosen = [*rest, int(best[0]), int(best[1])]
                return True
        return False

    def _prune(self) -> None:
        """Drop causes that the others have made needless, a knock's turn before the knock."""
        while self.chosen:
            now = self.explained(self.chosen)
            parts = [[c[-1]] for c in self.blocks()]
            loss = [now - self.explained(self._without(part)) for part in parts]
            weakest = int(np.argmin(loss))
            if loss[weakest] > self.critical**2:
                return
            self.chosen = self._without(parts[weakest])
