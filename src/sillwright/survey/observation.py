"""Observations: what each reading, and each assumption about old framing, says of the unknowns."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from sillwright.survey.adjust import Array

Terms = tuple[tuple[int, float], ...]
"""A linear form: pairs of unknown's index and coefficient."""


def plus(*forms: tuple[float, Terms]) -> Terms:
    """Return the sum of scaled linear forms; a less b is `plus((1.0, a), (-1.0, b))`."""
    total: dict[int, float] = {}
    for factor, terms in forms:
        for index, coefficient in terms:
            total[index] = total.get(index, 0.0) + factor * coefficient
    return tuple(total.items())


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonal:
    """A distance between two points of the wall's face, each given by linear forms in x and z."""

    dx: Terms
    dz: Terms


@dataclass(frozen=True, slots=True, kw_only=True)
class Observation:
    """One reading or one assumption."""

    id: str
    path: str
    """Place in the job file; for an assumption, what is assumed."""
    label: str
    """For people: `B: width, middle`."""
    kind: str
    value: float
    sd: float
    """Standard deviation in the adjustment [in]; for a reading in doubt, as large as its possible error."""
    own_sd: float
    """Standard deviation of the reading itself [in]."""
    terms: Terms | Diagonal
    status: Literal["used", "doubtful", "set aside"] = "used"
    opening: str | None = None
    setup: int | None = None
    order: int = -1
    """Place in the set-up's series."""
    x: float | None = None
    """Where along the wall it was read [in]."""
    assumed: bool = False
    offset: float = 0.0
    """What was added to the number read to get `value` [in]."""

    @property
    def read(self) -> float:
        """Return the number as it was read [in]."""
        return self.value - self.offset


@dataclass(slots=True)
class Unknowns:
    """Names of the unknowns with their approximate values, in the order they were met."""

    index: dict[tuple[object, ...], int] = field(default_factory=dict)
    start: list[float] = field(default_factory=list)

    def add(self, name: tuple[object, ...], approximate: float) -> int:
        """Return the unknown's index; a new one starts at `approximate`."""
        if name not in self.index:
            self.index[name] = len(self.start)
            self.start.append(approximate)
        return self.index[name]


@dataclass(frozen=True, slots=True)
class Profile:
    """A line known at stations, straight between and beyond them: a sill, a head, a face of a jack."""

    stations: tuple[float, ...]
    unknown: tuple[int, ...]

    def at(self, place: float) -> Terms:
        """Return the profile's value at a place as a linear form."""
        if len(self.stations) == 1:
            return ((self.unknown[0], 1.0),)
        right = min(max(bisect_left(self.stations, place), 1), len(self.stations) - 1)
        a, b = self.stations[right - 1], self.stations[right]
        share = (place - a) / (b - a)
        if share in {0.0, 1.0}:
            return ((self.unknown[right - 1 if share == 0.0 else right], 1.0),)
        return ((self.unknown[right - 1], 1.0 - share), (self.unknown[right], share))

    def distance(self, place: float) -> float:
        """Return how far the nearest station is [in]."""
        return min(abs(place - station) for station in self.stations)

    def bends(self) -> Iterable[tuple[Terms, float, float]]:
        """Yield how far each inner station is off the chord of its neighbours, its place, that span [in]."""
        for i in range(1, len(self.stations) - 1):
            a, b, c = self.stations[i - 1 : i + 2]
            share = (b - a) / (c - a)
            form = ((self.unknown[i], 1.0), (self.unknown[i - 1], share - 1.0), (self.unknown[i + 1], -share))
            yield form, b, c - a


def merge(places: Iterable[float], *, within: float) -> tuple[float, ...]:
    """Return the places in order; a run of places, each within this of the next [in], as its middle."""
    runs: list[list[float]] = []
    for place in sorted(places):
        if runs and place - runs[-1][-1] <= within:
            runs[-1].append(place)
        else:
            runs.append([place])
    return tuple((run[0] + run[-1]) / 2.0 for run in runs)


class Equations:
    """The observations as one system: values, standard deviations, Jacobian.

    All rows are constant but those of the diagonals, so each step of the adjustment touches only these.
    """

    def __init__(self, observations: tuple[Observation, ...], unknowns: int) -> None:
        self.value = np.array([o.value for o in observations])
        self.sd = np.array([o.sd for o in observations])
        self._linear = np.zeros((len(observations), unknowns))
        self._diagonals: list[tuple[int, Array, Array]] = []
        for row, o in enumerate(observations):
            if isinstance(o.terms, Diagonal):
                self._diagonals.append((row, _vector(o.terms.dx, unknowns), _vector(o.terms.dz, unknowns)))
            else:
                for index, coefficient in o.terms:
                    self._linear[row, index] += coefficient

    def __call__(self, x: Array) -> tuple[Array, Array]:
        """Return computed observations and Jacobian at x."""
        computed, jacobian = self._linear @ x, self._linear.copy()
        for row, along, up in self._diagonals:
            dx, dz = float(along @ x), float(up @ x)
            length = float(np.hypot(dx, dz))
            computed[row] = length
            jacobian[row] = (dx * along + dz * up) / length
        return computed, jacobian


def _vector(terms: Terms, unknowns: int) -> Array:
    vector = np.zeros(unknowns)
    for index, coefficient in terms:
        vector[index] += coefficient
    return vector
