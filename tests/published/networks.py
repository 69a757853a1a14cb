"""Published networks as models for `adjust`: heights, plane and spatial distances."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any

import numpy as np
from tests.published.checks import read

from sillwright.survey.adjust import Adjustment, Array, adjust

_AXES = {
    "level-net": ("height_m",),
    "distance-net-2d": ("x_m", "y_m"),
    "distance-net-3d": ("x_m", "y_m", "z_m"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Points, some of them unknown, and the readings between them [m]."""

    axes: tuple[str, ...]
    fixed: dict[str, Array]
    unknown: tuple[str, ...]
    start: Array
    ends: tuple[tuple[str, str], ...]
    observed: Array
    sd: Array
    free: bool = False
    names: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        names = tuple(f"{point} {axis}" for point in self.unknown for axis in self.axes)
        object.__setattr__(self, "names", names)

    def model(self, x: Array) -> tuple[Array, Array]:
        """Return computed readings and their Jacobian at x (u,)."""
        size = len(self.axes)
        place = self.fixed | {p: x[i * size : (i + 1) * size] for i, p in enumerate(self.unknown)}
        column = {p: slice(i * size, (i + 1) * size) for i, p in enumerate(self.unknown)}
        computed, jacobian = np.zeros(len(self.ends)), np.zeros((len(self.ends), len(x)))
        for row, (start, end) in enumerate(self.ends):
            away = place[end] - place[start]
            # a height difference has a sign, a distance has none
            computed[row] = away[0] if size == 1 else np.linalg.norm(away)
            direction = np.ones(1) if size == 1 else away / computed[row]
            for point, sign in ((start, -1.0), (end, 1.0)):
                if point in column:
                    jacobian[row, column[point]] += sign * direction
        return computed, jacobian

    def datum(self, at: Array) -> Array:
        """Inner constraints of a free plane network: two shifts, one turn about its centre."""
        x, y = (at.reshape(-1, 2) - at.reshape(-1, 2).mean(axis=0)).T
        one, none = np.ones_like(x), np.zeros_like(x)
        rows = [np.column_stack(pair).ravel() for pair in ((one, none), (none, one), (-y, x))]
        return np.array([row / np.linalg.norm(row) for row in rows])

    def adjusted(self, observed: Array | None = None, *, sd_scale: float = 1.0) -> Adjustment:
        """Return the adjustment, of other readings or with scaled standard deviations where given."""
        readings = self.observed if observed is None else observed
        sd = self.sd * sd_scale
        if not self.free:
            return adjust(self.model, readings, sd=sd, start=self.start)
        first = adjust(self.model, readings, sd=sd, start=self.start, datum=self.datum(self.start))
        # the turn is laid down at the adjusted points, as the printed standard deviations are
        return adjust(self.model, readings, sd=sd, start=first.x, datum=self.datum(first.x))


@cache
def network(name: str) -> Network:
    """Return a network of the collection by the name of its file."""
    data = read(name)
    axes = _AXES[data["kind"]]
    fixed = set(data["datum"]["fixed"])
    place = {p: np.array([at[axis] for axis in axes]) for p, at in data["approximate"].items()}
    unknown = tuple(p for p in place if p not in fixed)
    readings = data["observations"]
    return Network(
        axes=axes,
        fixed={p: place[p] for p in fixed},
        unknown=unknown,
        start=np.concatenate([place[p] for p in unknown]),
        ends=tuple((o["from"], o["to"]) for o in readings),
        observed=np.array([o["value_m"] for o in readings]),
        sd=np.array([_sigma(o) for o in readings]),
        free=bool(data["datum"]["free_net_points"]),
    )


def _sigma(reading: dict[str, Any]) -> float:
    """Return a reading's standard deviation: as listed, or the one for 1 km times the root of its length.

    Levelled lines list it rounded to a nanometre; the one for 1 km is a whole number of micrometres.
    """
    sigma = float(reading["sigma_m"])
    if "line_length_m" not in reading:
        return sigma
    root = float(np.sqrt(reading["line_length_m"] / 1e3))
    return round(sigma / root, 6) * root


def level_loop() -> Network:
    """Return the loop levelled forward and back (level-loop-forward-back) [m]."""
    data = read("level-loop-forward-back")
    readings = data["observations"]
    return Network(
        axes=("height_m",),
        fixed={p: np.array([z]) for p, z in data["datum"]["fixed"].items()},
        unknown=("4", "3", "2"),
        start=np.zeros(3),
        ends=tuple((o["from"], o["to"]) for o in readings),
        observed=np.array([o["value_m"] for o in readings]),
        sd=np.full(len(readings), data["sigma_m"]),
    )


def two_benchmarks(*, weighted: bool) -> Network:
    """Return the level net between two benchmarks (level-two-benchmarks) [ft]."""
    data = read("level-two-benchmarks")
    readings = data["observations"]
    # weight 12 / length, so sd = sqrt(length / 12)
    sd = [np.sqrt(o["length_mi"] / 12.0) if weighted else 1.0 for o in readings]
    return Network(
        axes=("height_ft",),
        fixed={p: np.array([z]) for p, z in data["benchmarks"].items()},
        unknown=("A", "B", "C"),
        start=np.zeros(3),
        ends=tuple((o["from"], o["to"]) for o in readings),
        observed=np.array([o["value_ft"] for o in readings]),
        sd=np.array(sd),
    )
