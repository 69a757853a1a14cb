"""From a scene to simple strokes, discs, areas and words, once for all backends.

`record` places every mark in paper inches from the job's origin, y up. Backends replay the recording and know
nothing of balloons or stamps; tests ask it what was drawn where.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from sillwright.drawing.ink import BAND_WEIGHT_PT, HATCH_WEIGHT_PT, INKS
from sillwright.drawing.scene import (
    Along,
    Anchor,
    AnyItem,
    Band,
    Dim,
    Fill,
    Hatch,
    Mark,
    Path,
    Point,
    Ruler,
    Scene,
    Text,
)
from sillwright.drawing.shapes import Area, Dashes, Disc, Shape, Stroke, Word, text_width, turned
from sillwright.drawing.signs import SIGNS
from sillwright.errors import OutputError

_TICK_PT = 1.4
_DIM_PT = 0.5


@dataclass(frozen=True, slots=True)
class Drawn:
    """One mark of the scene, by its place in the list, and the shapes that draw it [paper inches]."""

    index: int
    item: AnyItem
    shapes: tuple[Shape, ...]


def record(scene: Scene) -> tuple[Drawn, ...]:
    """Return every mark of a scene as shapes on paper, from the job's origin, y up [paper inches].

    Raises: OutputError: a mark of a kind that nobody taught the recorder
    """
    return tuple(Drawn(index, item, _shapes(scene, item)) for index, item in enumerate(scene.marks))


def on_paper(scene: Scene, point: Point) -> Point:
    """Return where a job point falls on paper, from the job's origin, y up [paper inches]."""
    return (point[0] * scene.scale_x, point[1] * scene.scale_y)


def _shapes(scene: Scene, item: AnyItem) -> tuple[Shape, ...]:
    draw = _DRAW.get(type(item))
    if draw is None:
        raise OutputError(f"drawing {scene.title!r}: nobody knows how to draw a {type(item).__name__}")

    def place(point: Point) -> Point:
        x, y = on_paper(scene, point)
        return (x + item.nudge[0], y + item.nudge[1])

    return draw(item, place)


_Place = Callable[[Point], Point]


def _path(item: Path, place: _Place) -> tuple[Shape, ...]:
    points = tuple(place(point) for point in item.points)
    dashes: Dashes = "hidden" if item.hidden else "role"
    return (Stroke(points, INKS[item.role].weight_pt * item.weight, item.closed, item.fill, dashes),)


def _hatch(item: Hatch, place: _Place) -> tuple[Shape, ...]:
    points = tuple(place(point) for point in item.points)
    area = Area(points, item.pattern, HATCH_WEIGHT_PT)
    if not item.weight:
        return (area,)
    return (area, Stroke(points, INKS[item.role].weight_pt * item.weight, closed=True))


def _band(item: Band, place: _Place) -> tuple[Shape, ...]:
    points = tuple(place(point) for point in item.points)
    return (Stroke(points, BAND_WEIGHT_PT, closed=True, fill=Fill.TINT, dashes="band"),)


def _text(item: Text, place: _Place) -> tuple[Shape, ...]:
    return (Word(place(item.at), item.text, item.size, item.anchor, item.angle, item.bold),)


# --- dimensions ---------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DimLine:
    """Where a dimension's line runs on paper, from `start` to `end`, and where its text sits."""

    start: Point
    end: Point
    text_at: Point
    text_anchor: Anchor
    angle: float


def dim_line(item: Dim, place: _Place) -> DimLine:
    """Return a dimension's line: `offset` beyond both points, its text above, or beside it when too short."""
    a, b = place(item.start), place(item.end)
    ux, uy = _direction(item.along, a, b)
    level_a, level_b = -uy * a[0] + ux * a[1], -uy * b[0] + ux * b[1]
    level = (max if item.offset >= 0 else min)(level_a, level_b) + item.offset
    start = _foot(a, (ux, uy), level)
    end = _foot(b, (ux, uy), level)
    angle, flipped = _readable(math.degrees(math.atan2(uy, ux)))
    if text_width(item.text, item.size) > math.dist(start, end) - 0.08:
        beyond = (end[0] + 0.12 * ux, end[1] + 0.12 * uy)
        return DimLine(start, end, beyond, Anchor.E if flipped else Anchor.W, angle)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return DimLine(start, end, turned((0, 0.06), angle, middle), Anchor.S, angle)


