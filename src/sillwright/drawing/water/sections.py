"""Sections through a dressed wall: sill, head and jamb of an opening, and the ledger.

To scale along the faces; the layers are drawn apart. Outside is at the left, in a jamb's plan below.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sillwright.drawing.scene import Point
from sillwright.drawing.water.cut import Leg, Ranks, in_order, leg, pieces, ranks
from sillwright.water import WALL, Complex, Dressing, Mount, Panel, Span

_ROUND = 1.5
"""Of the wall, shown past the last edge that matters [in]."""
_MOST = 9.0
"""No more of a wall is shown beside an opening [in]."""
_OF_LEDGER = 4.0
"""How much of a ledger's face a section shows [in]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A plane through a wall with what it cuts."""

    name: str
    """`sill`, `head`, `left jamb`, `right jamb` or `ledger`."""
    opening: str | None
    legs: tuple[Leg, ...]
    """The outer line: over the ledger, where there is one."""
    behind: tuple[Leg, ...]
    """The same for what is on before the ledger: straight down the wall."""
    wood: tuple[Point, ...]
    ranks: Ranks


def sections_of(dressing: Dressing, opening: str) -> Iterator[Section]:
    """Yield the sections of an opening: sill, head, left jamb, and the right one if it is not as the left."""
    yield _sill(dressing, opening)
    yield _head(dressing, opening)
    left, right = (_jamb(dressing, opening, side) for side in ("left", "right"))
    yield left
    if _told(dressing, left) != _told(dressing, right):
        yield right


def _told(dressing: Dressing, jamb: Section) -> set[tuple[str, int, tuple[float, ...], bool]]:
    """Return what a jamb's section shows, counted from the opening's edge: mirrored sides are alike."""
    return {
        (
            sheet.kind.value,
            piece.leg,
            tuple(sorted(round(abs(end - edge), 3) for end in piece.span)),
            piece.bonded,
        )
        for sheet in in_order(dressing)
        for piece in pieces(jamb.legs, sheet)
        for edge in (jamb.legs[0].end if piece.leg == 0 else 0.0,)
    }


def _hole(shape: Complex, opening: str) -> tuple[Span, Span, float, float]:
    """Return x, z and depth of an opening, and the height of its back dam."""
    sill, left = shape.by_name[f"{opening}.sill"], shape.by_name[f"{opening}.left"]
    dam = shape.by_name.get(f"{opening}.dam")
    return sill.u, left.v, sill.v[1], dam.v[1] - dam.v[0] if dam else 0.0


def _sill(dressing: Dressing, opening: str) -> Section:
    shape = dressing.complex
    x, z, depth, dam = _hole(shape, opening)
    at = (x[0] + x[1]) / 2
    low = z[0] - _reach(dressing, opening, at=at, axis=1, beyond=(z[0] - _MOST, z[0]), edge=z[0])
    inner = [leg(shape, f"{opening}.sill", 1, at=at, span=(0.0, depth), drop=0)]
    if dam > 0:
        inner.append(leg(shape, f"{opening}.dam", 1, at=at, span=(z[0], z[0] + dam), drop=0))
    mount = _mount_at(shape, at, (low, z[0]))
    if mount:
        low = min(low, mount.v[1] - _OF_LEDGER)
    behind = [leg(shape, WALL, 1, at=at, span=(low, z[0]), drop=0), *inner]
    (a, b), back = inner[0].last, inner[-1].last
    top = back[1] if dam > 0 else b
    wood = (
        (0.0, low),
        (0.0, z[0]),
        (a, b),
        (a, top),
        (a + 0.75 * (dam > 0), top),
        (a + 0.75 * (dam > 0), low),
    )
    front = _over_mount(shape, mount, at, low, z[0], inner) if mount else behind
    return _section("sill", opening, dressing, front, behind, wood)


def _head(dressing: Dressing, opening: str) -> Section:
    shape = dressing.complex
    x, z, depth, _ = _hole(shape, opening)
    at = (x[0] + x[1]) / 2
    high = z[1] + _reach(dressing, opening, at=at, axis=1, beyond=(z[1], z[1] + _MOST), edge=z[1])
    legs = [
        leg(shape, f"{opening}.head", 1, at=at, span=(depth, 0.0), drop=0),
        leg(shape, WALL, 1, at=at, span=(z[1], high), drop=0),
    ]
    wood = ((0.0, high), (0.0, z[1]), (depth, z[1]), (depth, high))
    return _section("head", opening, dressing, legs, legs, wood)


def _jamb(dressing: Dressing, opening: str, side: str) -> Section:
    shape = dressing.complex
    x, z, depth, _ = _hole(shape, opening)
    at = (z[0] + z[1]) / 2
    edge, way = (x[0], -1) if side == "left" else (x[1], 1)
    beyond = (edge - _MOST, edge) if side == "left" else (edge, edge + _MOST)
    far = edge + way * _reach(dressing, opening, at=at, axis=0, beyond=beyond, edge=edge)
    legs = [
        leg(shape, WALL, 0, at=at, span=(far, edge), drop=2),
        leg(shape, f"{opening}.{side}", 0, at=at, span=(0.0, depth), drop=2),
    ]
    wood = ((far, 0.0), (edge, 0.0), (edge, depth), (far, depth))
    return _section(f"{side} jamb", opening, dressing, legs, legs, wood)


