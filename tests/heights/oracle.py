"""A second way to the same answers: linear programs of a general library, and every subset tried in turn."""

from __future__ import annotations

from itertools import combinations
from math import inf

import numpy as np
import numpy.typing as npt
from scipy.optimize import linprog

from sillwright.heights import DATUM
from sillwright.heights.model import Link

Row = npt.NDArray[np.float64]


def holds(names: list[str], relations: list[Link]) -> bool:
    """Say whether some heights satisfy every relation."""
    return _solve(names, relations, np.zeros(len(names))) is not None


def most(names: list[str], relations: list[Link], *, lower: str, upper: str) -> float:
    """Return the most that one level can stand above another; inf: no bound."""
    cost = np.zeros(len(names))
    cost[names.index(lower)] += 1.0
    cost[names.index(upper)] -= 1.0
    answer = _solve(names, relations, cost)
    return inf if answer is None else -answer


def smallest_clash(names: list[str], relations: list[Link]) -> int:
    """Return how many relations the smallest set that clashes has; 0: none clashes."""
    for count in range(1, len(relations) + 1):
        if any(not holds(names, list(some)) for some in combinations(relations, count)):
            return count
    return 0


def least_cost(names: list[str], relations: list[Link], wishes: list[tuple[str, str, float]]) -> float:
    """Return the least sum of distances from wishes (lower, upper, size)."""
    count, extra = len(names), len(wishes)
    rows, limits = [], []
    for number, (lower, upper, wish) in enumerate(wishes):
        for sign in (1.0, -1.0):
            row = np.zeros(count + extra)
            row[names.index(upper)] += sign
            row[names.index(lower)] -= sign
            row[count + number] = -1.0
            rows.append(row)
            limits.append(sign * wish)
    a, b = _rows(names, relations, extra)
    cost = np.r_[np.zeros(count), np.ones(extra)]
    bounds = [*_bounds(names), *[(0.0, None)] * extra]
    answer = linprog(cost, A_ub=np.array(rows + a), b_ub=np.array(limits + b), bounds=bounds, method="highs")
    assert answer.status == 0
    return float(answer.fun or 0.0)


def _solve(names: list[str], relations: list[Link], cost: Row) -> float | None:
    a, b = _rows(names, relations, 0)
    if not a:
        return 0.0 if not cost.any() else None
    answer = linprog(cost, A_ub=np.array(a), b_ub=np.array(b), bounds=_bounds(names), method="highs")
    return float(answer.fun or 0.0) if answer.status == 0 else None


def _rows(names: list[str], relations: list[Link], extra: int) -> tuple[list[Row], list[float]]:
    a, b = [], []
    for link in relations:
        row = np.zeros(len(names) + extra)
        row[names.index(link.upper)] += 1.0
        row[names.index(link.lower)] -= 1.0
        if link.high < inf:
            a.append(row)
            b.append(link.high)
        if link.low > -inf:
            a.append(-row)
            b.append(-link.low)
    return a, b


def _bounds(names: list[str]) -> list[tuple[float | None, float | None]]:
    return [(0.0, 0.0) if name == DATUM else (None, None) for name in names]
