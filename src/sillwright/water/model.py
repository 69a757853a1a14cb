"""What water runs over: flat facets of a wall, and the sheets laid on them.

A facet is a rectangle in two of the wall's own axes, whose corners sit where the adjusted geometry puts
them. Axes are shared: all that runs along the wall is measured on `x`, all that stands on `z`, the depth of
an opening on an axis of its own, the thickness of the ledger on `out`. So two facets that meet along an edge
cut it at the same places.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

Point = tuple[float, float, float]
"""x to the right along the wall, y inward from the sheathing face, z up; inches."""
Span = tuple[float, float]


class Face(StrEnum):
    """How a facet lies, which says how water moves on it."""

    UPRIGHT = "upright"
    """Water runs down, and sideways only in wind."""
    LYING = "lying"
    """A sill, the top of a ledger: water runs down its slope, and everywhere when it is level."""
    UNDERSIDE = "underside"
    """A head, the underside of a ledger: a film clings to it and goes everywhere."""


@dataclass(frozen=True, slots=True)
class Warp:
    """How far the points of a face are from where a true wall would have them, inches.

    Openings that are out of level, plumb or square carry the lines round them along. Between its lines the
    shift is interpolated; outside them it stays as it is at the last line.
    """

    u: tuple[float, ...]
    v: tuple[float, ...]
    du: tuple[tuple[float, ...], ...]
    """At (u, v), a row for every line of u."""
    dv: tuple[tuple[float, ...], ...]

    def shift(self, u: NDArray[np.float64], v: NDArray[np.float64]) -> tuple[NDArray[np.float64], ...]:
        """Return how far the points (u, v) are moved along both axes."""
        i, s = _between(np.array(self.u), u)
        j, t = _between(np.array(self.v), v)
        moved = []
        for table in (np.array(self.du), np.array(self.dv)):
            near = (1 - t) * table[i, j] + t * table[i, j + 1]
            far = (1 - t) * table[i + 1, j] + t * table[i + 1, j + 1]
            moved.append((1 - s) * near + s * far)
        return tuple(moved)


def _between(
    lines: NDArray[np.float64], values: NDArray[np.float64]
) -> tuple[NDArray[np.intp], NDArray[np.float64]]:
    place = np.clip(np.searchsorted(lines, values, "right") - 1, 0, len(lines) - 2)
    share = (values - lines[place]) / (lines[place + 1] - lines[place])
    return place, np.clip(share, 0.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A part of a facet that a carpenter would point at."""

    name: str
    words: str
    u: Span
    v: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Facet:
    """One flat face: `u` and `v` are its two axes, in their order on the facet."""

    name: str
    words: str
    """What the trade calls it, e.g. `left jamb of A`."""
    axes: tuple[str, str]
    u: Span
    v: Span
    face: Face
    corners: tuple[Point, Point, Point, Point]
    """Where (u0, v0), (u1, v0), (u1, v1), (u0, v1) are."""
    dry: bool
    """Is it wood, or sheathing, that must stay dry?"""
    rain: tuple[Span, Span] | None
    """The part (u, v) that rain reaches: a return gets none once the unit fills the opening."""
    holes: tuple[tuple[Span, Span], ...] = ()
    zones: tuple[Zone, ...] = ()
    """Parts with names of their own; a later one takes what it shares with an earlier one."""
    warp: Warp | None = None

    def place(self, u: ArrayLike, v: ArrayLike) -> NDArray[np.float64]:
        """Return where points of the facet are: x, y and z along the last axis, inches."""
        u, v = np.broadcast_arrays(np.asarray(u, float), np.asarray(v, float))
        if self.warp is not None:
            du, dv = self.warp.shift(u, v)
            u, v = u + du, v + dv
        (u0, u1), (v0, v1) = self.u, self.v
        s, t = ((u - u0) / (u1 - u0))[..., None], ((v - v0) / (v1 - v0))[..., None]
        a, b, c, d = (np.array(corner) for corner in self.corners)
        points: NDArray[np.float64] = (1 - s) * (1 - t) * a + s * (1 - t) * b + s * t * c + (1 - s) * t * d
        return points


@dataclass(frozen=True, slots=True)
class Edge:
    """A piece of a facet's boundary, or of a line across it: `at` on one axis, `span` along the other."""

    facet: str
    across: str
    """`u` or `v`: the axis that the line is square to."""
    at: float
    span: Span


