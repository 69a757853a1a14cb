"""What a flat piece is made of: panels with their creases, as it lies on its roll."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np

from sillwright.water.lattice import Floats
from sillwright.water.model import Complex, Sheet
from sillwright.water.pattern_model import XY, FlatPanel, FlatPiece, Fold, Moved, Stretch
from sillwright.water.rolls import cut_size, lie
from sillwright.water.slits import SMALL, pleats_on_roll, rings_of, slits_of
from sillwright.water.tiles import SIDES, Tile, corner_at, outward, rise
from sillwright.water.unfold import Flat


def flat_piece(
    shape: Complex, sheet: Sheet, flat: Flat, lap: float, stretched: Sequence[Stretch] = ()
) -> FlatPiece:
    """Return a flat piece as it lies on its roll; at corners round which it is stretched, it is not slit."""
    held = {each.corner for each in stretched}
    loops = [loop for ring in rings_of(shape, flat, held) if (loop := straightened(ring))]
    way = lie([point for loop in loops for point in loop], sheet.stock.width, lap)
    move = Moved(way.turn, way.origin)
    folded = tuple(_folds(shape, flat, move))
    slits = tuple(
        slit for slit in slits_of(shape, flat, move) if slit.corner is None or slit.corner not in held
    )
    corners = [move.point(flat.at(v)) for v in flat.surface.corners if corner_at(shape, flat.surface.at(v))]
    off = [y for _, y in [*corners, *(point for fold in folded for point in fold.line)]]
    return FlatPiece(
        panels=tuple(_panels(flat, move)),
        rings=tuple(move.line(loop) for loop in loops),
        folds=folded,
        slits=slits,
        pleats=tuple(pleats_on_roll(flat, move)),
        stretches=tuple(stretched),
        size=cut_size(way, sheet.stock.width, None if stretched else lap, off),
        upper_over=rises(flat, move),
    )


def rises(flat: Flat, move: Moved) -> bool:
    """Tell whether what lies farther across the roll lies higher on the wall, on the whole."""
    pairs = [
        (move.point(sum(ring) / 4)[1], float(flat.tiling.tiles[tile].middle[2]))
        for tile, ring in flat.corners.items()
    ]
    y, z = (math.fsum(each) / len(pairs) for each in zip(*pairs, strict=True))
    return math.fsum((a - y) * (b - z) for a, b in pairs) >= 0


# --- panels and creases


def by_panel(flat: Flat) -> dict[str, list[int]]:
    """Return the tiles of each panel."""
    found: dict[str, list[int]] = defaultdict(list)
    for tile in sorted(flat.corners):
        found[flat.tiling.tiles[tile].panels[0].name].append(tile)
    return found


def _panels(flat: Flat, move: Moved) -> Iterator[FlatPanel]:
    for name, tiles in by_panel(flat).items():
        facet = flat.tiling.tiles[tiles[0]].facet
        yield FlatPanel(
            name=name,
            facet=facet.name,
            words=facet.words,
            outline=move.line(straightened(_outline(flat, set(tiles)))),
            up=_up(flat, tiles[0], move),
        )


def _outline(flat: Flat, tiles: set[int]) -> list[complex]:
    """Return the closed line round the tiles of one panel."""
    places = [
        (tile, side)
        for tile in tiles
        for side in SIDES
        if (tile, side) not in flat.used or flat.used[tile, side][0] not in tiles
    ]
    following = {flat.ends(place)[0]: place for place in places}
    place, found = places[0], []
    for _ in places:
        found.append(flat.side(place)[0])
        place = following[flat.ends(place)[1]]
    return found


def _up(flat: Flat, tile: int, move: Moved) -> XY:
    own = flat.tiling.tiles[tile]
    way = np.array(rise(own.facet))
    if np.linalg.norm(way) < SMALL:
        way = np.array([0.0, 1.0, 0.0])
    p, z = own.points, flat.corners[tile]
    share = np.linalg.lstsq(np.stack([p[1] - p[0], p[3] - p[0]], axis=1), way)[0]
    up = (float(share[0]) * (z[1] - z[0]) + float(share[1]) * (z[3] - z[0])) * move.turn
    up /= abs(up)
    return up.real, up.imag


def _folds(shape: Complex, flat: Flat, move: Moved) -> Iterator[Fold]:
    """Yield the creases: where the sheet runs on flat from one face onto another."""
    normals = outward(shape)
    found: dict[tuple[str, str], list[tuple[complex, complex, float]]] = defaultdict(list)
    for (tile, side), (other, its_side) in flat.used.items():
        one, two = flat.tiling.tiles[tile], flat.tiling.tiles[other]
        if (tile, side) < (other, its_side) and one.facet != two.facet:
            turn = turned(one, two, side, normals[one.facet.name])
            found[one.panels[0].name, two.panels[0].name].append((*flat.side((tile, side)), turn))
    for (name, other_name), sides in found.items():
        for line, turn in _joined(sides):
            yield Fold(one=name, other=other_name, line=move.line(line), turn_deg=math.degrees(turn))


def turned(one: Tile, other: Tile, side: int, normal: Floats) -> float:
    """Return how far the sheet turns up, toward its outer side, from one tile to the next, radians."""
    a, b = one.ends(side)
    along = (b - a) / np.linalg.norm(b - a)

    def inward(tile: Tile) -> Floats:
        ray: Floats = tile.middle - (a + b) / 2
        ray = ray - along * (ray @ along)
        return ray / np.linalg.norm(ray)

    onward = inward(other)
    return math.atan2(float(onward @ normal), float(-onward @ inward(one)))


def _joined(sides: list[tuple[complex, complex, float]]) -> Iterator[tuple[list[complex], float]]:
    """Yield sides that follow one another as lines."""
    following = {_key(a): (a, b, turn) for a, b, turn in sides}
    starts = set(following) - {_key(b) for _, b, _ in sides}
    for start in sorted(starts):
        a, b, turn = following[start]
        line = [a, b]
        while _key(line[-1]) in following:
            line.append(following[_key(line[-1])][1])
        yield straightened(line, closed=False), turn


def _key(point: complex) -> tuple[float, float]:
    return round(point.real, 6), round(point.imag, 6)


def straightened(points: Sequence[complex], *, closed: bool = True) -> list[complex]:
    """Return a line without the points that lie straight between their neighbours."""
    kept = [each for n, each in enumerate(points) if not n or abs(each - points[n - 1]) > SMALL]
    if closed:
        return [each for n, each in enumerate(kept) if _bends(kept[n - 1], each, kept[(n + 1) % len(kept)])]
    inner = [each for n, each in enumerate(kept) if 0 < n < len(kept) - 1 and _bends(*kept[n - 1 : n + 2])]
    return [kept[0], *inner, kept[-1]]


def _bends(before: complex, here: complex, after: complex) -> bool:
    one, other = here - before, after - here
    return abs((one.conjugate() * other).imag) > 1e-9 * abs(one) * abs(other) or (
        (one.conjugate() * other).real < 0
    )
