"""10,000 openings adjusted in one batch against a loop of a general solver over the same openings."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, partial
from statistics import median

import numpy as np
from numpy.typing import NDArray

from benchmarks.measure import Row, seconds
from benchmarks.one_by_one import METHODS, OneByOne
from benchmarks.synthetic import seeded_openings
from sillwright.survey.batch import adjust_batch
from sillwright.survey.compiled import adjust_compiled
from sillwright.survey.like import BatchResult, LikeOpenings

OPENINGS = 10_000
LOOPED = 300
RUNS = 9
_AGREE = 1e-6


def batch_numpy() -> Row:
    return _compare("NumPy batch", adjust_batch, target=130)


def batch_compiled() -> Row:
    return _compare("compiled batch", adjust_compiled, target=350)


def _compare(name: str, adjust: Callable[[LikeOpenings], BatchResult], *, target: float) -> Row:
    openings = seeded_openings(OPENINGS, seed=20)
    net = OneByOne(openings)
    setting = _fastest_setting()
    result = adjust(openings)  # compiles, and warms the memory
    looped = _loop(net, setting)
    worst = float(np.abs(looped - result.x[:LOOPED]).max())
    assert worst < _AGREE, f"answers differ by {worst:g} in"
    ours, theirs, barer = [], [], []
    for _ in range(RUNS):  # in turn, so that a busy moment of the machine touches all
        ours.append(seconds(lambda: adjust(openings)))
        theirs.append(seconds(lambda: _loop(net, setting)) * OPENINGS / LOOPED)
        barer.append(seconds(lambda: _loop(net, "leastsq")) * OPENINGS / LOOPED)
    return Row(
        ours=f"{name}, {OPENINGS} openings, with sds and redundancy numbers",
        ours_s=tuple(ours),
        theirs=f"loop of scipy.optimize.least_squares ({setting}), coordinates only",
        theirs_s=tuple(theirs),
        target=target,
        notes=(
            f"the loop ran over the first {LOOPED} openings and is scaled to {OPENINGS}",
            f"largest difference of a coordinate {worst:.1e} in",
            f"against the barer scipy.optimize.leastsq: {median(barer) / median(ours):.0f}",
        ),
    )


@lru_cache(maxsize=1)
def _fastest_setting() -> str:
    """Return the quickest of the general solver's settings on some of the openings."""
    net = OneByOne(seeded_openings(LOOPED, seed=20))
    names = [name for name in METHODS if name != "leastsq"]
    times = {name: min(seconds(partial(_loop, net, name, count=40)) for _ in range(3)) for name in names}
    return min(times, key=lambda name: times[name])


def _loop(net: OneByOne, setting: str, *, count: int = LOOPED) -> NDArray[np.float64]:
    solve = METHODS[setting]
    return np.array([solve(*net.problem(i)) for i in range(count)])
