"""The lap table: where two sheets lie over each other, and how far water would have to go between them."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations, pairwise, product

import numpy as np

from sillwright.water.geodesic import Place, Surface, Track, Ways
from sillwright.water.model import Complex, Dressing, Face, Kind, Panel, Point, Sheet
from sillwright.water.straight import apart, straight
from sillwright.water.tiles import Tiling, covers, on_each_other, tiling

UPPER, LOWER = 0, 1
STRAIGHT = math.radians(45)
"""An edge of a sheet that turns less than this is one edge."""
LEVEL = 1e-6


class Way(StrEnum):
    """Where water would have to go, from the edge of the upper sheet to that of the lower one."""

    UP = "up"
    SIDEWAYS = "sideways"
    DOWN = "down"
    """A reverse lap: water runs in."""
    LEVEL = "level"
    """On a level face, or clinging to an underside."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LapRow:
    """One lap: the least way from where the upper sheet ends on the lower one to where that ends under it."""

    upper: str
    lower: str
    facets: tuple[str, ...]
    """That the least way runs over, in its order."""
    place: str
    """The same in words."""
    opening: str | None
    way: Way
    inches: float
    bonded: bool
    """Does the upper sheet hold to the lower one all along that way?"""
    bond_in: float
    """So many inches of it are held."""
    joint: str | None
    """The name of the kind of joint, where the trade has one."""
    between: tuple[str, ...]
    """Sheets that lie between the two somewhere on that way."""
    upper_panel: str
    lower_panel: str
    points: tuple[Point, ...]
    """The least way, from the weather in."""


def laps(dressing: Dressing, cell_in: float | None = None) -> tuple[LapRow, ...]:
    """Return the least lap of every pair of sheets that overlap, for each way that water would have to go.

    Args:    cell_in: tiles no larger than this, inches; changes nothing but the time it takes
    """
    rows = []
    layers: Layers = defaultdict(list)
    for sheet in dressing.sheets:
        for panel in sheet.panels:
            layers[panel.facet].append((act(sheet, panel), sheet.name, panel))
    for overlap in overlaps(dressing, cell_in):
        rows += [_row(layers, overlap, way, track) for way, track in _least(overlap)]
    return tuple(rows)


Layers = dict[str, list[tuple[int, str, Panel]]]
"""Of every facet, what lies on it: when it is laid, the sheet, and its panel."""


@dataclass(frozen=True)
class Overlap:
    """Where one sheet lies on another, in one piece."""

    upper: Sheet
    lower: Sheet
    tiling: Tiling
    """Of the upper and the lower sheet, in this order."""


def overlaps(dressing: Dressing, cell_in: float | None = None) -> Iterator[Overlap]:
    """Yield where sheets lie over each other: what hangs together and was laid by the same two acts."""
    for pair in combinations(sorted(dressing.sheets, key=lambda sheet: sheet.laid), 2):
        if not any(on_each_other(a, b) for a in pair[0].panels for b in pair[1].panels):
            continue
        for upper, lower, part in by_acts(dressing.complex, pair[1], pair[0], cell_in):
            for piece in part.pieces():
                yield Overlap(upper, lower, piece)


def by_acts(
    shape: Complex, one: Sheet, other: Sheet, cell_in: float | None = None
) -> Iterator[tuple[Sheet, Sheet, Tiling]]:
    """Yield the overlap of two sheets, parted by what was laid when: the later, the earlier, the tiles."""
    whole = tiling(shape, one, other, cell_in=cell_in)
    acts: dict[tuple[int, int], list[int]] = defaultdict(list)
    for place, tile in enumerate(whole.tiles):
        acts[act(one, tile.panels[0]), act(other, tile.panels[1])].append(place)
    for (first, second), places in acts.items():
        part = whole.part(places) if len(acts) > 1 else whole
        if first >= second:
            yield one, other, part
        else:
            yield other, one, part.swapped()


def act(sheet: Sheet, panel: Panel) -> int:
    """Return when a panel is laid down."""
    return sheet.laid if panel.laid is None else panel.laid


# --- one overlap


def _least(overlap: Overlap) -> list[tuple[Way, Track]]:
    """Return the shortest way from edge to edge of one overlap, for each way that water would have to go.

    A way round a fold or a corner is kept only where it is shorter than every straight one.
    """
    part = overlap.tiling
    edges = _edges(part)
    pairs = [
        (one, other)
        for start, goal in product(edges[UPPER], edges[LOWER])
        if not _meets(part.surface, start, goal)
        for one, other in product(_by_facet(part, start), _by_facet(part, goal))
    ]
    least: dict[Way, Track] = {}
    bent = []
    for one, other in pairs:
        track = straight(part, one, other)
        if track is None:
            bent.append((one, other))
        else:
            _keep(part, track, least)
    ways = Ways(part.surface)
    limit = min((track.length for track in least.values()), default=math.inf) - LEVEL
    for one, other in bent:
        if apart(part, one, other) < limit:
            track = ways.shortest(one, other, limit)
            if track is not None:
                _keep(part, track, least)
    return sorted(least.items(), key=lambda pair: pair[0])


def _keep(part: Tiling, track: Track, least: dict[Way, Track]) -> None:
    way = way_of(part, track)
    if way not in least or track.length < least[way].length:
        least[way] = track


def _by_facet(part: Tiling, edge: list[Place]) -> list[list[Place]]:
    found: dict[str, list[Place]] = defaultdict(list)
    for place in edge:
        found[part.tiles[place[0]].facet.name].append(place)
    return list(found.values())


