"""How a wall is looked at: from outside, turned and tilted, its long middles drawn short.

Orthographic axonometry: lengths along one direction shrink alike everywhere, and plumb lines stay plumb.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sillwright.drawing.scene import Point

TURN_DEG = 33.0
"""How far the viewer stands to the side."""
TILT_DEG = 27.0
"""How far the viewer looks down."""
SHORT = 2.0
"""What is left of a stretch that is drawn short [in]."""


@dataclass(frozen=True, slots=True)
class Shortened:
    """An axis some stretches of which are drawn short: (from, to) in inches, rising and apart."""

    cuts: tuple[tuple[float, float], ...] = ()

    def __call__(self, values: ArrayLike) -> NDArray[np.float64]:
        """Return where values of the axis are drawn [in]."""
        values = np.asarray(values, float)
        moved = values.copy()
        for low, high in self.cuts:
            share = np.clip((values - low) / (high - low), 0.0, 1.0)
            moved -= share * max(high - low - SHORT, 0.0)
        return moved

    @property
    def knots(self) -> tuple[float, ...]:
        """Return where the drawn length of an inch changes."""
        return tuple(end for cut in self.cuts for end in cut)


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A direction to look in: `from_left` and `from_above` of the wall, or from the other side."""

    from_left: bool = True
    from_above: bool = True
    x: Shortened = Shortened()
    z: Shortened = Shortened()

    def flat(self, points: ArrayLike) -> list[Point]:
        """Return where points (x, y, z) of the wall [in] are in the picture [in of the picture]."""
        where = np.asarray(points, float).reshape(-1, 3)
        x, y, z = self.x(where[:, 0]), where[:, 1], self.z(where[:, 2])
        right, up, _ = self._axes()
        across = x * right[0] + y * right[1]
        high = x * up[0] + y * up[1] + z * up[2]
        return list(zip(across.tolist(), high.tolist(), strict=True))

    def sees(self, normal: ArrayLike) -> bool:
        """Tell whether a face whose outside lies along a normal can be seen."""
        return float(np.dot(np.asarray(normal, float), self._axes()[2])) > 1e-9

    def _axes(self) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
        """Return what is to the right, up and toward the viewer in the picture, as directions of the wall."""
        turn = math.radians(TURN_DEG if self.from_left else -TURN_DEG)
        tilt = math.radians(TILT_DEG if self.from_above else -TILT_DEG)
        s, c, e, f = math.sin(turn), math.cos(turn), math.sin(tilt), math.cos(tilt)
        return np.array([c, -s, 0.0]), np.array([s * e, c * e, f]), np.array([-s * f, -c * f, e])
