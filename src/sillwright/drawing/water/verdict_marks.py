"""How a verdict looks: a word, a shape and a hatch, so that it needs no colour.

Sheds: a roof, no hatch. Held by bond: a square, loose strokes, with the inches of bond. Open: a full octagon,
a close grid.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from sillwright.drawing.figures import Figures
from sillwright.drawing.page import Box, box_of
from sillwright.drawing.scene import (
    Anchor,
    AnyItem,
    Fill,
    Hatch,
    Mark,
    MarkKind,
    Path,
    Pattern,
    Point,
    Role,
    Text,
)
from sillwright.drawing.shapes import text_width
from sillwright.drawing.water.seen import Seen
from sillwright.water import Verdict

SIGN = 0.14
"""Size of a verdict's shape [paper in]."""
TYPE = 0.11
_SHORTEST = 0.32
"""A way is drawn so long at least [paper in]."""
_LINE = 0.14
_SIGN_LINE = SIGN + 0.04
_HATCHES = {Verdict.HELD: Pattern.HELD, Verdict.OPEN: Pattern.OPEN}
_ROLES = {Verdict.SHEDS: Role.PENCIL, Verdict.HELD: Role.NEW, Verdict.OPEN: Role.STAMP}
_OCTAGON = tuple((math.cos(math.radians(t)) / 2, math.sin(math.radians(t)) / 2) for t in range(22, 382, 45))


@dataclass(frozen=True, slots=True)
class Marker:
    """Draws verdicts at a scale [paper inches to a drawn inch]."""

    figures: Figures
    scale: float

    def area(self, outline: Sequence[Point], place: Seen) -> Iterator[AnyItem]:
        """Yield an area with the hatch of its verdict."""
        pattern = _HATCHES.get(place.verdict)
        if pattern is not None:
            yield Hatch(tuple(outline), pattern, weight=0.4, ref=place.ref)
        else:
            yield Path(tuple(outline), closed=True, fill=Fill.PAPER, role=Role.NOTE, ref=place.ref)

    def words(
        self, outline: Sequence[Point], place: Seen, name: str = "", taken: Sequence[Box] = ()
    ) -> Iterator[AnyItem]:
        """Yield name, shape and word of a place in its area, as much as there is room for.

        Args:    taken: what must stay clear [paper in]
        """
        box = box_of([(x * self.scale, y * self.scale) for x, y in outline])
        for lines in self._lines(box, place, name):
            at = _free_place(box, self._size(lines), taken)
            if at is not None:
                yield from self._written(at, lines, place, name)
                return

    def _size(self, lines: Sequence[str]) -> tuple[float, float]:
        wide = max(text_width(text, TYPE) + 0.03 if text else SIGN + 0.01 for text in lines)
        return wide, sum(_LINE if text else _SIGN_LINE for text in lines)

    def _written(self, at: Point, lines: Sequence[str], place: Seen, name: str) -> Iterator[AnyItem]:
        """Yield lines one under another, the empty one as the shape, down from the middle of their top."""
        x, y = at
        for text in lines:
            step = _LINE if text else _SIGN_LINE
            middle = (x / self.scale, (y - step / 2) / self.scale)
            if text:
                yield self._text(middle, text, place, bold=text != name)
            else:
                yield self.sign(middle, place.verdict, place.ref)
            y -= step

    def _lines(self, box: Box, place: Seen, name: str) -> Iterator[list[str]]:
        """Yield the lines that fit a box, most words first; the shape is the empty line."""
        told = place.told(self.figures)
        split = [told] if text_width(told, TYPE) <= box.width - 0.03 else told.split(" ", 1)
        named = [[name, "", *split]] if name else []
        for lines in (*named, ["", *split], ["", split[-1]], [""]):
            wide, high = self._size(lines)
            if wide <= box.width and high <= box.height:
                yield lines

    def _text(self, at: Point, text: str, place: Seen, *, bold: bool) -> Text:
        role = _ROLES[place.verdict] if bold else Role.NOTE
        return Text(at, text, anchor=Anchor.C, size=TYPE, bold=bold, role=role, ref=place.ref)

    def sign(self, at: Point, verdict: Verdict, ref: str = "") -> Path:
        """Return the shape of a verdict."""
        size = SIGN / self.scale

        def put(points: Sequence[Point]) -> tuple[Point, ...]:
            return tuple((at[0] + x * size, at[1] + y * size) for x, y in points)

        if verdict is Verdict.SHEDS:
            return Path(put(((-0.5, -0.25), (0.0, 0.3), (0.5, -0.25))), role=Role.PENCIL, weight=1.5, ref=ref)
        if verdict is Verdict.HELD:
            square = ((-0.4, -0.4), (0.4, -0.4), (0.4, 0.4), (-0.4, 0.4))
            return Path(put(square), closed=True, fill=Fill.PAPER, role=Role.NEW, weight=1.1, ref=ref)
        return Path(put(_OCTAGON), closed=True, fill=Fill.INK, role=Role.STAMP, weight=0.6, ref=ref)

    def taken(self, points: Sequence[Point]) -> list[Box]:
        """Return the paper that a way of water takes."""
        line = [(x * self.scale, y * self.scale) for x, y in self._thin(points)]
        found = [Box(x, y, x, y).grown(0.1) for x, y in (line[:1] + line[-1:])]
        for (x0, y0), (x1, y1) in pairwise(line):
            count = max(int(math.hypot(x1 - x0, y1 - y0) / 0.04), 1)
            steps = (n / count for n in range(count + 1))
            found += [
                Box(x, y, x, y).grown(0.03)
                for x, y in ((x0 + t * (x1 - x0), y0 + t * (y1 - y0)) for t in steps)
            ]
        return found

    def _thin(self, points: Sequence[Point]) -> list[Point]:
        """Return a way without needless points, long enough for drop and arrow."""
        line = _thinned(points, 0.02 / self.scale)
        least = _SHORTEST / self.scale
        if not line or math.dist(line[0], line[-1]) >= least:
            return line
        (x0, y0), (x1, y1) = line[0], line[-1]
        length = math.dist(line[0], line[-1])
        across, up = ((x1 - x0) / length, (y1 - y0) / length) if length > 0 else (0.0, -1.0)
        return [(x1 - least * across, y1 - least * up), (x1, y1)]

    def way(self, points: Sequence[Point], ref: str) -> Iterator[AnyItem]:
        """Yield a way of water as an arrow with a drop where it comes in."""
        line = self._thin(points)
        if len(line) < 2:
            return
        (x0, y0), (x1, y1) = line[-2:]
        angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
        yield Path(tuple(line), role=Role.WATER, weight=1.3, ref=ref)
        yield Mark(line[-1], MarkKind.ARROW, role=Role.WATER, angle=angle, size=0.14, ref=ref)
        yield Mark(line[0], MarkKind.DROP, role=Role.WATER, size=0.17, ref=ref)

    def legend(self, at: Point, head: float | None) -> Iterator[AnyItem]:
        """Yield what shape, hatch and word mean, in a row to the right of a point."""
        x, y = at[0] * self.scale, at[1] * self.scale
        words = {
            Verdict.SHEDS: "sheds",
            Verdict.HELD: f"held by bond ({self.figures.mark})",
            Verdict.OPEN: "open",
        }
        for verdict, text in words.items():
            swatch = [(x, y - 0.1), (x + 0.3, y - 0.1), (x + 0.3, y + 0.1), (x, y + 0.1)]
            outline = tuple((a / self.scale, b / self.scale) for a, b in swatch)
            pattern = _HATCHES.get(verdict)
            if pattern:
                yield Hatch(outline, pattern, weight=0.4)
            else:
                yield Path(outline, closed=True, fill=Fill.PAPER, role=Role.NOTE)
            yield self.sign(((x + 0.15) / self.scale, y / self.scale), verdict)
            yield Text(((x + 0.36) / self.scale, y / self.scale), text, anchor=Anchor.W, size=TYPE)
            x += 0.52 + text_width(text, TYPE)
        if head is not None:
            told = f"with wind, a head of water of {self.figures.fine(head)} {self.figures.mark}"
            yield Text((at[0], (y - 0.22) / self.scale), told, anchor=Anchor.W, size=TYPE)


