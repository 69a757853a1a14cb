"""Slits, pleats and the lines to cut along of a flat sheet; panels that lie on each other in the plane."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from sillwright.water.geodesic import Place
from sillwright.water.model import Complex, Join
from sillwright.water.pattern_model import Moved, Pleat, Slit
from sillwright.water.rolls import SHY
from sillwright.water.tiles import corner_at
from sillwright.water.unfold import Flat, area, rings

NARROW = math.radians(30)
"""Banks of a cut that stand no farther apart in the plane are a slit, or a wedge cut out; else a notch."""
ROUND = math.radians(0.5)
SMALL = 1e-9


@dataclass(frozen=True, slots=True)
class Tip:
    """The end of a cut inside a sheet; the banks leave it in the plane."""

    vertex: int
    at: complex
    out: list[Place]
    """The sides of the bank that goes round to the left, from the tip on."""
    back: list[Place]
    """The sides of the other bank, from the tip on."""
    gap: float
    """From the second bank on round to the first, radians."""


def tips(flat: Flat) -> Iterator[Tip]:
    """Yield the points inside a sheet where a cut ends: there almost a full turn of it lies round them."""
    for vertex in flat.following:
        gap = flat.gap(vertex)
        if abs(gap) < NARROW:
            yield _tip(flat, vertex, gap)


def _tip(flat: Flat, vertex: int, gap: float) -> Tip:
    out, back = [flat.following[vertex]], [flat.leading[vertex]]
    while _goes_on(flat, out[-1], following := flat.following[flat.ends(out[-1])[1]]):
        out.append(following)
    while _goes_on(flat, before := flat.leading[flat.ends(back[-1])[0]], back[-1]):
        back.append(before)
    return Tip(vertex, flat.at(vertex), out, back, gap)


def _goes_on(flat: Flat, one: Place, other: Place) -> bool:
    """Tell whether one side of the rim goes straight on after another, in one panel."""
    (a, b), (_, d) = flat.side(one), flat.side(other)
    panels = [flat.tiling.tiles[place[0]].panels[0].name for place in (one, other)]
    return panels[0] == panels[1] and abs(cmath.phase((d - b) / (b - a))) < ROUND


def slits_of(shape: Complex, flat: Flat, move: Moved) -> Iterator[Slit]:
    """Yield the slits as they lie on the roll."""
    for tip in tips(flat):
        ends = flat.side(tip.out[-1])[1], flat.side(tip.back[-1])[0]
        length = min(abs(end - tip.at) for end in ends)
        far = [tip.at + (end - tip.at) / abs(end - tip.at) * length for end in ends]
        corner = corner_at(shape, flat.surface.at(tip.vertex))
        whole = corner.angle_deg if corner else 360.0
        covered = math.degrees(min(flat.surface.around[tip.vertex], 2 * math.pi))
        names = [flat.tiling.tiles[bank[0][0]].panels[0].name for bank in (tip.out, tip.back)]
        yield Slit(
            one=names[0],
            other=names[1],
            tip=move.point(tip.at),
            one_end=move.point(far[0]),
            other_end=move.point(far[1]),
            inches=length,
            wedge_deg=math.degrees(tip.gap),
            short=max(0.0, -2 * length * math.sin(tip.gap / 2)),
            opens_deg=whole - covered,
            corner=corner.name if corner else None,
        )


def pleats_on_roll(flat: Flat, move: Moved) -> Iterator[Pleat]:
    """Yield the pleats as they lie on the roll."""
    for vertex, outline in pleats_of(flat).items():
        one, other = (
            flat.tiling.tiles[bank[vertex][0]].panels[0].name for bank in (flat.following, flat.leading)
        )
        ring = move.line(outline)
        yield Pleat(
            one=one, other=other, outline=(ring[0], ring[1], ring[2], ring[3]), crease=(ring[0], ring[2])
        )


def pleats_of(flat: Flat) -> dict[int, tuple[complex, complex, complex, complex]]:
    """Return the pleats by their points: there, out along one panel, round, back along the other."""
    found = {}
    for vertex in flat.following:
        out, back = flat.following[vertex], flat.leading[vertex]
        if not (_is_pleat(flat, out) and flat.joins[out][0] == back):
            continue
        here = flat.at(vertex)
        while _is_pleat(flat, following := flat.following[flat.ends(out)[1]]):
            out = following
        while _is_pleat(flat, before := flat.leading[flat.ends(back)[0]]):
            back = before
        a, b = flat.side(out)[1], flat.side(back)[0]
        half = flat.gap(vertex) / 2
        outer = here + (b - here) * cmath.exp(1j * half) / math.cos(half)
        found[vertex] = here, a, outer, b
    return found


def _is_pleat(flat: Flat, place: Place) -> bool:
    return place in flat.joins and flat.joins[place][1] is Join.PLEAT


def rings_of(shape: Complex, flat: Flat, held: set[str]) -> Iterator[list[complex]]:
    """Yield the lines to cut along: round pleats, and past slits at corners that are held by stretching."""
    pleated = pleats_of(flat)
    skipped = {
        tip.vertex
        for tip in tips(flat)
        if (corner := corner_at(shape, flat.surface.at(tip.vertex))) is not None and corner.name in held
    }
    for ring in rings(flat):
        line = []
        for vertex in ring:
            if vertex in pleated:
                line.append(pleated[vertex][2])
            elif vertex not in skipped and not _inside_pleat(flat, vertex):
                line.append(flat.at(vertex))
        yield line


def _inside_pleat(flat: Flat, vertex: int) -> bool:
    return _is_pleat(flat, flat.following[vertex]) and _is_pleat(flat, flat.leading[vertex])


# --- what lies on each other


def overlapping(flat: Flat) -> Iterator[tuple[str, str]]:
    """Yield the panels that lie on each other in the plane by more than a knife makes good.

    What lacks between the banks of a slit is the slit's own business.
    """
    polygons = {tile: list(ring if area(ring) > 0 else ring[::-1]) for tile, ring in flat.corners.items()}
    lacking = [tip for tip in tips(flat) if tip.gap < 0]
    boxes = {tile: _box(ring) for tile, ring in polygons.items()}
    for one, other in combinations(sorted(polygons), 2):
        a, b = boxes[one], boxes[other]
        if a[0] >= b[2] - SMALL or b[0] >= a[2] - SMALL or a[1] >= b[3] - SMALL or b[1] >= a[3] - SMALL:
            continue
        common = _common(polygons[one], polygons[other])
        if len(common) < 3 or _width(common) < SHY:
            continue
        if not any(_in_wedge(flat, tip, common) for tip in lacking):
            names = [flat.tiling.tiles[tile].panels[0].name for tile in (one, other)]
            yield names[0], names[1]


def _box(ring: list[complex]) -> tuple[float, float, float, float]:
    xs, ys = [p.real for p in ring], [p.imag for p in ring]
    return min(xs), min(ys), max(xs), max(ys)


def _common(one: list[complex], other: list[complex]) -> list[complex]:
    """Return what two convex polygons have in common (Sutherland and Hodgman's clipping)."""
    found = one
    for a, b in zip(other, (*other[1:], other[0]), strict=True):
        clipped: list[complex] = []
        for p, q in zip(found, (*found[1:], *found[:1]), strict=True):
            here, there = (((b - a).conjugate() * (each - a)).imag for each in (p, q))
            if here >= 0:
                clipped.append(p)
            if (here > 0 > there) or (here < 0 < there):
                clipped.append(p + here / (here - there) * (q - p))
        found = clipped
    return found


def _width(ring: list[complex]) -> float:
    """Return the least width of a convex polygon."""
    sides = [(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True) if abs(b - a) > SMALL]
    return min(
        (max(((b - a).conjugate() * (p - a)).imag / abs(b - a) for p in ring) for a, b in sides), default=0.0
    )


def _in_wedge(flat: Flat, tip: Tip, points: list[complex]) -> bool:
    """Tell whether points lie between the banks of a slit, where these cross each other."""
    middle = (flat.side(tip.back[0])[0] - tip.at) * cmath.exp(0.5j * tip.gap)
    return all(
        abs(point - tip.at) < 1e-6 or abs(cmath.phase((point - tip.at) / middle)) < abs(tip.gap) / 2 + 1e-6
        for point in points
    )
