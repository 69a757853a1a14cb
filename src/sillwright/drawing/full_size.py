"""Blanks and slits at full size, to cut by: what does not fit the paper is printed in parts that butt."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise, product

from sillwright.drawing.cutting import SMALL, along, is_in, slit_words, threes, unit, without_overlaps
from sillwright.drawing.figures import Figures
from sillwright.drawing.scene import Anchor, AnyItem, Mark, Path, Point, Role, Scene, Text
from sillwright.drawing.shapes import text_width
from sillwright.lengths import Unit
from sillwright.water.pattern_model import FlatPattern, FlatPiece, Fold, Make, Slit

Box = tuple[float, float, float, float]


FULL = (1.0, 1.0)
HAIR = 0.2
"""Weight of a line to cut by, of crayon."""


def blank_tiles(pattern: FlatPattern, *, units: Unit, width: float, height: float) -> tuple[Scene, ...]:
    """Return the blanks of a pattern at full size, in tiles that butt where they are larger than the paper.

    Args:    width, height: of the paper for one tile [in]
    """
    found = []
    for number, piece in enumerate(pattern.pieces, 1):
        title = f"{pattern.words}, full size" + (f", piece {number}" if len(pattern.pieces) > 1 else "")
        box = -0.06, -0.06, piece.size.along + 0.06, piece.size.across + 0.06
        turned = _count(box, (width, height)) > _count((box[1], box[0], box[3], box[2]), (width, height))
        if turned:
            box = -box[3], box[0], -box[1], box[2]
        marks = _blank(pattern, piece, _on_its_side if turned else _as_it_is)
        found += list(_tiles(title, marks, box, (width, height), units))
    return tuple(found)


def _count(box: Box, paper: Point) -> int:
    return math.prod(max(1, math.ceil((box[n + 2] - box[n]) / paper[n] - 1e-9)) for n in (0, 1))


def _as_it_is(points: Sequence[Point]) -> tuple[Point, ...]:
    return tuple(points)


def _on_its_side(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return points turned a quarter turn to the left."""
    return tuple((-y, x) for x, y in points)


def _blank(
    pattern: FlatPattern, piece: FlatPiece, placed: Callable[[Sequence[Point]], tuple[Point, ...]]
) -> list[AnyItem]:
    """Return the blank of a patch: its outline, folds, and the point that comes to lie in the corner.

    Args:    placed: points as they lie on the paper
    """
    marks: list[AnyItem] = [Path(placed((*ring, ring[0])), role=Role.NEW) for ring in piece.rings]
    folds = [(placed(fold.line), fold.turn_deg < 0) for fold in piece.folds]
    marks += [Path(line, role=Role.CRAYON, weight=HAIR, hidden=down) for line, down in folds]
    if pattern.make is Make.STRETCHED and len(piece.stretches) == 1:
        (centre,) = placed((_centre(piece.folds),))
        marks += _cross(centre)
        marks.append(_beside(centre, [line for line, _ in folds]))
    for panel in piece.panels:
        marks += _name_inside(panel.name, placed(panel.outline))
    return marks


def _beside(centre: Point, folds: Sequence[Sequence[Point]]) -> Text:
    """Return the words for the corner point, in the widest gap between the folds that end there."""
    ways = sorted(
        math.atan2(far[1] - centre[1], far[0] - centre[0])
        for line in folds
        for near, far in ((line[0], line[1]), (line[-1], line[-2]))
        if math.dist(near, centre) < 1e-6
    )
    gaps = [(after - before, before) for before, after in pairwise((*ways, ways[0] + 2 * math.pi))]
    wide, start = max(gaps)
    way = math.cos(start + wide / 2), math.sin(start + wide / 2)
    reach = 0.12 + abs(way[0]) * text_width("corner point", SMALL) / 2
    nudge = reach * way[0], reach * way[1]
    return Text(centre, "corner point", anchor=Anchor.C, nudge=nudge, size=SMALL)


_NAME_SIZES = (0.12, 0.09)


