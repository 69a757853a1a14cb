"""Signs with a fixed size on paper: crow's foot, balloon, level mark, arrow head, drop, stamps.

Each is drawn at the origin, one paper inch high and upright; whoever places it sizes and turns it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from sillwright.drawing.ink import INKS
from sillwright.drawing.scene import Anchor, Fill, Mark, MarkKind, Point
from sillwright.drawing.shapes import Disc, Shape, Stroke, Word, text_width, turned


def _station(item: Mark) -> tuple[Shape, ...]:
    weight = max(INKS[item.role].weight_pt, 1.1)
    foot = Stroke(((-0.3, 0.8), (0.0, 0.0), (0.3, 0.8)), weight)
    return (foot, *_label(item, (0.0, 0.95), Anchor.S, 0.65))


def _balloon(item: Mark) -> tuple[Shape, ...]:
    size = 0.62 if len(item.text) < 2 else 0.52 if len(item.text) == 2 else 0.38
    word = Word((0.0, 0.0), item.text, size, Anchor.C, bold=True)
    return (Disc((0.0, 0.0), 0.5, INKS[item.role].weight_pt * 0.8), word)


def _level(item: Mark) -> tuple[Shape, ...]:
    weight = min(INKS[item.role].weight_pt, 0.9)
    outline = Stroke(((0.0, 0.0), (0.36, 0.62), (-0.36, 0.62)), weight, True, Fill.PAPER)
    half = Stroke(((0.0, 0.0), (0.0, 0.62), (-0.36, 0.62)), weight, True, Fill.INK)
    return (outline, half, *_label(item, (0.5, 0.36), Anchor.W, 0.6))


def _arrow(item: Mark) -> tuple[Shape, ...]:
    head = ((0.0, 0.0), (-1.0, 0.32), (-0.78, 0.0), (-1.0, -0.32))
    return (Stroke(head, 0.5, True, Fill.INK), *_label(item, (-0.5, 0.5), Anchor.S, 0.65))


def _drop(item: Mark) -> tuple[Shape, ...]:
    radius, centre, tip = 0.3, -0.2, 0.5
    touch = math.degrees(math.acos(radius / (tip - centre)))
    turns = [90 + touch + step * (360 - 2 * touch) / 24 for step in range(25)]
    round_part = [turned((radius, 0.0), turn, (0.0, centre)) for turn in turns]
    body = Stroke(((0.0, tip), *round_part), 0.5, True, Fill.INK)
    return (body, *_label(item, (0.45, 0.0), Anchor.W, 0.65))


def _stamp(item: Mark) -> tuple[Shape, ...]:
    """STOP: heavy frame with cut corners, solid; FIX: square frame; WATCH: frame with a gable."""
    words = f"{item.kind.value.upper()} {item.text}".strip()
    half = text_width(words, 0.72) / 2 + (0.3 if item.kind is MarkKind.STOP else 0.2)
    cut = 0.28
    if item.kind is MarkKind.STOP:
        right = ((half - cut, -0.5), (half, -0.5 + cut), (half, 0.5 - cut), (half - cut, 0.5))
        frame = Stroke((*right, *_mirrored(right)), 2.0, True, Fill.INK)
    elif item.kind is MarkKind.FIX:
        frame = Stroke(((half, -0.5), (half, 0.5), (-half, 0.5), (-half, -0.5)), 2.2, True, Fill.PAPER)
    else:
        gable = ((half, -0.5), (half, 0.42), (0.0, 0.86), (-half, 0.42), (-half, -0.5))
        frame = Stroke(gable, 1.1, True, Fill.PAPER)
    reverse = item.kind is MarkKind.STOP
    return (frame, Word((0.0, 0.0), words, 0.72, Anchor.C, bold=True, reverse=reverse))


def _mirrored(points: tuple[Point, ...]) -> tuple[Point, ...]:
    return tuple((-x, y) for x, y in reversed(points))


def _label(item: Mark, at: Point, anchor: Anchor, size: float) -> tuple[Shape, ...]:
    return (Word(at, item.text, size, anchor),) if item.text else ()


SIGNS: dict[MarkKind, Callable[[Mark], tuple[Shape, ...]]] = {
    MarkKind.STATION: _station,
    MarkKind.BALLOON: _balloon,
    MarkKind.LEVEL: _level,
    MarkKind.ARROW: _arrow,
    MarkKind.DROP: _drop,
    MarkKind.STOP: _stamp,
    MarkKind.FIX: _stamp,
    MarkKind.WATCH: _stamp,
}
