"""Timing and the shape of a result."""

from __future__ import annotations

import os
import platform
from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version
from statistics import median
from time import perf_counter

_SETTINGS = ("OPENBLAS_CORETYPE", "OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One comparison: seconds for the same work, and what must be known to read them."""

    ours: str
    ours_s: tuple[float, ...]
    theirs: str
    theirs_s: tuple[float, ...]
    target: float
    notes: tuple[str, ...] = ()

    @property
    def ratio(self) -> float:
        return median(self.theirs_s) / median(self.ours_s)

    def __str__(self) -> str:
        verdict = "met" if self.ratio >= self.target else "missed"
        lines = (
            f"  {self.ours}: {_spread(self.ours_s)}",
            f"  {self.theirs}: {_spread(self.theirs_s)}",
            f"  ratio of medians {self.ratio:.3g}; target {self.target:g}: {verdict}",
            *(f"  {note}" for note in self.notes),
        )
        return "\n".join(lines)


def _spread(seconds: tuple[float, ...]) -> str:
    low, middle, high = min(seconds), median(seconds), max(seconds)
    return f"median {middle * 1e3:.4g} ms ({low * 1e3:.4g} to {high * 1e3:.4g}, {len(seconds)} runs)"


def seconds(work: Callable[[], object]) -> float:
    """Return the wall time of one call."""
    start = perf_counter()
    work()
    return perf_counter() - start


def machine() -> str:
    """Return the facts that bear on speed, nothing that tells one machine from another of its kind."""
    packages = ", ".join(f"{name} {version(name)}" for name in ("numpy", "scipy", "numba"))
    settings = ", ".join(f"{key}={os.environ[key]}" for key in _SETTINGS if key in os.environ)
    cores = f"{os.cpu_count()} cores, {platform.machine()}, Python {platform.python_version()}"
    return f"{cores}, {packages}; {settings or 'no thread or kernel settings in the environment'}"
