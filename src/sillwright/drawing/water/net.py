"""An opening laid flat like an opened box: the room in the middle, its returns round it, then the wall.

Not to scale: each part is as large as its words need. Where faces meet along an edge they still do; at the
corners, where they cannot lie flat, the net is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sillwright.drawing.page import Box
from sillwright.drawing.scene import Point
from sillwright.water import WALL, Complex

WALL_PART, DEPTH, WIDE, HIGH, DAM, FOOT = 0.57, 0.69, 1.06, 1.0, 0.3, 0.5
"""Paper for the wall round it, the depth, width and height of the opening, dam, a jamb's foot [paper in]."""
_ON = 1e-6
NEAR, _FOOT_IN = 12.0, 6.0
"""How far round it the wall is called after an opening; length of a jamb's foot, as places have it [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Net:
    """Where the faces of an opening lie [paper in]; x, z: of the opening, depth, dam [in]."""

    x: tuple[float, float]
    z: tuple[float, float]
    depth: float
    dam: float

    @property
    def across(self) -> tuple[float, ...]:
        """Return the lines from the left: wall, jamb, opening, jamb, wall."""
        right = WALL_PART + DEPTH + WIDE
        return 0.0, WALL_PART, WALL_PART + DEPTH, right, right + DEPTH, right + DEPTH + WALL_PART

    @property
    def up(self) -> tuple[float, ...]:
        """Return the lines from below: wall, sill, back dam, room, head, wall."""
        inner = WALL_PART + DEPTH
        room = inner + (DAM if self.dam > 0 else 0.0)
        return 0.0, WALL_PART, inner, room, room + HIGH, room + HIGH + DEPTH, room + HIGH + DEPTH + WALL_PART

    def at(self, facet: str, point: tuple[float, float, float]) -> Point:
        """Return where a point (x, y inward, z) of a face lies; of far parts of the wall, the rim."""
        x, y, z = point
        part = facet.rpartition(".")[2] if y >= 0 else ""
        share = min(max(y / self.depth, 0.0), 1.0)
        if part == "sill":
            return self._x(x), self.up[1] + share * DEPTH
        if part == "head":
            return self._x(x), self.up[5] - share * DEPTH
        if part == "dam":
            rise = min(max((z - self.z[0]) / self.dam, 0.0), 1.0)
            return self._x(x), self.up[2] + rise * DAM
        if part in ("left", "right"):
            return self.across[1 if part == "left" else 4] + (
                1 if part == "left" else -1
            ) * share * DEPTH, self._z(z)
        return self._on_wall(x, z)

    def _on_wall(self, x: float, z: float) -> Point:
        """Return where a point of the wall lies; on the opening's edge it is the wall's side of the cut."""
        beside = min(abs(x - end) for end in self.x) < _ON and self.z[0] < z < self.z[1]
        over = min(abs(z - end) for end in self.z) < _ON and self.x[0] < x < self.x[1]
        across, up = self._x(x), self._z(z)
        if beside:
            across = self.across[1 if x < sum(self.x) / 2 else 4]
        if over:
            up = self.up[1 if z < sum(self.z) / 2 else 5]
        return across, up

    def _x(self, x: float) -> float:
        if x < self.x[0]:
            return self.across[1] - min((self.x[0] - x) / NEAR, 1.0) * WALL_PART
        if x > self.x[1]:
            return self.across[4] + min((x - self.x[1]) / NEAR, 1.0) * WALL_PART
        return self.across[2] + (x - self.x[0]) / (self.x[1] - self.x[0]) * WIDE

    def _z(self, z: float) -> float:
        low, high = self.z
        if z < low:
            return self.up[1] - min((low - z) / NEAR, 1.0) * WALL_PART
        if z > high:
            return self.up[5] + min((z - high) / NEAR, 1.0) * WALL_PART
        foot = min(_FOOT_IN, (high - low) / 2)
        if z < low + foot:
            return self.up[2] + (z - low) / foot * FOOT
        rest = self.up[4] - self.up[2] - FOOT
        return self.up[2] + FOOT + (z - low - foot) / (high - low - foot) * rest

    def way(
        self, opening: str, steps: Sequence[tuple[str, Sequence[tuple[float, float, float]]]]
    ) -> list[Point]:
        """Return the last stretch of a way of water that is on the net: its faces, or the wall near it."""
        found: list[Point] = []
        for facet, points in steps:
            for x, y, z in points:
                own = facet.rpartition(".")[0] == opening
                beside = max(self.x[0] - x, x - self.x[1], self.z[0] - z, z - self.z[1])
                if own or (facet == WALL and beside <= NEAR):
                    found.append(self.at(facet, (x, y, z)))
                else:
                    found = []
        return found

    def room(self) -> Box:
        """Return the middle."""
        return Box(self.across[2], self.up[3], self.across[3], self.up[4])

    def cells(self, name: str) -> Iterator[tuple[str, str, Box]]:
        """Yield the places of an opening: place, the name to write, where it lies."""
        yield from self._lying(name)
        yield from self._upright(name)
        a, b, c, d, e, f = self.across
        p, q, r, _, t, u, v = self.up
        for side, left, right in ((".left", a, b), ("", c, d), (".right", e, f)):
            yield f"{name}.wall.under{side}", "", Box(left, p, right, q)
            yield f"{name}.wall.over{side}", "", Box(left, u, right, v)
        yield f"{name}.wall.left", "wall", Box(a, r, b, t)
        yield f"{name}.wall.right", "wall", Box(e, r, f, t)

    def _lying(self, name: str) -> Iterator[tuple[str, str, Box]]:
        left, right, third = self.across[2], self.across[3], WIDE / 3
        low, high = self.up[1], self.up[2]
        yield f"{name}.sill.left", "", Box(left, low, left + third, high)
        yield f"{name}.sill", "sill", Box(left + third, low, right - third, high)
        yield f"{name}.sill.right", "", Box(right - third, low, right, high)
        yield f"{name}.head", "head", Box(left, self.up[4], right, self.up[5])

    def _upright(self, name: str) -> Iterator[tuple[str, str, Box]]:
        _, b, c, d, e, _ = self.across
        low, top = self.up[2], self.up[4]
        if self.dam > 0:
            yield f"{name}.dam", "back dam", Box(c, low, d, self.up[3])
        for side, left, right in (("left", b, c), ("right", d, e)):
            yield f"{name}.{side}.foot", "", Box(left, low, right, low + FOOT)
            yield f"{name}.{side}", f"{side} jamb", Box(left, low + FOOT, right, top)

    def belongs(self) -> Iterator[tuple[Point, Point]]:
        """Yield lines across the cuts of the net, between parts of the wall that are one."""
        a, b, c, d, e, f = self.across
        p, q, r, _, t, u, v = self.up
        for z in (p, q, u, v):
            yield (b, z), (c, z)
            yield (d, z), (e, z)
        for x in (a, b, e, f):
            yield (x, q), (x, r)
            yield (x, t), (x, u)


def opened(shape: Complex, opening: str) -> Net:
    """Return an opening laid flat."""
    sill, left = shape.by_name[f"{opening}.sill"], shape.by_name[f"{opening}.left"]
    dam = shape.by_name.get(f"{opening}.dam")
    return Net(x=sill.u, z=left.v, depth=sill.v[1], dam=dam.v[1] - dam.v[0] if dam else 0.0)
