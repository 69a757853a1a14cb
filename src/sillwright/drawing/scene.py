"""What a drawing is before it is a file: a list of marks on a wall, in job inches.

x runs along the wall, z up from the datum. Text, balloons, stamps and offsets keep their size on paper, so
they are given in paper inches. A scene holds no page and no colour: a role says what kind of line it is.
"""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum

from sillwright.errors import OutOfRange

Point = tuple[float, float]


class Role(StrEnum):
    """What a mark is on the wall; a backend turns it into colour, weight, dashes or layer."""

    PENCIL = "pencil"  # what is there now
    CHALK = "chalk"  # level, plumb and reference lines
    CRAYON = "crayon"  # what you must do here
    NEW = "new"  # new material
    WATER = "water"  # the way of water
    STAMP = "stamp"  # a finding
    NOTE = "note"  # dimensions, names, rulers


class Anchor(StrEnum):
    """The place of a text's box that sits on its point, as on a compass."""

    SW, S, SE = "sw", "s", "se"
    W, C, E = "w", "c", "e"
    NW, N, NE = "nw", "n", "ne"


class Fill(StrEnum):
    """What covers the inside of a closed line."""

    NONE = "none"
    PAPER = "paper"  # hides what was drawn before it
    TINT = "tint"  # a pale wash in the role's colour
    SHADE = "shade"  # a darker wash: what lies back
    INK = "ink"  # solid in the role's colour


class Pattern(StrEnum):
    """The hatch of a new material, or of a finding over an area."""

    WOOD = "wood"
    PAD = "pad"
    MEMBRANE = "membrane"
    METAL = "metal"
    SEALANT = "sealant"
    WRAP = "wrap"
    STRETCH = "stretch"  # a membrane that stretches
    HELD = "held"  # kept dry by a bond
    OPEN = "open"  # water gets there


class Along(StrEnum):
    """The direction in which a dimension is taken."""

    LINE = "line"
    X = "x"
    Z = "z"


