"""The flat blank of a piece that is stretched round one corner.

Round a corner whose angles add up to more than 360 degrees, lengths straight out from the point stay as they
are, and every way round it is stretched alike: a point at the angle a goes to a times 360 over their sum.
That is the development of a cone, run backwards. It tells the size to cut and how far the stock must
stretch; whether it may is for its maker to say.
"""

from __future__ import annotations

import cmath
import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from sillwright.water.flat_parts import by_panel, rises, straightened, turned
from sillwright.water.geodesic import Place
from sillwright.water.model import Complex, Corner, Join, Sheet
from sillwright.water.pattern_model import FlatPanel, FlatPiece, Fold, Moved, Stretch
from sillwright.water.rolls import cut_size, lie
from sillwright.water.slits import NARROW
from sillwright.water.tiles import SIDES, corner_at, outward
from sillwright.water.unfold import Flat

STEP = 0.25
"""A straight side that becomes a curve is drawn in parts no longer, inches."""


@dataclass(frozen=True)
class Round:
    """A sheet in the plane round a corner point, more than once round it: angles run on, never back."""

    flat: Flat
    at: complex
    start: float
    """The angle where it begins, radians."""
    middle: dict[int, float]
    """Of every tile, the angle to its middle, run on from tile to tile."""
    shrink: float
    """360 degrees over the sum of the angles."""

    def point(self, tile: int, where: complex) -> complex:
        """Return where a point of a tile lies on the blank, from the corner point."""
        ray = where - self.at
        if abs(ray) < 1e-12:
            return 0j
        angle = self.middle[tile] + cmath.phase(ray * cmath.exp(-1j * self.middle[tile]))
        return abs(ray) * cmath.exp(1j * (angle - self.start) * self.shrink)

    def side(self, place: Place) -> list[complex]:
        """Return a side on the blank, with the sheet on the left: straight if it points at the corner."""
        a, b = self.flat.side(place)
        parts = max(1, math.ceil(abs(b - a) / STEP))
        line = [self.point(place[0], a + n / parts * (b - a)) for n in range(parts + 1)]
        return straightened(line, closed=False)


def round_corner(shape: Complex, flat: Flat) -> tuple[int, Corner] | None:
    """Return the point round which a flat sheet lies over itself, and the corner; None: there is none."""
    for vertex in flat.following:
        corner = corner_at(shape, flat.surface.at(vertex))
        if corner is not None and flat.gap(vertex) < -NARROW:
            return vertex, corner
    return None


def blank_piece(
    shape: Complex, sheet: Sheet, flat: Flat, corner: tuple[int, Corner], lap: float
) -> FlatPiece:
    """Return the flat blank of a sheet that is stretched round a corner."""
    whole = _round(flat, corner[0])
    lines = {place: whole.side(place) for place in flat.rim}
    way = lie([point for line in lines.values() for point in line], sheet.stock.width, lap)
    move = Moved(way.turn, way.origin)
    angle = math.degrees(flat.surface.around[corner[0]])
    stretch = Stretch(corner=corner[1].name, words=corner[1].words, angle_deg=angle, flat_deg=360.0)
    return FlatPiece(
        panels=tuple(_panels(whole, move)),
        rings=tuple(move.line(ring) for ring in _rings(whole, lines)),
        folds=tuple(_folds(shape, whole, move)),
        slits=(),
        pleats=(),
        stretches=(stretch,),
        size=cut_size(way, sheet.stock.width, None, ()),
        upper_over=rises(flat, move),
    )


def _round(flat: Flat, vertex: int) -> Round:
    at = flat.at(vertex)
    first = flat.following[vertex]
    middle = {first[0]: cmath.phase(sum(flat.corners[first[0]]) / 4 - at)}
    todo = [first[0]]
    while todo:
        here = todo.pop(0)
        for side in SIDES:
            other = flat.used.get((here, side))
            if other is not None and other[0] not in middle:
                ray = sum(flat.corners[other[0]]) / 4 - at
                middle[other[0]] = middle[here] + cmath.phase(ray * cmath.exp(-1j * middle[here]))
                todo.append(other[0])
    ray = flat.side(first)[1] - at
    start = middle[first[0]] + cmath.phase(ray * cmath.exp(-1j * middle[first[0]]))
    return Round(flat, at, start, middle, 2 * math.pi / flat.surface.around[vertex])


def _rings(whole: Round, lines: dict[Place, list[complex]]) -> Iterator[list[complex]]:
    """Yield the lines to cut along: sides that come to lie on each other are one sheet again."""
    flat = whole.flat
    closed = {
        place
        for place in flat.rim
        if place in flat.joins
        and flat.joins[place][1] is Join.FORMED
        and _meet(lines[place], lines[flat.joins[place][0]])
    }
    left = set(flat.rim) - closed
    while left:
        place, ring = min(left), list[complex]()
        while place in left:
            left.remove(place)
            ring += lines[place][:-1]
            place = flat.following[flat.ends(place)[1]]
            while place in closed:
                across = flat.joins[place][0]
                place = flat.following[flat.ends(across)[1]]
        yield straightened(ring)


def _meet(one: list[complex], other: list[complex]) -> bool:
    return abs(one[0] - other[-1]) < 1e-6 and abs(one[-1] - other[0]) < 1e-6


def _panels(whole: Round, move: Moved) -> Iterator[FlatPanel]:
    flat = whole.flat
    for name, tiles in by_panel(flat).items():
        own = set(tiles)
        places = [
            (tile, side)
            for tile in tiles
            for side in SIDES
            if (tile, side) not in flat.used or flat.used[tile, side][0] not in own
        ]
        following = {flat.ends(place)[0]: place for place in places}
        place, outline = places[0], list[complex]()
        for _ in places:
            outline += whole.side(place)[:-1]
            place = following[flat.ends(place)[1]]
        facet = flat.tiling.tiles[tiles[0]].facet
        yield FlatPanel(
            name=name,
            facet=facet.name,
            words=facet.words,
            outline=move.line(straightened(outline)),
            up=None,
        )


def _folds(shape: Complex, whole: Round, move: Moved) -> Iterator[Fold]:
    """Yield the creases on the blank, those of one pair of panels that follow one another as one line."""
    normals, flat = outward(shape), whole.flat
    sides = {**flat.used, **{p: other for p, (other, join) in flat.joins.items() if join is Join.FORMED}}
    found: dict[tuple[str, str, float], list[list[complex]]] = defaultdict(list)
    for place, other in sorted(sides.items()):
        one, two = flat.tiling.tiles[place[0]], flat.tiling.tiles[other[0]]
        if one.facet == two.facet or place > other:
            continue
        line = whole.side(place)
        if place in flat.used or _meet(line, whole.side(other)):
            turn = math.degrees(turned(one, two, place[1], normals[one.facet.name]))
            found[one.panels[0].name, two.panels[0].name, round(turn, 9)].append(line)
    for (name, other_name, turn), lines in found.items():
        for line in _chained(lines):
            yield Fold(one=name, other=other_name, line=move.line(line), turn_deg=turn)


def _chained(lines: list[list[complex]]) -> list[list[complex]]:
    """Return lines with those that follow one another put together."""
    found: list[list[complex]] = []
    for line in lines:
        before = next((each for each in found if abs(each[-1] - line[0]) < 1e-6), None)
        after = next((each for each in found if abs(line[-1] - each[0]) < 1e-6), None)
        if before is not None:
            before += line[1:]
        elif after is not None:
            after[:0] = line[:-1]
        else:
            found.append(list(line))
    return [straightened(line, closed=False) for line in found]