def _row(layers: Layers, overlap: Overlap, way: Way, track: Track) -> LapRow:
    tiles = [overlap.tiling.tiles[place] for place in track.tiles]
    facets = tuple(dict.fromkeys(tile.facet.name for tile in tiles))
    words = dict.fromkeys(tile.facet.words for tile in tiles)
    held = math.fsum(
        math.dist(*ends)
        for ends, tile in zip(pairwise(track.points), tiles, strict=True)
        if tile.panels[UPPER].bonded or tile.panels[LOWER].bonds_above
    )
    return LapRow(
        upper=overlap.upper.name,
        lower=overlap.lower.name,
        facets=facets,
        place=", ".join(words),
        opening=overlap.upper.opening or overlap.lower.opening,
        way=way,
        inches=track.length,
        bonded=held > track.length - LEVEL,
        bond_in=held,
        between=_between(layers, overlap, track),
        joint=joint(overlap.upper.kind, overlap.lower.kind, way),
        upper_panel=tiles[0].panels[UPPER].name,
        lower_panel=tiles[-1].panels[LOWER].name,
        points=track.points,
    )


def _between(layers: Layers, overlap: Overlap, track: Track) -> tuple[str, ...]:
    """Return the sheets that lie between upper and lower one at the middle of any stretch of a way."""
    found: dict[str, None] = {}
    for place, ends in zip(track.tiles, pairwise(track.points), strict=True):
        tile = overlap.tiling.tiles[place]
        after, before = act(overlap.lower, tile.panels[LOWER]), act(overlap.upper, tile.panels[UPPER])
        u, v = tile.logical(np.add(*ends) / 2)
        for laid, sheet, panel in layers[tile.facet.name]:
            if after < laid < before and covers(panel, (u, u), (v, v)):
                found[sheet] = None
    return tuple(sorted(found))


def _edges(part: Tiling) -> dict[int, list[list[Place]]]:
    """Return the edges where only the upper and where only the lower sheet ends, each from turn to turn."""
    found = {}
    for which in (UPPER, LOWER):
        sides = [place for place, ends in part.ends.items() if ends == {which}]
        found[which] = list(_chains(part.surface, sides))
    return found


def _chains(surface: Surface, sides: list[Place]) -> Iterator[list[Place]]:
    """Yield sides that follow one another without a turn."""
    meeting: dict[int, list[Place]] = defaultdict(list)
    for place in sides:
        for vertex in surface.ends(place):
            if abs(surface.around[vertex] - math.pi) < STRAIGHT:
                meeting[vertex].append(place)
    left = set(sides)
    while left:
        chain, todo = [], [min(left)]
        while todo:
            place = todo.pop()
            if place in left:
                left.remove(place)
                chain.append(place)
                todo += [each for vertex in surface.ends(place) for each in meeting.get(vertex, ())]
        yield sorted(chain)


def _meets(surface: Surface, one: list[Place], other: list[Place]) -> bool:
    """Tell whether two edges share an end: there both stop on what lies below, and no lap is crossed."""
    ends = [{vertex for place in chain for vertex in surface.ends(place)} for chain in (one, other)]
    return not ends[0].isdisjoint(ends[1])


def way_of(part: Tiling, track: Track) -> Way:
    """Return where water goes on a way: up or down where it keeps within 45 degrees of the steepest."""
    level = climbed = 0.0
    for (start, end), place in zip(pairwise(track.points), track.tiles, strict=True):
        facet = part.tiles[place].facet
        up = part.rises[facet.name]
        slope = math.hypot(*up)
        if slope < LEVEL or facet.face is Face.UNDERSIDE:
            level += math.dist(start, end)
        else:
            climbed += sum((b - a) * each for a, b, each in zip(start, end, up, strict=True)) / slope
    if level > track.length / 2:
        return Way.LEVEL
    if abs(climbed) < math.cos(STRAIGHT) * track.length:
        return Way.SIDEWAYS
    return Way.UP if climbed > 0 else Way.DOWN


def joint(upper: Kind, lower: Kind, way: Way) -> str | None:
    """Return the name of a kind of joint, as tables of least laps have it; None: they have no such joint."""
    if upper is Kind.METAL:
        return "metal_over_below"
    return _JOINTS.get((upper, lower, way), _JOINTS.get((upper, lower, None)))


_JOINTS: dict[tuple[Kind, Kind, Way | None], str] = {
    (Kind.WRAP, Kind.WRAP, Way.SIDEWAYS): "wrap_vertical",
    (Kind.WRAP, Kind.WRAP, None): "wrap_horizontal",
    (Kind.WRAP, Kind.METAL, None): "wrap_over_metal",
    (Kind.WRAP, Kind.STRIP, Way.UP): "flap_over_head",
    (Kind.PAN, Kind.WRAP, None): "pan_over_wrap",
    (Kind.PATCH, Kind.PAN, None): "patch_over_pan",
    (Kind.PAN, Kind.PATCH, None): "patch_over_pan",
    (Kind.STRIP, Kind.PAN, None): "jamb_over_pan",
    (Kind.STRIP, Kind.METAL, None): "jamb_over_pan",
    (Kind.STRIP, Kind.STRIP, None): "head_over_jamb",
    (Kind.STRIP, Kind.UNIT, Way.UP): "head_over_fin",
    (Kind.STRIP, Kind.UNIT, Way.SIDEWAYS): "jamb_over_fin",
}
