"""Maps of water: the wall in elevation, and each opening laid flat like an opened box.

Every place has its verdict at the design head; the weakest way is drawn as an arrow with a drop where water
comes in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.drawing.page import Box, box_of, sheet
from sillwright.drawing.scene import Anchor, AnyItem, Fill, Path, Point, Role, Scene, Text
from sillwright.drawing.water.acts import named_holes
from sillwright.drawing.water.net import Net, opened
from sillwright.drawing.water.outline import Rect
from sillwright.drawing.water.paper import PHONE, Paper
from sillwright.drawing.water.seen import Seen, of_opening, weakest, worst
from sillwright.drawing.water.verdict_marks import SIGN, Marker
from sillwright.water import WALL, Dressing, Verdict

_MARGIN = 0.05
_TRIES = 6
_NAME = 0.17


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterMap:
    """A map of water, and what it says of the weakest way."""

    key: str
    """`wall`, or `box-<opening>`."""
    opening: str | None
    title: str
    sentence: str
    """The weakest way in words; empty: everything sheds."""
    scene: Scene


def water_maps(
    dressing: Dressing, places: Sequence[Seen], paper: Paper = PHONE, *, head: float | None = None
) -> Iterator[WaterMap]:
    """Yield the map of the wall, then that of every opening laid flat, from left to right.

    Args:    head: the design head that the verdicts are for, to be written under the map [in]
    """
    yield wall_map(dressing, places, paper, head=head)
    for opening, _ in named_holes(dressing):
        yield box_map(dressing, opening, places, paper, head=head)


def wall_map(
    dressing: Dressing, places: Sequence[Seen], paper: Paper = PHONE, *, head: float | None = None
) -> WaterMap:
    """Return the wall in elevation with the verdict for every place on it."""
    box = box_of([(x, z) for x, _, z in dressing.complex.by_name[WALL].corners])
    low, title = weakest(places), "Water on the wall"
    way = [(x, z) for _, points in low.way for x, _, z in points] if low else []

    def build(scale: float) -> Scene:
        marker = Marker(Figures(paper.units), scale)
        marks = [
            *_wall(dressing, places, marker, marker.taken(way)),
            *marker.way(way, low.ref if low else ""),
        ]
        marks += marker.legend((box.left, box.bottom - 0.2 / scale), head)
        return _scene(marks, title, low, paper, scale)

    scene = _fitted(build, paper, (paper.width - 2 * _MARGIN) / box.width)
    return WaterMap(key="wall", opening=None, title=title, sentence=low.sentence if low else "", scene=scene)


def box_map(
    dressing: Dressing,
    opening: str,
    places: Sequence[Seen],
    paper: Paper = PHONE,
    *,
    head: float | None = None,
) -> WaterMap:
    """Return an opening laid flat: the room in the middle, sill, jambs and head round it, then the wall."""
    net = opened(dressing.complex, opening)
    own = of_opening(places, opening)
    low, title = weakest(own), f"Water at {opening}, laid flat"
    way = net.way(opening, low.way) if low else []

    def build(scale: float) -> Scene:
        marker = Marker(Figures(paper.units), scale)
        marks = [
            *_flat(net, opening, own, marker, marker.taken(way)),
            *marker.way(way, low.ref if low else ""),
        ]
        marks += marker.legend((0.0, -0.2 / scale), head)
        return _scene(marks, title, low, paper, scale)

    scene = _fitted(build, paper, min(1.4, (paper.width - 2 * _MARGIN) / net.across[-1]))
    told = low.sentence if low else ""
    return WaterMap(key=f"box-{opening}", opening=opening, title=title, sentence=told, scene=scene)


def _fitted(build: Callable[[float], Scene], paper: Paper, scale: float) -> Scene:
    """Return a scene that fits its paper, as large as it can be below a scale."""
    scene = build(scale)
    for _ in range(_TRIES):
        taken = sheet(scene)
        if taken.width <= paper.width and taken.height <= paper.height:
            break
        scale *= min(paper.width / taken.width, paper.height / taken.height) * 0.99
        scene = build(scale)
    return scene


# --- the wall


def _wall(
    dressing: Dressing, places: Sequence[Seen], marker: Marker, taken: Sequence[Box]
) -> Iterator[AnyItem]:
    wall = dressing.complex.by_name[WALL]
    by_place = {each.place: each for each in places}
    zones = [(zone.name, (zone.u, zone.v)) for zone in wall.zones if zone.name in by_place]
    for name, rect in zones:
        yield from marker.area(_outline(dressing, rect), by_place[name])
    holes = named_holes(dressing)
    for name, hole in holes:
        yield from _opening(dressing, name, hole, places, marker, taken)
    for number, (name, rect) in enumerate(zones):
        over = [other for _, other in (*zones[number + 1 :], *holes)]
        room = _largest_left(rect, over)
        if room is not None:
            yield from marker.words(_outline(dressing, room), by_place[name], taken=taken)


def _outline(dressing: Dressing, rect: Rect) -> list[Point]:
    """Return a rectangle of the wall's face where it truly is, x and z."""
    (u0, u1), (v0, v1) = rect
    points = dressing.complex.by_name[WALL].place([u0, u1, u1, u0], [v0, v0, v1, v1])
    return [(x, z) for x, _, z in points.tolist()]


