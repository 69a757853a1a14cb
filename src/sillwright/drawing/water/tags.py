"""Measures written on a picture: a short line with ticks beside what it measures, its figure upright."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.drawing.page import Box, box_of
from sillwright.drawing.scene import Anchor, AnyItem, Path, Point, Role, Text
from sillwright.drawing.shapes import Word, word_corners
from sillwright.drawing.water.clip import runs
from sillwright.drawing.water.measures import Measure
from sillwright.drawing.water.paint import Painter
from sillwright.water import WALL

TYPE = 0.115
"""Figures on a picture [paper in]."""
_OFF = 0.08
_TICK = 0.035
_GAP = 0.045
_MOST = 5
"""A picture with more figures is not read."""


@dataclass(frozen=True, slots=True)
class _Tag:
    start: Point
    end: Point
    away: Point
    """From the piece to the figure, of length 1."""
    word: Word


@dataclass(frozen=True, slots=True)
class Tags:
    """Writes measures at a scale, clear of each other and of what is there; lengths on paper from 0, 0."""

    painter: Painter
    scale: float
    figures: Figures

    def marks(self, measures: Sequence[Measure], taken: Sequence[Box], room: Box) -> list[AnyItem]:
        """Return the marks of as many measures as find room, the first first; inside a box if that can be."""
        boxes = list(taken)
        found: list[AnyItem] = []
        count = 0
        for measure in measures:
            free = [tag for tag in self._ways(measure) if _free(tag, boxes)]
            tag = next((tag for tag in free if room.holds(_box(tag))), free[0] if free else None)
            if tag is not None and count < _MOST:
                boxes.append(_box(tag))
                found += self._drawn(tag)
                count += 1
        return found

    def _ways(self, measure: Measure) -> Iterator[_Tag]:
        for facet, at, away in measure.at:
            tag = self._tag(measure, facet, at, away)
            if tag is not None:
                yield tag

    def _tag(self, measure: Measure, name: str, at: float, away: int) -> _Tag | None:
        painter = self.painter
        facet = painter.facet(name)
        if not painter.sees(facet):
            return None
        axis = facet.axes.index(painter.facet(measure.facet).axes[measure.axis])
        lift = painter.lift(painter.now.act, name)
        ends = [(t, at) if axis == 0 else (at, t) for t in measure.span]
        beyond = (ends[0][0], at + away) if axis == 0 else (at + away, ends[0][1])
        a, b, c = ((x * self.scale, y * self.scale) for x, y in painter.points(facet, [*ends, beyond], lift))
        if not self._seen(name, a, b):
            return None
        reach = math.dist(a, c)
        off = ((c[0] - a[0]) / reach, (c[1] - a[1]) / reach)
        start, end = (_moved(p, off, _OFF) for p in (a, b))
        text = self.figures.place(measure.length)
        words = f"lap {text}" if measure.kind == "lap" else text
        middle = _moved(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), off, _GAP)
        return _Tag(start, end, off, Word(middle, words, TYPE, _anchor(off)))

    def _seen(self, name: str, a: Point, b: Point) -> bool:
        opening = name.rpartition(".")[0]
        outline = self.painter.edge() if name == WALL else None
        if opening in self.painter.openings():
            outline = self.painter.hole(opening)
        if outline is None:
            return name != WALL and opening not in self.painter.openings()
        window = [(x * self.scale, y * self.scale) for x, y in outline]
        return sum(math.dist(*run) for run in runs([a, b], window)) > 0.8 * math.dist(a, b)

    def _drawn(self, tag: _Tag) -> Iterator[AnyItem]:
        ref = self.painter.now.act.ref
        yield self._path([tag.start, tag.end], ref)
        along = math.atan2(tag.end[1] - tag.start[1], tag.end[0] - tag.start[0]) + math.pi / 4
        tick = (_TICK * math.cos(along), _TICK * math.sin(along))
        for p in (tag.start, tag.end):
            yield self._path([(p[0] - tick[0], p[1] - tick[1]), (p[0] + tick[0], p[1] + tick[1])], ref, 2.2)
            yield self._path([_moved(p, tag.away, -_OFF + 0.02), _moved(p, tag.away, 0.03)], ref)
        at = (tag.word.at[0] / self.scale, tag.word.at[1] / self.scale)
        yield Text(at, tag.word.text, anchor=tag.word.anchor, size=TYPE, bold=True, ref=ref)

    def _path(self, points: list[Point], ref: str, weight: float = 1.0) -> Path:
        return Path(
            tuple((x / self.scale, y / self.scale) for x, y in points), role=Role.NOTE, weight=weight, ref=ref
        )


def _moved(p: Point, way: Point, by: float) -> Point:
    return p[0] + by * way[0], p[1] + by * way[1]


def _anchor(way: Point) -> Anchor:
    """Return which point of a word's box sits at its place, so that it stands away in a direction."""
    across = "w" if way[0] > 0.38 else "e" if way[0] < -0.38 else ""
    up = "s" if way[1] > 0.38 else "n" if way[1] < -0.38 else ""
    return Anchor((up + across) or "c")


def _box(tag: _Tag) -> Box:
    return box_of(word_corners(tag.word)).grown(0.02)


def _free(tag: _Tag, boxes: Sequence[Box]) -> bool:
    return not any(_box(tag).overlaps(box) for box in boxes)