def _free_place(box: Box, size: tuple[float, float], taken: Sequence[Box]) -> Point | None:
    """Return the middle of the upper edge of a block in a box, near its middle, clear of what is taken."""
    wide, high = box.width - size[0], box.height - size[1]
    shares = sorted(((a, b) for a in _SHARES for b in _SHARES), key=lambda each: math.hypot(each[0], each[1]))
    for a, b in shares:
        x = (box.left + box.right) / 2 + a * wide
        top = (box.bottom + box.top) / 2 + b * high + size[1] / 2
        block = Box(x - size[0] / 2, top - size[1], x + size[0] / 2, top)
        if not any(block.overlaps(other) for other in taken):
            return x, top
    return None


_SHARES = (0.0, -0.25, 0.25, -0.5, 0.5)


def _thinned(points: Sequence[Point], least: float) -> list[Point]:
    """Return a line without the points that lie on it, or close to the one before."""
    line: list[Point] = []
    for point in points:
        if line and math.dist(point, line[-1]) < least:
            continue
        if len(line) > 1 and _straight(line[-2], line[-1], point, least):
            line[-1] = point
        else:
            line.append(point)
    if line and points and line[-1] != points[-1]:
        line[-1] = points[-1]
    return line


def _straight(a: Point, b: Point, c: Point, least: float) -> bool:
    length = math.dist(a, c)
    across = abs((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0]))
    return length > 0 and across / length < least / 4