def _largest_left(rect: Rect, over: Sequence[Rect]) -> Rect | None:
    """Return a large part of a rectangle that others leave free: cut at one after another."""
    for other in over:
        (u0, u1), (v0, v1) = rect
        (a0, a1), (b0, b1) = other
        if min(u1, a1) - max(u0, a0) < 1e-6 or min(v1, b1) - max(v0, b0) < 1e-6:
            continue
        parts: list[Rect] = [
            ((u0, a0), (v0, v1)),
            ((a1, u1), (v0, v1)),
            ((u0, u1), (v0, b0)),
            ((u0, u1), (b1, v1)),
        ]
        rect = max(parts, key=_size)
        if _size(rect) <= 0:
            return None
    return rect


def _size(rect: Rect) -> float:
    (u0, u1), (v0, v1) = rect
    return (u1 - u0) * (v1 - v0) if u1 > u0 and v1 > v0 else 0.0


def _opening(
    dressing: Dressing, name: str, hole: Rect, places: Sequence[Seen], marker: Marker, taken: Sequence[Box]
) -> Iterator[AnyItem]:
    """Yield an opening with its name, and the worst that its returns and the room behind it have."""
    outline = _outline(dressing, hole)
    yield Path(tuple(outline), closed=True, fill=Fill.PAPER, weight=1.0, ref=f"opening.{name}")
    low = worst([each for each in of_opening(places, name) if not each.place.startswith(f"{name}.wall")])
    box = box_of(outline)
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    up = 0.04 if low is not None else -_NAME / 3
    yield Text(middle, name, anchor=Anchor.S, nudge=(0.0, up), size=_NAME, bold=True, ref=f"opening.{name}")
    if low is not None:
        foot = max(box.bottom, middle[1] - (SIGN + 0.35) / marker.scale)
        below = [(box.left, foot), (box.right, foot), (box.right, middle[1]), (box.left, middle[1])]
        yield from marker.words(below, low, taken=taken)


# --- an opening laid flat


def _flat(
    net: Net, opening: str, own: Sequence[Seen], marker: Marker, taken: Sequence[Box]
) -> Iterator[AnyItem]:
    by_place = {each.place: each for each in own}
    room = worst([each for each in own if each.place.startswith("room.")])
    cells = [(by_place.get(place), name, box) for place, name, box in net.cells(opening)]
    cells.append((room, f"room at {opening}", net.room()))
    for line in net.belongs():
        yield Path(line, hidden=True, weight=0.5)
    for place, _, box in cells:
        if place is None:
            yield Path(tuple(_ring(box)), closed=True, fill=Fill.PAPER, role=Role.NOTE)
        else:
            yield from marker.area(_ring(box), place)
    for place, name, box in cells:
        if place is not None:
            yield from marker.words(_ring(box), place, name, taken)


def _ring(box: Box) -> list[Point]:
    return [(box.left, box.bottom), (box.right, box.bottom), (box.right, box.top), (box.left, box.top)]


# --- both


def _scene(marks: Sequence[AnyItem], title: str, low: Seen | None, paper: Paper, scale: float) -> Scene:
    if low is None:
        alt = f"{title}: every place sheds."
    else:
        verdict = "open" if low.verdict is Verdict.OPEN else "held by bond"
        alt = f"{title}: the weakest place is the {low.words}, {verdict}. {low.sentence}".strip()
    return Scene(
        tuple(marks),
        title=title,
        alt=alt,
        scale_x=scale,
        scale_y=scale,
        margin=_MARGIN,
        metric=paper.units == "mm",
    )
