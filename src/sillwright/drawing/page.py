"""Page arithmetic, apart from drawing: how large a scene is on paper, and which trade scale fits a box.

Also where words stand, so that a test can prove that no two of them overlap, and how to move labels apart.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations

from sillwright.drawing.marks import record
from sillwright.drawing.scene import Mark, Point, Scene
from sillwright.drawing.shapes import Word, corners, word_corners
from sillwright.errors import OutOfRange

# Paper inches to the foot, largest first: the scales on an architect's scale, and full and half size.
# common practice, no source
_INCHES_TO_THE_FOOT = (12, 6, 3, 1.5, 1, 0.75, 0.5, 0.375, 0.25, 0.1875, 0.125, 0.09375, 0.0625)
# Metric reductions: 1:1 and the 1, 2, 5 series (ISO 5455, from memory), with 1:25 as used on site.
_METRIC = (1, 2, 5, 10, 20, 25, 50, 100, 200)


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on paper [paper inches], y up."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Width [paper inches]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Height [paper inches]."""
        return self.top - self.bottom

    def grown(self, by: float) -> Box:
        """Return the box with `by` paper inches more on each side."""
        return Box(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def overlaps(self, other: Box) -> bool:
        """Whether the two boxes share more than an edge."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return wide > 1e-9 and high > 1e-9

    def holds(self, other: Box) -> bool:
        """Whether the other box lies inside this one."""
        sides = self.left <= other.left and other.right <= self.right
        return sides and self.bottom <= other.bottom and other.top <= self.top


@dataclass(frozen=True, slots=True)
class TextBox:
    """The place that a mark's words, or a whole sign, take on paper."""

    index: int
    text: str
    box: Box


def box_of(points: Sequence[Point]) -> Box:
    """Return the smallest box that holds all points."""
    xs, ys = [point[0] for point in points], [point[1] for point in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def extents(scene: Scene) -> Box:
    """Return the box of all that a scene draws, words and line weights included, without its margin."""
    return box_of([point for drawn in record(scene) for shape in drawn.shapes for point in corners(shape)])


def sheet(scene: Scene) -> Box:
    """Return the box of a scene with its margin, from the job's origin [paper inches]."""
    return extents(scene).grown(scene.margin)


def trade_scales(*, metric: bool) -> tuple[float, ...]:
    """Return the usual scales from full size down, in paper inches to a job inch."""
    if metric:
        return tuple(1 / reduction for reduction in _METRIC)
    return tuple(inches / 12 for inches in _INCHES_TO_THE_FOOT)


def fit(scene: Scene, *, width: float, height: float, exaggerations: Sequence[float] = (1,)) -> Scene:
    """Return the scene at the largest trade scale that fits a box [paper inches], then the tallest heights.

    Args:    exaggerations: how many times taller heights may be drawn; the most that fits is taken
    Raises:  OutOfRange: not even the smallest scale fits
    """
    for scale in trade_scales(metric=scene.metric):
        for times in sorted(exaggerations, reverse=True):
            tried = replace(scene, scale_x=scale, scale_y=scale * times)
            box = sheet(tried)
            if box.width <= width and box.height <= height:
                return tried
    raise OutOfRange(
        f"drawing {scene.title!r}: does not fit {width:g} x {height:g} in at any trade scale; "
        "choose a larger sheet or draw less on it"
    )


def scale_words(scene: Scene) -> str:
    """Return a scene's scale as the trade says it, e.g. `1/2 in = 1 ft, heights stretched 10 times`."""
    words = _metric_words(scene.scale_x) if scene.metric else _inch_words(scene.scale_x)
    times = scene.scale_y / scene.scale_x
    return words if math.isclose(times, 1) else f"{words}, heights stretched {times:.4g} times"


def _inch_words(scale: float) -> str:
    if math.isclose(scale, 1):
        return "full size"
    if math.isclose(scale, 0.5):
        return "half size"
    if scale > 1:
        return f"{scale:.4g} times full size"
    inches = Fraction(scale * 12).limit_denominator(64)
    on_a_tape = inches.denominator in (1, 2, 4, 8, 16, 32, 64)
    if not (on_a_tape and math.isclose(float(inches), scale * 12)):
        return _metric_words(scale)
    whole, rest = divmod(inches, 1)
    figure = " ".join(str(part) for part in (whole, rest) if part)
    return f"{figure} in = 1 ft"


def _metric_words(scale: float) -> str:
    if math.isclose(scale, 1):
        return "full size"
    return f"1:{1 / scale:.4g}" if scale < 1 else f"{scale:.4g}:1"


def text_boxes(scene: Scene) -> tuple[TextBox, ...]:
    """Return the place of every word; a sign counts whole, since a word across a balloon is as bad."""
    boxes: list[TextBox] = []
    for drawn in record(scene):
        words = [shape for shape in drawn.shapes if isinstance(shape, Word)]
        if isinstance(drawn.item, Mark):
            points = [point for shape in drawn.shapes for point in corners(shape)]
            name = f"{drawn.item.kind.value} {drawn.item.text}".strip()
            boxes.append(TextBox(drawn.index, name, box_of(points)))
        else:
            boxes += [TextBox(drawn.index, word.text, box_of(word_corners(word))) for word in words]
    return tuple(boxes)


def overlapping_texts(scene: Scene) -> tuple[tuple[str, str], ...]:
    """Return the pairs of words or signs that overlap on paper: none in a good drawing."""
    pairs = combinations(text_boxes(scene), 2)
    return tuple((one.text, two.text) for one, two in pairs if one.box.overlaps(two.box))


def spread(positions: Sequence[float], gap: float) -> tuple[float, ...]:
    """Return positions moved as little as can be (sum of squares) to stand at least `gap` apart, order kept.

    Least squares under order constraints, by pooling neighbours that are too close and centring each pool.
    Source: pool-adjacent-violators, Barlow et al., Statistical Inference under Order Restrictions, 1972
            (from memory)
    """
    order = sorted(range(len(positions)), key=lambda index: (positions[index], index))
    pools: list[tuple[float, int]] = []  # mean of position less rank times gap, how many
    for rank, index in enumerate(order):
        mean, count = positions[index] - rank * gap, 1
        while pools and pools[-1][0] > mean:
            other, others = pools.pop()
            mean, count = (mean * count + other * others) / (count + others), count + others
        pools.append((mean, count))
    placed = [0.0] * len(positions)
    means = [mean for mean, count in pools for _ in range(count)]
    for rank, (index, mean) in enumerate(zip(order, means, strict=True)):
        placed[index] = mean + rank * gap
    return tuple(placed)