@dataclass(frozen=True, slots=True, kw_only=True)
class Glue:
    """Two facets that share an edge. Both measure along it on one axis."""

    one: Edge
    other: Edge
    side_one: int
    """On which side of the line the first facet's cells lie: -1 below the value `at`, +1 above it."""
    side_other: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Mount:
    """A solid piece on the wall, e.g. a ledger: it covers part of a facet, and has faces of its own.

    A sheet that climbs from the facet onto a face of the piece lies outside it; one that goes on behind the
    piece lies inside it.
    """

    name: str
    words: str
    facet: str
    u: Span
    v: Span
    faces: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A point where three or more facets meet, and the sum of their angles there in degrees."""

    name: str
    words: str
    point: Point
    at: tuple[tuple[str, float, float], ...]
    """Facet, u and v: where the point is on each facet that meets there."""
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Complex:
    """All facets of a wall and how they hang together."""

    facets: tuple[Facet, ...]
    glues: tuple[Glue, ...]
    mounts: tuple[Mount, ...] = ()
    corners: tuple[Corner, ...] = ()
    room: tuple[Edge, ...] = ()
    """Edges past which water is in the room."""
    by_name: dict[str, Facet] = field(default_factory=dict, compare=False, repr=False)

    def __post_init__(self) -> None:
        self.by_name.update({each.name: each for each in self.facets})


class Kind(StrEnum):
    """What a piece is."""

    FACE = "water-resistive sheathing face"
    WRAP = "wall wrap"
    BACKING = "backing sheet"
    PATCH = "corner patch"
    PAN = "pan"
    STRIP = "strip"
    LEDGER_SHEET = "ledger sheet"
    METAL = "metal"
    UNIT = "unit"
    BEAD = "bead"
    TAPE = "tape"
    MOUNT = "mount"


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """The part of a sheet that lies on one facet."""

    name: str
    facet: str
    u: Span
    v: Span
    bonded: bool
    """Does it hold to what lies below it: rolled membrane, bedded sealant?"""
    bonds_above: bool = False
    """Does it hold what is laid over it, as a bead does?"""
    laid: int | None = None
    """The act that lays this part down, if it is not that of its sheet: a flap held up until then."""


class Join(StrEnum):
    """How two panels of one sheet hang together."""

    FOLD = "fold"
    """The sheet runs on flat: a crease over an edge, or no crease at all."""
    PLEAT = "pleat"
    """The sheet is folded over itself: whole, but not flat along this edge."""
    FORMED = "formed"
    """Stretched, soldered, welded or moulded: whole, but no flat sheet does it."""


@dataclass(frozen=True, slots=True)
class Seam:
    """Two panels of a sheet that are one piece along the edge they share."""

    one: str
    other: str
    join: Join = Join.FOLD


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a sheet is cut from."""

    name: str
    family: str
    width: float | None = None
    """Of the roll, inches; None: not from a roll."""
    thickness: float = 0.0
    stretches: bool = False
    self_seals: bool = False
    """Does it close round a fastener that goes through it?"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One piece of the dressing of a wall, flat before it is folded round the facets."""

    name: str
    words: str
    kind: Kind
    stock: Stock
    panels: tuple[Panel, ...]
    seams: tuple[Seam, ...] = ()
    laid: int
    """Its place in the order of work: what has a greater number lies over it."""
    opening: str | None = None
    """The opening that it belongs to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """Something driven through the sheets at a point of a facet."""

    name: str
    words: str
    facet: str
    u: float
    v: float
    laid: int
    """It goes through what lies there when it is driven."""
    through: str | None = None
    """The mount that it goes through, from a face of it into the facet behind."""
    sealed: bool = False
    """Is it bedded in sealant of its own?"""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeakSpot:
    """Where a unit itself lets water through: a sill corner, a mull, a frame joint."""

    words: str
    facet: str
    u: float
    v: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Dressing:
    """A wall with its sheets: all that the way of water depends on."""

    complex: Complex
    sheets: tuple[Sheet, ...]
    fasteners: tuple[Fastener, ...] = ()
    weak_spots: tuple[WeakSpot, ...] = ()
