"""Flat patterns drawn: a piece as it lies on its roll, and at full size what must be exact.

One sees the outer side of the sheet. Cut lines are new, what is to be done is crayon: slits thick, folds that
come up toward the eye solid, folds that go down dashed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import TYPE, at_largest
from sillwright.drawing.page import Box, TextBox, text_boxes
from sillwright.drawing.scene import (
    Along,
    Anchor,
    AnyItem,
    Dim,
    Fill,
    Mark,
    MarkKind,
    Path,
    Point,
    Role,
    Scene,
    Text,
)
from sillwright.drawing.shapes import text_width
from sillwright.lengths import Unit
from sillwright.water.pattern_model import FlatPattern, FlatPiece, Make, Slit

SMALL = 0.085
"""Type beside an edge [paper inches]."""
FOLD_WEIGHT = 0.4
"""Of a crayon line."""
SLIT_WEIGHT = 0.8
_DOT = 0.022
_LEVEL = (".sill", ".head", ".top")
"""Faces on which no way is up."""
_LOW, _HIGH = 1.1, 2.0
"""A drawing lower than the first is stretched across the roll, up to the second [paper inches]."""
_STRETCHES = (8, 6, 5, 4, 3, 2, 1)


def pieces_drawn(pattern: FlatPattern, *, units: Unit, width: float, height: float) -> tuple[Scene, ...]:
    """Return every piece of a pattern as it lies on its roll, at the largest trade scale that fits a box.

    A long piece is stretched across the roll, as its scale says.

    Args:    width, height: of the box [paper inches]
    Raises:  OutOfRange: a piece does not fit at any scale
    """
    found = []
    for number, piece in enumerate(pattern.pieces, 1):

        def build(scale: float, piece: FlatPiece = piece, number: int = number) -> Scene:
            return _piece(pattern, piece, number, (scale, scale * _times(piece, scale, height)), units)

        span = (piece.size.along, piece.size.across)
        found.append(at_largest(build, span=span, width=width, height=height, metric=units == "mm"))
    return tuple(found)


def _times(piece: FlatPiece, scale: float, height: float) -> int:
    low = piece.size.across * scale
    if low >= _LOW:
        return 1
    return next(times for times in _STRETCHES if low * times <= min(_HIGH, height - 1.0) or times == 1)


def piece_title(pattern: FlatPattern, number: int) -> str:
    """Return what a drawing of a piece is called."""
    part = f", piece {number} of {len(pattern.pieces)}" if len(pattern.pieces) > 1 else ""
    return f"Cutting pattern: {pattern.words}{part}"


def corners_of(piece: FlatPiece) -> tuple[Point, ...]:
    """Return the points to mark on the roll, in the order of their numbers: those of the cut lines."""
    return tuple(point for ring in piece.rings for point in ring)


def _piece(pattern: FlatPattern, piece: FlatPiece, number: int, scale: Point, units: Unit) -> Scene:
    figures = Figures(units)
    title = piece_title(pattern, number)
    marks: list[AnyItem] = [*_roll(piece, scale), *_outline(pattern, piece), *_overall(piece, figures)]
    marks += _joints(piece, figures)
    marks += slits(piece, figures, scale)
    if pattern.make is not Make.STRETCHED:
        marks += _numbers(piece, scale)
    marks += bends(piece, scale)
    marks += panel_words(piece, scale)
    size = figures.size(piece.size.along, piece.size.across)
    scene = Scene(
        tuple(marks),
        title=title,
        alt=f"{title}, {size} {units}, seen from its outer side: {_told(piece)}.",
        scale_x=scale[0],
        scale_y=scale[1],
        metric=units == "mm",
    )
    return without_overlaps(scene)


def without_overlaps(scene: Scene) -> Scene:
    """Return a scene without the words that would stand on earlier ones: what matters comes first."""
    kept: list[TextBox] = []
    dropped: set[int] = set()
    for box in text_boxes(scene):
        if any(other.index != box.index and other.box.overlaps(box.box) for other in kept):
            dropped.add(box.index)
        else:
            kept.append(box)
    return replace(scene, marks=tuple(mark for n, mark in enumerate(scene.marks) if n not in dropped))


def _told(piece: FlatPiece) -> str:
    folds = [f"{fold.one} to {fold.other} {fold.words}" for fold in piece.folds]
    slits_ = [f"slit between {slit.one} and {slit.other}" for slit in piece.slits]
    pleats = [f"pleat between {pleat.one} and {pleat.other}" for pleat in piece.pleats]
    return "; ".join([*folds, *slits_, *pleats]) or "no folds"


def _roll(piece: FlatPiece, scale: Point) -> Iterator[AnyItem]:
    """Yield the edges of the roll, the far one if it is near."""
    roll = piece.size.roll
    if roll is None or len(piece.size.strips) > 1:
        return
    ends = (0.0, piece.size.along)
    for y in (0.0, roll) if roll - piece.size.across < 0.7 / scale[1] else (0.0,):
        yield Path(((ends[0], y), (ends[1], y)), role=Role.CHALK)


def _joints(piece: FlatPiece, figures: Figures) -> Iterator[AnyItem]:
    """Yield the joints of a piece wider than its roll: the edge on top solid, the one below dashed."""
    ends = (0.0, piece.size.along)
    for before, after in pairwise(piece.size.strips):
        over, under = (after.low, before.high) if piece.upper_over else (before.high, after.low)
        for y in (over, under):
            yield Path(((ends[0], y), (ends[1], y)), role=Role.CRAYON, weight=FOLD_WEIGHT, hidden=y == under)
        words = f"joint, lap {figures.place(piece.size.lap)}"
        at = (piece.size.along / 4, (over + under) / 2)
        yield Text(at, words, anchor=Anchor.C, size=SMALL, role=Role.CRAYON)


def _outline(pattern: FlatPattern, piece: FlatPiece) -> Iterator[AnyItem]:
    for ring in piece.rings:
        inside = Fill.TINT if _turns_left(ring) else Fill.PAPER
        yield Path(ring, closed=True, fill=inside, role=Role.NEW, ref=f"piece.{pattern.sheet}")


def _turns_left(ring: Sequence[Point]) -> bool:
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)) > 0


def bends(piece: FlatPiece, scale: Point) -> Iterator[AnyItem]:
    """Yield the folds with their words, and the creases of pleats."""
    for fold in piece.folds:
        yield Path(fold.line, role=Role.CRAYON, weight=FOLD_WEIGHT, hidden=fold.turn_deg < 0)
        yield from along(fold.line, f"fold {fold.words}", scale)
    for pleat in piece.pleats:
        tip, one, _, other = pleat.outline
        for end in (one, other):
            yield Path((tip, end), role=Role.CRAYON, weight=FOLD_WEIGHT * 0.6)
        yield Path(pleat.crease, role=Role.CRAYON, weight=FOLD_WEIGHT * 0.6, hidden=True)


def along(line: Sequence[Point], words: str, scale: Point) -> Iterator[Text]:
    """Yield words beside the middle of a line, along it, if they are no longer than it on paper."""
    a, b = max(pairwise(line), key=lambda ends: math.dist(*ends))
    ray = (b[0] - a[0]) * scale[0], (b[1] - a[1]) * scale[1]
    if math.hypot(*ray) < text_width(words, SMALL) + 0.06:
        return
    angle = math.degrees(math.atan2(ray[1], ray[0]))
    if not -89.9 < angle <= 90.1:
        angle += 180 if angle < 0 else -180
    turn = math.radians(angle + 90)
    nudge = (0.04 * math.cos(turn), 0.04 * math.sin(turn))
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    yield Text(middle, words, anchor=Anchor.S, angle=angle, size=SMALL, role=Role.CRAYON, nudge=nudge)


def slits(piece: FlatPiece, figures: Figures, scale: Point, weight: float = SLIT_WEIGHT) -> Iterator[AnyItem]:
    """Yield the slits with their words."""
    for slit in piece.slits:
        for end in dict.fromkeys((slit.one_end, slit.other_end)):
            yield Path((slit.tip, end), role=Role.CRAYON, weight=weight)
        yield from along((slit.tip, slit.one_end), slit_words(slit, figures), scale)


def slit_words(slit: Slit, figures: Figures) -> str:
    """Return what to do at a slit."""
    return f"cut out {slit.wedge_deg:.0f}°" if slit.wedge_deg > 0.5 else f"slit {figures.place(slit.inches)}"


def panel_words(piece: FlatPiece, scale: Point) -> Iterator[AnyItem]:
    """Yield the name of each panel, and an arrow to what is up on the wall."""
    for panel in piece.panels:
        xs, ys = zip(*panel.outline, strict=True)
        room = (max(xs) - min(xs)) * scale[0], (max(ys) - min(ys)) * scale[1]
        middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        wide = text_width(panel.name, TYPE)
        upright = wide + 0.1 > room[0] and room[1] > room[0]
        if min(room) < 0.16 or wide + 0.1 > max(room):
            continue
        shift = (0.0, 0.06 if not upright and 0.3 < room[1] < 0.9 else 0.0)
        yield Text(
            middle, panel.name, anchor=Anchor.C, size=TYPE, angle=90.0 if upright else 0.0, nudge=shift
        )
        if min(room) > 0.75 and panel.up is not None and not panel.facet.endswith(_LEVEL):
            yield from _arrow(middle, panel.up, scale)


def _arrow(middle: Point, up: Point, scale: Point) -> Iterator[AnyItem]:
    ray = unit((up[0] * scale[0], up[1] * scale[1]))
    near, far = ((middle[0] + r * ray[0] / scale[0], middle[1] + r * ray[1] / scale[1]) for r in (0.14, 0.28))
    yield Path((near, far), role=Role.NOTE)
    angle = math.degrees(math.atan2(ray[1], ray[0]))
    yield Mark(far, MarkKind.ARROW, angle=angle, size=0.1, role=Role.NOTE)


def _numbers(piece: FlatPiece, scale: Point) -> Iterator[AnyItem]:
    """Yield a dot and the number of every point to mark, outside its corner if there is room, else near."""
    placed: list[Box] = []
    rings = [[(x * scale[0], y * scale[1]) for x, y in ring] for ring in piece.rings]
    every = [(here, _outward(*three)) for ring in rings for three in threes(ring) for here in three[1:2]]
    for number, (here, out) in enumerate(every, 1):
        ways = list(_round(str(number), here, out))
        free = [(nudge, box) for nudge, box in ways if not any(box.overlaps(each) for each in placed)]
        clear = (each for each in free if not _is_on(rings, here, each[0]))
        nudge, box = next(clear, (free or ways)[0])
        placed.append(box)
        place = (here[0] / scale[0], here[1] / scale[1])
        if math.hypot(*nudge) > 0.1:
            near = tuple((here[n] + 0.7 * nudge[n]) / scale[n] for n in (0, 1))
            yield Path((place, (near[0], near[1])), role=Role.NOTE, weight=0.5)
        yield _dot(place, scale)
        yield Text(place, str(number), anchor=Anchor.C, size=SMALL, nudge=nudge)


def _dot(at: Point, scale: Point) -> Path:
    r = _DOT
    corners = (
        (at[0] + x * r / scale[0], at[1] + y * r / scale[1]) for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1))
    )
    return Path(tuple(corners), closed=True, fill=Fill.INK, role=Role.NOTE, weight=0.3)


def _round(words: str, here: Point, out: Point) -> Iterator[tuple[Point, Box]]:
    """Yield places for a number round a point, the best first."""
    half = text_width(words, SMALL) / 2 + 0.01, SMALL / 2
    start = math.atan2(out[1], out[0])
    for reach in (0.09, 0.19, 0.3):
        for turn in (0.0, 0.7, -0.7, 1.4, -1.4):
            dx, dy = reach * math.cos(start + turn), reach * math.sin(start + turn)
            x, y = here[0] + dx, here[1] + dy
            yield (dx, dy), Box(x - half[0], y - half[1], x + half[0], y + half[1])


def _is_on(rings: Sequence[Sequence[Point]], here: Point, nudge: Point) -> bool:
    """Tell whether a place beside a point lies on the sheet."""
    return any(is_in(ring, (here[0] + nudge[0], here[1] + nudge[1])) for ring in rings)


def is_in(ring: Sequence[Point], at: Point) -> bool:
    """Tell whether a point is inside a closed line: a ray from it crosses that an odd number of times."""
    crossed = False
    for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y0 > at[1]) != (y1 > at[1]) and at[0] < x0 + (at[1] - y0) / (y1 - y0) * (x1 - x0):
            crossed = not crossed
    return crossed


def threes(ring: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    """Yield every point of a closed line between its neighbours."""
    yield from zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)


def _outward(before: Point, here: Point, after: Point) -> Point:
    """Return the direction out of a corner, halfway between its sides, the sheet being on the left."""
    one = unit((here[0] - before[0], here[1] - before[1]))
    two = unit((after[0] - here[0], after[1] - here[1]))
    across = (one[1] + two[1], -one[0] - two[0])
    return unit(across) if math.hypot(*across) > 1e-6 else one


def unit(ray: Point) -> Point:
    """Return a direction of length 1."""
    length = math.hypot(*ray)
    return ray[0] / length, ray[1] / length


def _overall(piece: FlatPiece, figures: Figures) -> Iterator[AnyItem]:
    reach, across = piece.size.along, piece.size.across
    yield Dim((0.0, 0.0), (reach, 0.0), -0.3, figures.place(reach), along=Along.X, size=TYPE)
    yield Dim((0.0, across), (0.0, 0.0), -0.3, figures.place(across), along=Along.Z, size=TYPE)