class MarkKind(StrEnum):
    """Signs with a fixed size on paper."""

    STATION = "station"  # crow's foot: its tip is the place measured
    BALLOON = "balloon"  # number of an act
    LEVEL = "level"  # triangle standing on a height
    ARROW = "arrow"  # head of a way, pointing along its angle
    DROP = "drop"  # water
    STOP = "stop"
    FIX = "fix"
    WATCH = "watch"


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Common to all marks: role, what a tap opens, and a shift on paper [paper inches]."""

    role: Role = Role.NOTE
    ref: str = ""
    nudge: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Path(Item):
    """A line through points [job inches]; `weight` multiplies the role's line weight; hidden means behind.

    With weight 0 there is no line, only what covers the inside.
    """

    points: tuple[Point, ...]
    _: KW_ONLY
    closed: bool = False
    hidden: bool = False
    fill: Fill = Fill.NONE
    weight: float = 1.0
    role: Role = Role.PENCIL

    def __post_init__(self) -> None:
        _need_points(self.points, at_least=3 if self.closed else 2, what="a path")
        _need_weight(self.weight, self.fill is Fill.NONE, "a path's weight")


@dataclass(frozen=True, slots=True)
class Hatch(Item):
    """New material inside an outline [job inches], hatched as its pattern; with weight 0 without a line."""

    points: tuple[Point, ...]
    pattern: Pattern
    _: KW_ONLY
    weight: float = 1.0
    role: Role = Role.NEW

    def __post_init__(self) -> None:
        _need_points(self.points, at_least=3, what="a hatch")
        _need_weight(self.weight, False, "a hatch's weight")


@dataclass(frozen=True, slots=True)
class Band(Item):
    """A ± band: the outline [job inches] between what a line is at least and at most."""

    points: tuple[Point, ...]
    _: KW_ONLY
    role: Role = Role.CHALK

    def __post_init__(self) -> None:
        _need_points(self.points, at_least=3, what="a band")


@dataclass(frozen=True, slots=True)
class Text(Item):
    """One line of words at a point [job inches]; `size` of the type in paper inches, `angle` in degrees."""

    at: Point
    text: str
    _: KW_ONLY
    anchor: Anchor = Anchor.SW
    angle: float = 0.0
    size: float = 0.14
    bold: bool = False

    def __post_init__(self) -> None:
        _need_points((self.at,), at_least=1, what="a text")
        _need_words(self.text, "a text")
        _need_positive(self.size, "a text's size")


@dataclass(frozen=True, slots=True)
class Dim(Item):
    """A dimension with architectural ticks and its text, which the drawing never computes.

    The line stands `offset` paper inches beyond both points, to the left when walking from start to end.
    """

    start: Point
    end: Point
    offset: float
    text: str
    _: KW_ONLY
    along: Along = Along.LINE
    size: float = 0.14

    def __post_init__(self) -> None:
        _need_points((self.start, self.end), at_least=2, what="a dimension")
        _need_words(self.text, "a dimension")
        _need_positive(self.size, "a dimension's size")
        spans = {
            Along.X: self.end[0] - self.start[0],
            Along.Z: self.end[1] - self.start[1],
            Along.LINE: math.dist(self.start, self.end),
        }
        if not spans[self.along]:
            raise OutOfRange(f"drawing: the dimension {self.text!r} measures nothing: its ends are one place")


@dataclass(frozen=True, slots=True)
class Mark(Item):
    """A sign at a point [job inches]; `size` is its height in paper inches, `angle` in degrees."""

    at: Point
    kind: MarkKind
    _: KW_ONLY
    text: str = ""
    angle: float = 0.0
    size: float = 0.25

    def __post_init__(self) -> None:
        _need_points((self.at,), at_least=1, what="a mark")
        _need_positive(self.size, "a mark's size")
        if self.kind is MarkKind.BALLOON:
            _need_words(self.text, "a balloon")


@dataclass(frozen=True, slots=True)
class Ruler(Item):
    """A checking ruler from `at` [job inches] to the right: `units` units of `unit` paper inches each."""

    at: Point
    text: str
    _: KW_ONLY
    units: int
    unit: float
    parts: int
    number_step: int
    size: float = 0.125

    def __post_init__(self) -> None:
        _need_points((self.at,), at_least=1, what="a ruler")
        _need_words(self.text, "a ruler")
        for name in ("units", "unit", "parts", "number_step", "size"):
            _need_positive(getattr(self, name), f"a ruler's {name}")

    @property
    def length(self) -> float:
        """Length on paper [paper inches]."""
        return self.units * self.unit


AnyItem = Path | Hatch | Band | Text | Dim | Mark | Ruler


@dataclass(frozen=True, slots=True)
class Scene:
    """Marks in drawing order, with title, words for those who cannot see it, and scale.

    `scale_x` and `scale_y` are paper inches to a job inch along the wall and up; where they differ, heights
    are exaggerated. `margin` is clear paper round the drawing [paper inches]; a
    `metric` scene is scaled as 1:n.
    """

    marks: tuple[AnyItem, ...]
    _: KW_ONLY
    title: str
    alt: str
    scale_x: float = 1.0
    scale_y: float = 1.0
    margin: float = 0.125
    metric: bool = False

    def __post_init__(self) -> None:
        _need_words(self.title, "a drawing's title")
        _need_words(self.alt, "a drawing's description")
        _need_positive(self.scale_x, "the scale along the wall")
        _need_positive(self.scale_y, "the scale of heights")
        if not self.marks:
            raise OutOfRange(f"drawing {self.title!r}: nothing to draw")


def inch_ruler(at: Point, *, inches: int = 4, nudge: Point = (0.0, 0.0)) -> Ruler:
    """Return a checking ruler in inches and eighths."""
    words = f"this line is {inches} in; if not, your printer scaled it"
    return Ruler(at, words, units=inches, unit=1.0, parts=8, number_step=1, nudge=nudge)


def millimetre_ruler(at: Point, *, centimetres: int = 10, nudge: Point = (0.0, 0.0)) -> Ruler:
    """Return a checking ruler in millimetres, numbered every ten (25.4 mm to the inch)."""
    words = f"this line is {centimetres * 10} mm; if not, your printer scaled it"
    return Ruler(at, words, units=centimetres, unit=10 / 25.4, parts=10, number_step=10, nudge=nudge)


def _need_points(points: tuple[Point, ...], *, at_least: int, what: str) -> None:
    if len(points) < at_least:
        raise OutOfRange(f"drawing: {what} needs at least {at_least} points, it has {len(points)}")
    if not all(math.isfinite(value) for point in points for value in point):
        raise OutOfRange(f"drawing: {what} has a point that is no number: {points}")


def _need_positive(value: float, what: str) -> None:
    if not (math.isfinite(value) and value > 0):
        raise OutOfRange(f"drawing: {what} must be above zero, it is {value}")


def _need_weight(value: float, bare: bool, what: str) -> None:
    if value or bare:
        _need_positive(value, what)


def _need_words(text: str, what: str) -> None:
    if not text.strip() or "\n" in text:
        raise OutOfRange(f"drawing: {what} needs one line of words, it has {text!r}")
