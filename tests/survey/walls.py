"""Walls for trials: example jobs with readings changed, or read anew with seeded errors."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Job, load_job
from sillwright.survey.build import build
from sillwright.survey.network import Network
from sillwright.survey.observation import Equations, Observation
from sillwright.survey.outliers import cleanse

Floats = NDArray[np.float64]

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = tuple(sorted(path.stem for path in EXAMPLES.glob("*.toml")))
STEP = re.compile(r"([a-z_]+)|\[(\d+)\]")
LARGEST_SLOPE = 0.3e-3
"""Bound of a laser's error of level in the job files [in/in]."""


@cache
def example(name: str) -> Job:
    return load_job(EXAMPLES / f"{name}.toml").job


def changed(job: Job, values: Mapping[str, float]) -> Job:
    """The job with the readings at these places in the file saying something else [in]."""
    raw = job.model_dump()
    for path, value in values.items():
        reading = _found(raw, path)
        reading["value"], reading["text"] = value, f"{value:.6f}"
    return Job.model_validate(raw)


def _found(raw: dict[str, Any], path: str) -> dict[str, Any]:
    node: Any = raw
    for key, number in STEP.findall(path):
        node = node[int(number) if number else key]
    if isinstance(node, tuple):
        node = node[0]
    assert isinstance(node, dict)
    return node


def graduation(job: Job) -> float:
    return 1 / 16 if job.units == "in" else 1 / 25.4


def rounded(job: Job, value: float) -> float:
    return round(value / graduation(job)) * graduation(job)


def readings_of(job: Job) -> list[Observation]:
    return [o for o in build(job).observations if not o.assumed]


def read_anew(job: Job, rng: np.random.Generator, *, bows: float = 0.5) -> Job:
    """The same kinds of readings of a like wall, with random errors as stated and no mistake.

    The geometry is the adjusted one; what is assumed of old framing is drawn at `bows` times the standard
    deviation assumed, the laser's slope within its maker's bound.
    """
    network = build(job)
    x = _geometry(job, network) + bows * _framing(network, rng)
    slope = rng.uniform(-LARGEST_SLOPE, LARGEST_SLOPE)
    for group in network.lasers:
        for setup, sign in group:
            x[network.tilts[setup]] = sign * slope
    truth, _ = Equations(tuple(network.observations), len(x))(x)
    values = {}
    for o, value in zip(network.observations, truth, strict=True):
        if not o.assumed:
            values[o.path] = rounded(job, value - o.offset + rng.normal(0.0, o.own_sd))
    return changed(job, values)


ADJUSTED: dict[int, tuple[Job, Network, Floats]] = {}


def _geometry(job: Job, network: Network) -> Floats:
    if id(job) not in ADJUSTED:
        solution = cleanse(job)
        ADJUSTED[id(job)] = (job, solution.network, solution.adjustment.x)
    _, adjusted, x = ADJUSTED[id(job)]
    names = adjusted.unknowns.index
    own = zip(network.unknowns.index, network.unknowns.start, strict=True)
    return np.array([x[names[name]] if name in names else start for name, start in own])


def _framing(network: Network, rng: np.random.Generator) -> Floats:
    """A draw of all unknowns from what is assumed of framing alone, with a loose hold on the rest."""
    assumed = tuple(o for o in network.observations if o.assumed)
    _, rows = Equations(assumed, len(network.unknowns.start))(np.array(network.unknowns.start))
    rows = rows / np.array([o.sd for o in assumed])[:, None]
    normal = rows.T @ rows + np.eye(rows.shape[1]) / 0.25**2
    root = np.linalg.cholesky(normal)
    return np.asarray(np.linalg.solve(root.T, rng.normal(size=rows.shape[1])))
