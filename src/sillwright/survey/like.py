"""Like openings: the same readings, taken at the same places, with the same standard deviations.

Only their sizes and the numbers read differ, so a whole batch of them shares one linear part.
Axes as in the job: x to the right along the wall, z up from the mark; all at the outer face.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sillwright.errors import BadInput, Fault, OutOfRange

Array: TypeAlias = NDArray[np.float64]

_THREE = ("bottom", "middle", "top")
_ACROSS = ("left", "centre", "right")
_SET_UP = ("mark", *(f"sill {at}" for at in _ACROSS), *(f"head {at}" for at in _ACROSS))
_ALONG = ("left jack x", "right jack x", *(f"width {at}" for at in _THREE), "left lean", "right lean")
_UP = (*(f"height {at}" for at in _ACROSS), *(f"set-up {i} {at}" for i in (1, 2) for at in _SET_UP))
_DIAGONALS = ("diagonal bottom left to top right", "diagonal bottom right to top left")

UNKNOWNS = (
    *(f"{side} jamb x {at}" for side in ("left", "right") for at in _THREE),
    *(f"{edge} z {at}" for edge in ("sill", "head") for at in _ACROSS),
    "beam z 1",
    "beam z 2",
)
"""Names of the 14 columns of `x` and `sd`; z counts from the mark."""

READINGS = (*_ALONG, *_UP, *_DIAGONALS)
"""Names of the 26 columns of `LikeOpenings.readings`."""

OBSERVATIONS = (
    *_ALONG,
    "left jamb straight",
    "right jamb straight",
    *_UP,
    "sill straight",
    "head straight",
    *_DIAGONALS,
)
"""Names of the 30 columns of `residual` and `redundancy`: the readings and four assumed zeros."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LikeSds:
    """Standard deviations shared by a batch of like openings [in], each above 0.

    The last three are what is taken of old framing where nothing was read (common practice, no source): how
    far the middle of a jack, sill or head lies off the straight between its two outer places.
    """

    running_sd: float
    width_sd: float
    lean_sd: float
    height_sd: float
    laser_sd: float
    diagonal_sd: float
    jack_bow_sd: float = 3 / 16
    sill_bow_sd: float = 3 / 16
    head_sag_sd: float = 1 / 4

    def __post_init__(self) -> None:
        bad = [f.name for f in fields(self) if not 0 < getattr(self, f.name) < np.inf]
        if bad:
            raise BadInput(*(Fault(name, "is not a length above 0.", "Give it in inches.") for name in bad))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LikeOpenings:
    """Readings of B like openings, each complete [in].

    Attributes:
        readings:  (B, 26) in the order of `READINGS`. Jack positions are read at the bottom place; a lean is
                   x at the top less x at the bottom; laser readings count down from the beam (above it
                   negative); diagonals run from corner to corner.
        width:     (B,) nominal width, above 2 `near`
        height:    (B,) nominal height, above 2 `near`. The nominal size fixes only how far the corners lie
                   beyond the outer places.
        near:      distance of the outer places from the corners, at least 0; the middle ones halve the size
        sds:       standard deviations, the same for all

    Raises:
        BadInput:   shapes that do not agree, numbers that are not finite, a diagonal that is not above 0
        OutOfRange: an opening too small for `near`
    """

    readings: Array
    width: Array
    height: Array
    near: float = 2.0
    sds: LikeSds

    def __post_init__(self) -> None:
        for name in ("readings", "width", "height"):
            object.__setattr__(self, name, _finite(name, getattr(self, name)))
        self._check_shapes()
        if np.any(self.readings[:, -2:] <= 0):
            raise BadInput(Fault("readings", "has a diagonal that is not above 0.", "Measure it again."))
        smallest = min(self.width.min(), self.height.min())
        if not 0 <= 2 * self.near < smallest:
            raise OutOfRange(
                f"near: the outer places lie {self.near:g} in from the corners, and the smallest opening is"
                f" {smallest:g} in across. Take them between 0 and half of that."
            )

    def _check_shapes(self) -> None:
        count = len(self)
        wanted = {"readings": (count, len(READINGS)), "width": (count,), "height": (count,)}
        shapes = {name: getattr(self, name).shape for name in wanted}
        faults = [
            Fault(name, f"has shape {shapes[name]}, not {shape}.", "Give one row for each opening.")
            for name, shape in wanted.items()
            if shapes[name] != shape
        ]
        if faults:
            raise BadInput(*faults)
        if not count:
            raise BadInput(Fault("readings", "holds no opening.", "Give at least one."))

    def __len__(self) -> int:
        """Return B."""
        return self.readings.shape[0] if self.readings.ndim else 0

    @property
    def overhang(self) -> Array:
        """How far corners lie beyond the outer places, as a share of the spacing of the places, (2, B).

        First up the jambs, near / (height/2 - near), which x needs; then along sill and head, for z.
        """
        return np.stack([self.near / (size / 2 - self.near) for size in (self.height, self.width)])


def _finite(name: str, values: ArrayLike) -> Array:
    try:
        array = np.ascontiguousarray(values, dtype=np.float64)
    except (TypeError, ValueError):
        fault = Fault(name, "is not a table of numbers.", "Give every row the same number of readings.")
        raise BadInput(fault) from None
    bad = np.argwhere(~np.isfinite(array))
    if bad.size:
        place = "".join(f"[{i}]" for i in bad[0])
        raise BadInput(
            Fault(f"{name}{place}", "is not a finite number.", "Leave out openings not read in full.")
        )
    return array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BatchResult:
    """Adjusted openings, one row each, with B openings, 14 unknowns and 30 observations.

    Attributes:
        x:          (B, 14) adjusted coordinates in the order of `UNKNOWNS` [in]
        sd:         (B, 14) their standard deviations from the stated sds, sqrt(Q_ii) [in]
        residual:   (B, 30) v, adjusted less observed, in the order of `OBSERVATIONS` [in]
        redundancy: (B, 30) r_i = 1 - p_i (A Q A')_ii, from 0 to 1; their sum is 30 - 14
        vPv:        (B,) weighted sum of squares of the residuals: chi-square of 16 if the sds are right
    """

    x: Array
    sd: Array
    residual: Array
    redundancy: Array
    vPv: Array  # noqa: N815 - the symbol of the adjustment literature

    @classmethod
    def empty(cls, count: int) -> BatchResult:
        """Return room for `count` openings, to be filled.

        One block for all five: fresh memory in small pieces costs more than the adjustment.
        """
        widths = (len(UNKNOWNS), len(UNKNOWNS), len(OBSERVATIONS), len(OBSERVATIONS), 1)
        pieces = np.split(np.empty(count * sum(widths)), count * np.cumsum(widths)[:-1])
        x, sd, residual, redundancy, vPv = (p.reshape(count, w) for p, w in zip(pieces, widths, strict=True))
        return cls(x=x, sd=sd, residual=residual, redundancy=redundancy, vPv=vPv[:, 0])