def _name_inside(words: str, ring: Sequence[Point]) -> Iterator[Text]:
    """Yield a panel's name where it stands inside its outline, level or along a side, if it can."""
    sides = sorted(zip(ring, (*ring[1:], ring[0]), strict=True), key=lambda ends: -math.dist(*ends))
    slants = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in sides[:3]]
    upright = [(slant + math.pi / 2) % math.pi - math.pi / 2 for slant in slants]
    for size in _NAME_SIZES:
        half = text_width(words, size) / 2 + 0.03, size / 2 + 0.03
        for slant in (0.0, *upright):
            at = _roomiest(ring, half, slant)
            if at is not None:
                yield Text(at, words, anchor=Anchor.C, size=size, angle=math.degrees(slant))
                return


_GRID = 12


def _roomiest(ring: Sequence[Point], half: Point, slant: float) -> Point | None:
    """Return the place nearest the middle of an outline where a slanted box is inside it; None: nowhere."""
    xs, ys = zip(*ring, strict=True)
    middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    cos, sin = math.cos(slant), math.sin(slant)
    rim = [(x * half[0], y * half[1]) for x, y in product((-1, -0.5, 0, 0.5, 1), (-1, 0, 1))]
    turned = [(x * cos - y * sin, x * sin + y * cos) for x, y in rim]
    steps = [(n + 0.5) / _GRID for n in range(_GRID)]
    every = [
        (min(xs) + s * (max(xs) - min(xs)), min(ys) + t * (max(ys) - min(ys))) for s in steps for t in steps
    ]
    every.sort(key=lambda at: math.dist(at, middle))
    return next((at for at in every if all(is_in(ring, (at[0] + dx, at[1] + dy)) for dx, dy in turned)), None)


def _centre(folds: Sequence[Fold]) -> Point:
    """Return the point where most folds end: the corner that a blank is stretched round."""
    ends = [end for fold in folds for end in (fold.line[0], fold.line[-1])]
    return max(ends, key=lambda point: sum(math.dist(point, other) < 1e-6 for other in ends))


def slit_templates(pattern: FlatPattern, *, units: Unit, side: float) -> tuple[Scene, ...]:
    """Return each slit of a pattern at full size: the stretch round its tip, where a hair decides.

    Args:    side: of the square of paper for one [in]
    """
    found = []
    for piece in pattern.pieces:
        for slit in piece.slits:
            if slit.corner is None:
                continue
            reach = side / 2 - 0.1
            box = slit.tip[0] - reach, slit.tip[1] - reach, slit.tip[0] + reach, slit.tip[1] + reach
            title = f"{pattern.words}, slit between {slit.one} and {slit.other}, full size"
            found.append(_tile(title, list(_round_tip(piece, slit, reach, Figures(units))), box, "", units))
    return tuple(found)


def _round_tip(piece: FlatPiece, slit: Slit, reach: float, figures: Figures) -> Iterator[AnyItem]:
    """Yield what lies round the tip of a slit: cuts, folds with their words, the panels by name."""
    box = slit.tip[0] - reach, slit.tip[1] - reach, slit.tip[0] + reach, slit.tip[1] + reach
    for ring in piece.rings:
        yield Path((*ring, ring[0]), role=Role.NEW)
    for fold in piece.folds:
        yield Path(fold.line, role=Role.CRAYON, weight=HAIR, hidden=fold.turn_deg < 0)
        for run in _runs(fold.line, box):
            yield from along(run, f"fold {fold.words}", FULL)
    for end in dict.fromkeys((slit.one_end, slit.other_end)):
        yield Path((slit.tip, end), role=Role.CRAYON, weight=HAIR)
        for run in _runs((slit.tip, end), box):
            yield from along(run, f"{slit_words(slit, figures)}, to the cross and no farther", FULL)
    yield from _cross(slit.tip)
    for panel in piece.panels:
        for before, here, after in threes(panel.outline):
            if math.dist(here, slit.tip) < 1e-6:
                rays = [unit((end[0] - here[0], end[1] - here[1])) for end in (before, after)]
                way = unit((rays[0][0] + rays[1][0], rays[0][1] + rays[1][1]))
                at = here[0] + 0.62 * reach * way[0], here[1] + 0.62 * reach * way[1]
                yield Text(at, panel.name, anchor=Anchor.C, size=0.14)


