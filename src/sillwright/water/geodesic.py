"""Shortest ways over a folded surface, exact: from tile to tile, each unrolled into the plane of the last.

A shortest way is straight wherever it crosses tiles and the folds between them, and bends only at points of
the surface where something is in the way, or where the angles add up to more than 360 degrees. So straight
views from all points, chained, hold every shortest way.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product
from operator import mul

import numpy as np

from sillwright.water.lattice import Floats
from sillwright.water.model import Point

Place = tuple[int, int]
"""A tile and a side of it."""
TINY = 1e-9
NARROW = 1e-12
"""A window narrower than this, in radians, lets one ray through, and that ends at a point."""


@dataclass(frozen=True)
class Surface:
    """Convex four-cornered flat tiles, hung together along whole sides."""

    points: Floats
    """Of every tile, its corners in order round it: tiles x 4 x 3, inches."""
    joined: dict[Place, Place]
    """Both ways round."""

    @cached_property
    def flat(self) -> list[tuple[complex, ...]]:
        """Return every tile laid in the plane, its first corner at the origin."""
        return [_laid(corners) for corners in self.points.tolist()]

    @cached_property
    def vertex(self) -> list[list[int]]:
        """Return which point of the surface each corner of each tile is: the two banks of a cut are two."""
        return _vertices(self.points, self.joined)

    @cached_property
    def corners(self) -> dict[int, list[Place]]:
        """Return the corners of tiles that meet at each point."""
        found: dict[int, list[Place]] = {}
        for tile, row in enumerate(self.vertex):
            for corner, vertex in enumerate(row):
                found.setdefault(vertex, []).append((tile, corner))
        return found

    def angle(self, tile: int, corner: int) -> float:
        """Return the angle of a tile at a corner, radians."""
        here, after, before = (self.flat[tile][(corner + step) % 4] for step in (0, 1, 3))
        return abs(_turned((after - here), (before - here)))

    @cached_property
    def around(self) -> dict[int, float]:
        """Return the sum of the angles that meet at each point, radians."""
        return {
            vertex: math.fsum(self.angle(*place) for place in places)
            for vertex, places in self.corners.items()
        }

    def at(self, vertex: int) -> Floats:
        """Return where a point of the surface is."""
        tile, corner = self.corners[vertex][0]
        found: Floats = self.points[tile, corner]
        return found

    def ends(self, place: Place) -> tuple[int, int]:
        """Return the points at both ends of a side."""
        tile, side = place
        return self.vertex[tile][side], self.vertex[tile][(side + 1) % 4]


def _laid(corners: list[list[float]]) -> tuple[complex, ...]:
    """Return a flat tile in the plane: its first side runs along the real axis."""
    rays = [[c - o for c, o in zip(corner, corners[0], strict=True)] for corner in corners]
    length = math.hypot(*rays[1])
    along = [each / length for each in rays[1]]
    flat = []
    for ray in rays:
        reach = sum(map(mul, ray, along))
        flat.append(complex(reach, math.hypot(*(r - reach * a for r, a in zip(ray, along, strict=True)))))
    return tuple(flat)


def _turned(one: complex, other: complex) -> float:
    """Return the angle from one direction to another, radians, between -pi and pi."""
    product = other * one.conjugate()
    return math.atan2(product.imag, product.real)


def _vertices(points: Floats, joined: dict[Place, Place]) -> list[list[int]]:
    root = list(range(4 * len(points)))

    def find(node: int) -> int:
        while root[node] != node:
            root[node] = root[root[node]]
            node = root[node]
        return node

    for (tile, side), (other, its) in joined.items():
        mine = tile * 4 + side, tile * 4 + (side + 1) % 4
        theirs = [other * 4 + its, other * 4 + (its + 1) % 4]
        start = points[tile, side]
        if np.linalg.norm(start - points[other, its]) > np.linalg.norm(start - points[other, (its + 1) % 4]):
            theirs.reverse()
        for a, b in zip(mine, theirs, strict=True):
            root[find(a)] = find(b)
    return [[find(tile * 4 + corner) for corner in range(4)] for tile in range(len(points))]


# --- what is seen from a point


@dataclass(frozen=True, slots=True)
class View:
    """A straight way from a point, over tiles unrolled one after the other into one plane."""

    length: float
    end: complex
    """In that plane, whose origin is the point."""
    place: Place
    """The side where it ends."""
    share: float
    """How far along that side."""
    crossed: tuple[tuple[Place, complex, complex], ...] = ()
    """The sides that it crosses, and where their ends lie in the plane."""


@dataclass(slots=True)
class Seen:
    """What a point of the surface sees straight on."""

    vertices: dict[int, View] = field(default_factory=dict)
    sides: dict[Place, View] = field(default_factory=dict)

    def vertex(self, vertex: int, view: View) -> None:
        """Note how a point is seen, if that is nearer than known."""
        if vertex not in self.vertices or view.length < self.vertices[vertex].length - TINY:
            self.vertices[vertex] = view

    def side(self, view: View) -> None:
        """Note how a side is seen, if that is nearer than known."""
        if view.place not in self.sides or view.length < self.sides[view.place].length - TINY:
            self.sides[view.place] = view

    def nearest(self, sides: Sequence[Place]) -> View | None:
        """Return the nearest view of any of some sides; None: none is seen."""
        views = [self.sides[place] for place in sides if place in self.sides]
        return min(views, key=lambda view: view.length, default=None)


@dataclass(frozen=True, slots=True)
class _Window:
    """A side of a tile that is entered by all straight ways between two rays."""

    place: Place
    placed: tuple[complex, ...]
    """The corners of the tile, unrolled."""
    low: complex
    high: complex
    crossed: tuple[tuple[Place, complex, complex], ...] = ()


def see(surface: Surface, vertex: int, limit: float) -> Seen:
    """Return all that a point sees straight on, nearer than `limit` inches."""
    seen = Seen()
    todo: list[_Window] = []
    for tile, corner in surface.corners[vertex]:
        placed = tuple(point - surface.flat[tile][corner] for point in surface.flat[tile])
        after, before = (corner + 1) % 4, (corner + 3) % 4
        for side, far in ((corner, after), (before, before)):
            end, share = placed[far], 1.0 if far == after else 0.0
            seen.vertex(surface.vertex[tile][far], View(abs(end), end, (tile, side), share))
            seen.side(View(0.0, 0j, (tile, side), 1.0 - share))
        rays = placed[after], placed[before]
        todo += [_Window((tile, (corner + step) % 4), placed, *rays) for step in (1, 2)]
    while todo:
        todo += _through(surface, todo.pop(), seen, limit)
    return seen


def _through(surface: Surface, window: _Window, seen: Seen, limit: float) -> Iterator[_Window]:
    """Note what is seen through a window, and yield the windows behind it."""
    side = window.place[1]
    a, b = window.placed[side], window.placed[(side + 1) % 4]
    part = _clip(a, b, window.low, window.high)
    near = _nearest(*part) if part else None
    if part is None or near is None or abs(near) > limit:
        return
    seen.side(View(abs(near), near, window.place, abs(near - a) / abs(b - a), window.crossed))
    for end, share, vertex in zip((a, b), (0.0, 1.0), surface.ends(window.place), strict=True):
        if min(abs(end - part[0]), abs(end - part[1])) < TINY:
            seen.vertex(vertex, View(abs(end), end, window.place, share, window.crossed))
    following = surface.joined.get(window.place)
    if following is None or abs(_turned(*part)) < NARROW:
        return
    placed = _beyond(surface, window, following)
    crossed = (*window.crossed, (window.place, a, b))
    for step in (1, 2, 3):
        yield _Window((following[0], (following[1] + step) % 4), placed, *part, crossed)


def _clip(a: complex, b: complex, low: complex, high: complex) -> tuple[complex, complex] | None:
    """Return the part of a segment between two rays from the origin; None: it lies outside."""
    if _cross(low, high) < 0:
        low, high = high, low
    ends = [a, b] if _cross(a, b) >= 0 else [b, a]
    first, second = ends
    scale = 1e-12 * max(abs(a), abs(b), 1e-6)
    if _cross(low, second) < -scale * abs(low) or _cross(first, high) < -scale * abs(high):
        return None
    if _cross(low, first) < -scale * abs(low):
        first = _meet(ends[0], ends[1], low)
    if _cross(second, high) < -scale * abs(high):
        second = _meet(ends[0], ends[1], high)
    return first, second


def _cross(one: complex, other: complex) -> float:
    return one.real * other.imag - one.imag * other.real


def _meet(a: complex, b: complex, ray: complex) -> complex:
    """Return where the line through a and b meets a ray from the origin."""
    share = _cross(a, ray) / (_cross(a, ray) - _cross(b, ray))
    return a + share * (b - a)


def _nearest(a: complex, b: complex) -> complex:
    """Return the point of a segment nearest to the origin."""
    along = b - a
    square = abs(along) ** 2
    if square < TINY**2:
        return a
    share = -(a.real * along.real + a.imag * along.imag) / square
    return a + min(max(share, 0.0), 1.0) * along


def _beyond(surface: Surface, window: _Window, following: Place) -> tuple[complex, ...]:
    """Return the next tile unrolled past a side: the side stays where it is, the tile lies beyond it."""
    tile, side = following
    a, b = window.placed[window.place[1]], window.placed[(window.place[1] + 1) % 4]
    same_way = surface.vertex[window.place[0]][window.place[1]] == surface.vertex[tile][side]
    start, stop = (a, b) if same_way else (b, a)
    flat = surface.flat[tile]
    if (_cross(stop - start, sum(window.placed) / 4 - start) > 0) == (
        _cross(flat[(side + 1) % 4] - flat[side], sum(flat) / 4 - flat[side]) > 0
    ):
        flat = tuple(point.conjugate() for point in flat)
    turn = (stop - start) / (flat[(side + 1) % 4] - flat[side])
    turn /= abs(turn)
    return tuple(start + turn * (point - flat[side]) for point in flat)


# --- the shortest way from one set of sides to another


@dataclass(frozen=True, slots=True)
class Track:
    """A shortest way: its length, and its points in space where it starts, crosses a fold, bends and ends."""

    length: float
    points: tuple[Point, ...]
    tiles: tuple[int, ...]
    """The tile of each stretch between two points."""


class Ways:
    """The shortest ways over one surface; what each point sees is kept."""

    def __init__(self, surface: Surface) -> None:
        self.surface = surface
        self._seen: dict[int, tuple[float, Seen]] = {}

    @cached_property
    def bends(self) -> frozenset[int]:
        """Return the points where a shortest way can bend: inner corners of the edge, and saddles."""
        around = self.surface.around
        return frozenset(
            vertex
            for vertex, angle in around.items()
            if angle > (math.pi if vertex in self._rim else 2 * math.pi) + TINY
        )

    @cached_property
    def _rim(self) -> frozenset[int]:
        sides = product(range(len(self.surface.points)), range(4))
        return frozenset(
            vertex
            for place in sides
            if place not in self.surface.joined
            for vertex in self.surface.ends(place)
        )

    @cached_property
    def _roads(self) -> dict[int, dict[int, float]]:
        """Return how far it is from point to point along the sides of tiles."""
        found: dict[int, dict[int, float]] = {}
        for place in product(range(len(self.surface.points)), range(4)):
            one, other = self.surface.ends(place)
            length = math.dist(self.surface.at(one), self.surface.at(other))
            found.setdefault(one, {})[other] = length
            found.setdefault(other, {})[one] = length
        return found

    def _at_most(self, start: set[int], goal: set[int]) -> float:
        """Return the length of the shortest way along the sides of tiles; inf: there is none."""
        queue = [(0.0, vertex) for vertex in start]
        done: set[int] = set()
        while queue:
            length, vertex = heapq.heappop(queue)
            if vertex in goal:
                return length
            if vertex not in done:
                done.add(vertex)
                for other, step in self._roads[vertex].items():
                    heapq.heappush(queue, (length + step, other))
        return math.inf

    def seen(self, vertex: int, limit: float) -> Seen:
        """Return all that a point sees nearer than a limit, or more."""
        known = self._seen.get(vertex)
        if known is None or known[0] < limit:
            known = limit, see(self.surface, vertex, limit)
            self._seen[vertex] = known
        return known[1]

    def shortest(
        self, start: Sequence[Place], goal: Sequence[Place], limit: float = math.inf
    ) -> Track | None:
        """Return the shortest way over the surface from some sides to others; None: none within the limit."""
        ends = [{v for place in places for v in self.surface.ends(place)} for places in (start, goal)]
        most = min(self._at_most(*ends), limit) + TINY
        if most == math.inf:
            return None
        nodes = self.bends | ends[0] | ends[1]
        first = {vertex: view for vertex in nodes if (view := self.seen(vertex, most).nearest(start))}
        best, least = None, most
        queue = [(view.length, vertex) for vertex, view in first.items()]
        heapq.heapify(queue)
        dist = {vertex: view.length for vertex, view in first.items()}
        before: dict[int, tuple[int, View]] = {}
        while queue and queue[0][0] < least:
            length, vertex = heapq.heappop(queue)
            if length > dist[vertex]:
                continue
            seen = self.seen(vertex, most)
            view = seen.nearest(goal)
            if view is not None and length + view.length < least:
                best, least = (vertex, view), length + view.length
            for other, step in seen.vertices.items():
                if other in nodes and length + step.length < dist.get(other, least) - TINY:
                    dist[other] = length + step.length
                    before[other] = (vertex, step)
                    heapq.heappush(queue, (dist[other], other))
        return self._track(best, before, first, least) if best else None

    def _track(
        self,
        end: tuple[int, View],
        before: dict[int, tuple[int, View]],
        first: dict[int, View],
        length: float,
    ) -> Track:
        """Return the way in space, from the views that it is chained of, last one first."""
        chain = [end]
        while chain[-1][0] in before:
            chain.append(before[chain[-1][0]])
        start = chain[-1][0]
        points, tiles = self._in_space(start, first[start])
        points, tiles = points[::-1], tiles[::-1]
        for vertex, view in reversed(chain):
            leg, under = self._in_space(vertex, view)
            points += leg[1:]
            tiles += under
        kept, beneath = points[:1], []
        for point, tile in zip(points[1:], tiles, strict=True):
            if math.dist(point, kept[-1]) > TINY:
                kept.append(point)
                beneath.append(tile)
        return Track(length, tuple(kept), tuple(beneath))

    def _in_space(self, vertex: int, view: View) -> tuple[list[Point], list[int]]:
        """Return the points of a view in space, and the tile under each stretch of it."""
        stops = [(place, _share(a, b, view.end)) for place, a, b in view.crossed]
        stops.append((view.place, view.share))
        points = [self.surface.at(vertex)]
        for (tile, side), share in stops:
            one, other = self.surface.points[tile, side], self.surface.points[tile, (side + 1) % 4]
            points.append(one + share * (other - one))
        return [(float(x), float(y), float(z)) for x, y, z in points], [place[0] for place, _ in stops]


def _share(a: complex, b: complex, end: complex) -> float:
    """Return how far along a side the straight way to `end` crosses it."""
    down = _cross(a, end) - _cross(b, end)
    return min(max(_cross(a, end) / down, 0.0), 1.0) if down else 0.0