def ledger_section(dressing: Dressing) -> Section | None:
    """Return the section through the ledger, where it can be clear of openings; None: there is none."""
    shape = dressing.complex
    mount = next((each for each in shape.mounts if each.facet == WALL), None)
    if mount is None:
        return None
    at = _clear(shape, mount)
    sills = [shape.by_name[f"{n}.left"].v[0] for n in _over(shape, at)]
    walls = [sheet for sheet in dressing.sheets if sheet.opening is None]
    ends = [panel.v[1] for sheet in walls for panel in sheet.panels if _near(panel, mount)]
    high = min([max([*ends, mount.v[1] + 2.0]) + _ROUND, *(z - _ROUND for z in sills)])
    high = max(high, mount.v[1] + 0.5)
    low = mount.v[0] - 2.0
    behind = [leg(shape, WALL, 1, at=at, span=(low, high), drop=0)]
    front = _over_mount(shape, mount, at, mount.v[0], high, [])
    wood = ((0.0, low), (0.0, high), (3.0, high), (3.0, low))
    return _section("ledger", None, dressing, front, behind, wood)


def _clear(shape: Complex, mount: Mount) -> float:
    """Return the middle of the widest stretch of a ledger over which there is no opening."""
    holes = sorted(facet.u for facet in shape.facets if facet.name.endswith(".sill"))
    starts = [mount.u[0], *(max(hole[1], mount.u[0]) for hole in holes)]
    ends = [*(min(hole[0], mount.u[1]) for hole in holes), mount.u[1]]
    start, end = max(zip(starts, ends, strict=True), key=lambda gap: gap[1] - gap[0])
    return (start + end) / 2 if end - start > _ROUND else sum(mount.u) / 2


def _near(panel: Panel, mount: Mount) -> bool:
    return panel.facet == WALL and mount.v[1] < panel.v[1] < mount.v[1] + 8.0


def _over(shape: Complex, x: float) -> list[str]:
    sills = [facet for facet in shape.facets if facet.name.endswith(".sill")]
    return [facet.name.removesuffix(".sill") for facet in sills if facet.u[0] < x < facet.u[1]]


def _over_mount(
    shape: Complex, mount: Mount, at: float, low: float, high: float, inner: Sequence[Leg]
) -> list[Leg]:
    """Return the line up the face of a mount, over its top and up the wall."""
    face, top = (next(f for f in mount.faces if f.endswith(part)) for part in (".face", ".top"))
    depth = shape.by_name[top].v
    return [
        leg(shape, face, 1, at=at, span=(max(low, mount.v[0]), mount.v[1]), drop=0),
        leg(shape, top, 1, at=at, span=(depth[1], depth[0]), drop=0),
        leg(shape, WALL, 1, at=at, span=(mount.v[1], high), drop=0),
        *inner,
    ]


def _mount_at(shape: Complex, at: float, z: Span) -> Mount | None:
    """Return the mount that a plane cuts in a stretch of the wall."""
    return next(
        (m for m in shape.mounts if m.facet == WALL and m.u[0] < at < m.u[1] and z[0] < m.v[1] <= z[1]), None
    )


def _reach(dressing: Dressing, opening: str, *, at: float, axis: int, beyond: Span, edge: float) -> float:
    """Return how far to show the wall beside an edge of an opening: past the last end of its pieces there."""
    found = [0.0]
    for sheet in dressing.sheets:
        for panel in sheet.panels if sheet.opening in (None, opening) else ():
            along, across = (panel.u, panel.v) if axis == 0 else (panel.v, panel.u)
            if panel.facet == WALL and across[0] < at < across[1]:
                found += [abs(end - edge) for end in along if beyond[0] < end < beyond[1]]
    return min(max(found) + _ROUND, beyond[1] - beyond[0])


def _section(
    name: str,
    opening: str | None,
    dressing: Dressing,
    front: Sequence[Leg],
    behind: Sequence[Leg],
    wood: tuple[Point, ...],
) -> Section:
    every = [*behind, *(each for each in front if each.facet not in {b.facet for b in behind})]
    return Section(
        name=name,
        opening=opening,
        legs=tuple(front),
        behind=tuple(behind),
        wood=wood,
        ranks=ranks(dressing, every),
    )


def shifted(legs: Sequence[Leg], mount: Mount, rank: int, gap: float) -> tuple[Leg, ...]:
    """Return the legs with the faces of a mount moved out to where the mount is drawn."""

    def out(point: Point) -> Point:
        return point[0] - rank * gap, point[1]

    return tuple(
        replace(each, first=out(each.first), last=out(each.last)) if each.facet in mount.faces else each
        for each in legs
    )
