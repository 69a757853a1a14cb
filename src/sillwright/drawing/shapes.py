"""The few shapes that backends draw: strokes, discs, hatched areas and words, in paper inches, y up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sillwright.drawing.ink import POINTS_PER_INCH
from sillwright.drawing.scene import Anchor, Fill, Pattern, Point

CAP_HEIGHT_EM = 0.66  # Source Sans Pro, OS/2 table: sCapHeight 660 of 1000
DESCENT_EM = 0.2
# how much of a text's width lies left of its point, and of its capital height below it
ANCHOR_SHARES = {
    anchor: (
        0.0 if "w" in anchor.value else 1.0 if "e" in anchor.value else 0.5,
        0.0 if "s" in anchor.value else 1.0 if "n" in anchor.value else 0.5,
    )
    for anchor in Anchor
}


Dashes = Literal["solid", "role", "hidden", "band"]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line on paper; `dashes` is role, hidden, band or solid."""

    points: tuple[Point, ...]
    weight_pt: float
    closed: bool = False
    fill: Fill = Fill.NONE
    dashes: Dashes = "solid"


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle on paper."""

    centre: Point
    radius: float
    weight_pt: float
    fill: Fill = Fill.PAPER


@dataclass(frozen=True, slots=True)
class Area:
    """An outline filled with a material's hatch."""

    points: tuple[Point, ...]
    pattern: Pattern
    weight_pt: float


@dataclass(frozen=True, slots=True)
class Word:
    """A line of type; `reverse` is paper-coloured on ink."""

    at: Point
    text: str
    size: float
    anchor: Anchor = Anchor.C
    angle: float = 0.0
    bold: bool = False
    reverse: bool = False


Shape = Stroke | Disc | Area | Word


def text_width(text: str, size: float) -> float:
    """Return about how wide a line of type is [paper inches]: half an em a sign, more for wide letters."""
    return size * sum(0.87 if sign in "mMwW" else 0.66 if sign.isupper() else 0.5 for sign in text)


def turned(point: Point, angle_deg: float, about: Point) -> Point:
    """Return a point given from `about`, turned anticlockwise and moved there."""
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    x, y = point
    return (about[0] + x * cos - y * sin, about[1] + x * sin + y * cos)


def corners(shape: Shape) -> tuple[Point, ...]:
    """Return points whose bounding box holds a shape, its line weight included [paper inches]."""
    match shape:
        case Word():
            return word_corners(shape)
        case Disc():
            reach = shape.radius + shape.weight_pt / 2 / POINTS_PER_INCH
            x, y = shape.centre
            return ((x - reach, y - reach), (x + reach, y + reach))
        case _:
            # half the weight, and as much again for the point of a sharp join
            pad = shape.weight_pt / POINTS_PER_INCH
            return tuple((x + s * pad, y + s * pad) for x, y in shape.points for s in (-1, 1))


def word_corners(word: Word) -> tuple[Point, ...]:
    """Return the four corners of a word's box, descenders included [paper inches]."""
    wide, cap = text_width(word.text, word.size), CAP_HEIGHT_EM * word.size
    across, up = ANCHOR_SHARES[word.anchor]
    left, base = -across * wide, -up * cap
    low = base - DESCENT_EM * word.size
    box = ((left, low), (left + wide, low), (left + wide, base + cap), (left, base + cap))
    return tuple(turned(point, word.angle, word.at) for point in box)