def _cross(at: Point) -> Iterator[AnyItem]:
    for dx, dy in ((0.08, 0.0), (0.0, 0.08)):
        yield Path(((at[0] - dx, at[1] - dy), (at[0] + dx, at[1] + dy)), role=Role.NOTE, weight=1.6)


def _tiles(
    title: str, marks: Sequence[AnyItem], box: Box, paper: tuple[float, float], units: Unit
) -> Iterator[Scene]:
    """Yield what lies in a box in tiles no larger than the paper."""
    counts = [max(1, math.ceil((box[n + 2] - box[n]) / paper[n] - 1e-9)) for n in (0, 1)]
    steps = [(box[n + 2] - box[n]) / counts[n] for n in (0, 1)]
    every = [(i, j) for j in range(counts[1]) for i in range(counts[0])]
    for number, (i, j) in enumerate(every, 1):
        low = box[0] + i * steps[0], box[1] + j * steps[1]
        part = f", part {number} of {len(every)}" if len(every) > 1 else ""
        joins = "butt to its neighbours at the dashed lines" if len(every) > 1 else ""
        yield _tile(f"{title}{part}", marks, (*low, low[0] + steps[0], low[1] + steps[1]), joins, units)


def _tile(title: str, marks: Sequence[AnyItem], box: Box, joins: str, units: Unit) -> Scene:
    x0, y0, x1, y1 = box
    frame = Path(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), closed=True, role=Role.NOTE, hidden=True)
    kept: list[AnyItem] = [frame, *(item for mark in marks for item in _clipped(mark, box))]
    words = "; ".join(each for each in (title, joins) if each)
    alt = f"{words}, seen from the outer side."
    return without_overlaps(Scene(tuple(kept), title=title, alt=alt, metric=units == "mm", margin=0.06))


def _clipped(item: AnyItem, box: Box) -> Iterator[AnyItem]:
    """Yield what lies in a box of a line, a word or a sign."""
    if isinstance(item, Path):
        for points in _runs(item.points, box):
            yield Path(points, hidden=item.hidden, weight=item.weight, role=item.role, ref=item.ref)
    elif isinstance(item, Text | Mark):
        x, y = item.at
        room = 0.12
        if box[0] + room < x < box[2] - room and box[1] + room < y < box[3] - room and _fits(item, box):
            yield item


def _fits(item: Text | Mark, box: Box) -> bool:
    if not isinstance(item, Text):
        return True
    wide = text_width(item.text, item.size)
    turn = math.radians(item.angle)
    share = {"w": (0.0, 1.0), "e": (-1.0, 0.0)}.get(item.anchor.value[-1], (-0.5, 0.5))
    ends = [(item.at[0] + s * wide * math.cos(turn), item.at[1] + s * wide * math.sin(turn)) for s in share]
    return all(box[0] < x < box[2] and box[1] < y < box[3] for x, y in ends)


def _runs(points: Iterable[Point], box: Box) -> Iterator[tuple[Point, ...]]:
    """Yield the stretches of a line inside a box."""
    run: list[Point] = []
    for a, b in pairwise(points):
        part = _inside(a, b, box)
        if part is None:
            if len(run) > 1:
                yield tuple(run)
            run = []
            continue
        if not run or math.dist(run[-1], part[0]) > 1e-9:
            if len(run) > 1:
                yield tuple(run)
            run = [part[0]]
        run.append(part[1])
    if len(run) > 1:
        yield tuple(run)


def _inside(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """Return the part of a line inside a box, by Liang and Barsky's shares."""
    low, high = 0.0, 1.0
    ray = b[0] - a[0], b[1] - a[1]
    for n in (0, 1):
        for reach, way in ((a[n] - box[n], -ray[n]), (box[n + 2] - a[n], ray[n])):
            if way == 0:
                if reach < 0:
                    return None
            elif way < 0:
                low = max(low, reach / way)
            else:
                high = min(high, reach / way)
    if high - low < 1e-12:
        return None
    return (a[0] + low * ray[0], a[1] + low * ray[1]), (a[0] + high * ray[0], a[1] + high * ray[1])