def _direction(along: Along, a: Point, b: Point) -> Point:
    if along is Along.X:
        return (math.copysign(1.0, b[0] - a[0]), 0.0)
    if along is Along.Z:
        return (0.0, math.copysign(1.0, b[1] - a[1]))
    length = math.dist(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length)


def _foot(point: Point, direction: Point, level: float) -> Point:
    ux, uy = direction
    run = ux * point[0] + uy * point[1]
    return (ux * run - uy * level, uy * run + ux * level)


def _readable(angle: float) -> tuple[float, bool]:
    """Return an angle that reads from the bottom or the right of the sheet, and whether it was turned."""
    if -90 + 1e-9 < angle <= 90 + 1e-9:
        return angle, False
    return (angle + 180 if angle < 0 else angle - 180), True


def _dim(item: Dim, place: _Place) -> tuple[Shape, ...]:
    line = dim_line(item, place)
    heading = math.degrees(math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0]))
    shapes: list[Shape] = []
    for foot, source in ((line.start, place(item.start)), (line.end, place(item.end))):
        shapes += _extension(source, foot)
        shapes.append(
            Stroke((turned((-0.05, -0.05), heading, foot), turned((0.05, 0.05), heading, foot)), _TICK_PT)
        )
    ends = (turned((-0.06, 0), heading, line.start), turned((0.06, 0), heading, line.end))
    word = Word(line.text_at, item.text, item.size, line.text_anchor, line.angle)
    return (Stroke(ends, _DIM_PT), *shapes, word)


def _extension(source: Point, foot: Point) -> list[Shape]:
    reach = math.dist(source, foot)
    if reach < 0.06:
        return []
    ux, uy = (foot[0] - source[0]) / reach, (foot[1] - source[1]) / reach
    near = (source[0] + 0.04 * ux, source[1] + 0.04 * uy)
    return [Stroke((near, (foot[0] + 0.06 * ux, foot[1] + 0.06 * uy)), _DIM_PT)]


# --- the checking ruler -------------------------------------------------------------------------------------


def _ruler(item: Ruler, place: _Place) -> tuple[Shape, ...]:
    x, y = place(item.at)
    shapes: list[Shape] = [Stroke(((x, y), (x + item.length, y)), 1.0)]
    for step in range(item.units * item.parts + 1):
        at = x + step * item.unit / item.parts
        whole, half = step % item.parts == 0, step * 2 % item.parts == 0
        height = item.size * (1.2 if whole else 0.8 if half else 0.5)
        shapes.append(Stroke(((at, y), (at, y + height)), 0.9 if whole else 0.5))
        if whole:
            number = str(step // item.parts * item.number_step)
            shapes.append(Word((at, y + item.size * 1.5), number, item.size * 0.9, Anchor.S))
    shapes.append(Word((x, y - item.size * 0.5), item.text, item.size, Anchor.NW))
    return tuple(shapes)


def _mark(item: Mark, place: _Place) -> tuple[Shape, ...]:
    at = place(item.at)

    def put(point: Point) -> Point:
        return turned((point[0] * item.size, point[1] * item.size), item.angle, at)

    return tuple(_sized(shape, item, put) for shape in SIGNS[item.kind](item))


def _sized(shape: Shape, item: Mark, put: _Place) -> Shape:
    match shape:
        case Word():
            return replace(
                shape, at=put(shape.at), size=shape.size * item.size, angle=shape.angle + item.angle
            )
        case Disc():
            return replace(shape, centre=put(shape.centre), radius=shape.radius * item.size)
        case _:
            return replace(shape, points=tuple(put(point) for point in shape.points))


_DRAW: dict[type, Callable[..., tuple[Shape, ...]]] = {
    Path: _path,
    Hatch: _hatch,
    Band: _band,
    Text: _text,
    Dim: _dim,
    Mark: _mark,
    Ruler: _ruler,
}
