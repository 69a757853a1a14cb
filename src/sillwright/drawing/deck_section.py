"""The section through one sill, ledger and deck, to scale, with every height of the opening's chain.

Left is outside. The unit is broken off above its sill; a second section at a smaller scale has all of it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import Label, at_largest, column
from sillwright.drawing.scene import Anchor, AnyItem, Fill, Hatch, Path, Pattern, Point, Role, Scene, Text
from sillwright.inspection import Height, HeightStep, SectionShape
from sillwright.plan import Plan

_ABOVE = 5.5
"""How much of the unit the close section shows above its underside [in]."""
_BELOW = 1.5
_OUT = 11.5
"""How far out the close section goes [in]."""
_IN = 9.5
_TYPE = 0.1
_CLOSE = 0.06
"""Heights nearer than this are drawn as one line [paper in]."""
_NEW = {
    "decking": Pattern.WOOD,
    "ledger": Pattern.WOOD,
    "beam": Pattern.WOOD,
    "post": Pattern.WOOD,
    "pad": Pattern.PAD,
    "all that lies on the pads": Pattern.MEMBRANE,
    "membranes and bedding": Pattern.MEMBRANE,
    "rest on the pads": Pattern.MEMBRANE,
    "pan": Pattern.MEMBRANE,
    "membrane": Pattern.MEMBRANE,
    "gasket": Pattern.SEALANT,
    "sealant bed": Pattern.SEALANT,
    "sub-sill": Pattern.WOOD,
    "sloped strip": Pattern.WOOD,
    "footing": Pattern.SEALANT,
}
_OUTLINED = ("joist", "unit", "nosing")
_THERE = ("band joist",)
_LINES = ("grade", "finished floor", "upper row", "lower row")
_NAMED = ("decking", "joist", "ledger", "beam", "post", "footing", "band joist", "unit")

_Window = tuple[float, float, float, float]
"""Left, bottom, right, top of what is shown [in]."""


@dataclass(frozen=True, slots=True)
class _Cut:
    """What a section shows of one opening."""

    opening: str
    levels: tuple[Height, ...]
    steps: tuple[HeightStep, ...]
    shapes: tuple[SectionShape, ...]
    figures: Figures

    @property
    def known(self) -> dict[str, Height]:
        """Return the heights that are settled, by name."""
        return {level.name: level for level in self.levels if level.z is not None}


def deck_section(plan: Plan, opening: str, *, width: float = 9.3, height: float = 5.2) -> Scene | None:
    """Return the close section at a sill, with the heights that lie in it; None without a deck below it."""
    cut = _cut(plan, opening)
    if cut is None:
        return None
    z = {name: level.z or 0.0 for name, level in cut.known.items()}
    low = min(z[name] for name in ("ledger bottom", "joist bottom", "band joist bottom") if name in z)
    window = (-_OUT, low - _BELOW, _IN, z["unit bottom"] + _ABOVE)
    return _fitted(plan, cut, window, f"Section at the sill of {opening}", width=width, height=height)


def whole_section(plan: Plan, opening: str, *, width: float = 6.6, height: float = 7.6) -> Scene | None:
    """Return the section from the footing to the head of an opening; None without a deck below it."""
    cut = _cut(plan, opening)
    if cut is None:
        return None
    points = [point for shape in cut.shapes for point in shape.points]
    zs = [level.z for level in cut.levels if level.z is not None]
    window = (
        min(point[0] for point in points) - 1.0,
        min([*zs, *(point[1] for point in points)]) - 2.0,
        max(point[0] for point in points) + 1.0,
        max([*zs, *(point[1] for point in points)]) + 2.0,
    )
    title = f"Section at {opening}, from footing to head"
    return _fitted(plan, cut, window, title, width=width, height=height)


def _cut(plan: Plan, opening: str) -> _Cut | None:
    heights = plan.heights
    if heights is None or not any(each.opening == opening for each in heights.openings):
        return None
    steps = tuple(step for step in heights.steps if step.opening in ("", opening))
    return _Cut(opening, heights.along(opening), steps, heights.section(opening), Figures(plan.units))


def _fitted(plan: Plan, cut: _Cut, window: _Window, title: str, *, width: float, height: float) -> Scene:
    build: Callable[[float], Scene] = lambda scale: Scene(  # noqa: E731  closes over the window
        tuple(_marks(cut, window, scale)),
        title=title,
        alt=f"{title}, outside at the left, with every height of the chain.",
        scale_x=scale,
        scale_y=scale,
        metric=plan.units == "mm",
    )
    span = (window[2] - window[0], window[3] - window[1])
    return at_largest(build, span=span, width=width, height=height, metric=plan.units == "mm")


def _marks(cut: _Cut, window: _Window, scale: float) -> list[AnyItem]:
    marks: list[AnyItem] = list(_wall(cut, window))
    for shape in cut.shapes:
        marks += _shape(shape, window, scale)
    marks += [*_names(cut, window, scale), *_step(cut, window, scale)]
    shown = [each for each in cut.levels if each.z is not None and window[1] <= each.z <= window[3]]
    labels = [_label(each, cut.figures, window) for each in shown]
    marks += [
        Path(((0.0, z), (window[2], z)), role=Role.NOTE, weight=0.4, hidden=True)
        for z in _apart([each.z or 0.0 for each in shown], _CLOSE / scale)
    ]
    return [*marks, *column(labels, x=window[2] + 0.35 / scale, scale=(scale, scale))]


def _apart(heights: list[float], least: float) -> Iterable[float]:
    """Yield heights from the bottom up without those too near the one before."""
    last = -math.inf
    for z in sorted(heights):
        if z - last >= least:
            last = z
            yield z


def _label(level: Height, figures: Figures, window: _Window) -> Label:
    z = level.z or 0.0
    off = f" {figures.band(level.sd)}" if level.sd else ""
    text = f"{level.name} {figures.fine(z)}{off}"
    known = level.how == "known"
    role = Role.PENCIL if known else Role.CRAYON if level.name in _ACTED else Role.NOTE
    return Label(at=(window[2], z), text=text, role=role, bold=not known, ref=level.id)


_ACTED = ("ledger top", "walking surface", "upper row", "lower row", "joist top")
"""Heights that are set out by hand."""


def _wall(cut: _Cut, window: _Window) -> Iterable[AnyItem]:
    """The sheathing's face, a plumb chalk line that everything square to the wall counts from."""
    face = ((0.0, window[1]), (0.0, window[3]))
    yield Path(face, role=Role.CHALK, weight=0.8)
    level = cut.known.get("level line")
    if level is not None and level.z is not None:
        yield Path(((window[0], level.z), (window[2], level.z)), role=Role.CHALK, weight=0.8, ref=level.id)


def _shape(shape: SectionShape, window: _Window, scale: float) -> Iterable[AnyItem]:
    points = _clipped(shape.points, window)
    if points is None:
        return
    flat = max(p[1] for p in points) - min(p[1] for p in points) < 1e-6
    if flat or shape.kind in _LINES:
        role = Role.CRAYON if "row" in shape.kind else Role.PENCIL
        ends = ((min(p[0] for p in points), points[0][1]), (max(p[0] for p in points), points[0][1]))
        if ends[0] != ends[1]:
            yield Path(ends, role=role, weight=0.6 if "row" in shape.kind else 1.4, ref=shape.ref)
        return
    if shape.kind in _NEW and min(_size(points)) * scale > 0.015:
        yield Hatch(points, _NEW[shape.kind], ref=shape.ref)
    elif shape.kind in _OUTLINED:
        yield Path(points, closed=True, fill=Fill.PAPER, role=Role.NEW, weight=0.0, ref=shape.ref)
        for edge in _uncut(points, window):
            yield Path(edge, role=Role.NEW, ref=shape.ref)
    elif shape.kind in _THERE:
        yield Path(points, closed=True, fill=Fill.TINT, role=Role.PENCIL, ref=shape.ref)


def _uncut(points: tuple[Point, ...], window: _Window) -> Iterable[tuple[Point, Point]]:
    """Yield the sides of an outline but for those where it is broken off at the window."""
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        beside = a[0] == b[0] and a[0] in (window[0], window[2])
        if not beside and not (a[1] == b[1] and a[1] in (window[1], window[3])):
            yield a, b


def _size(points: tuple[Point, ...]) -> tuple[float, float]:
    xs, zs = [p[0] for p in points], [p[1] for p in points]
    return max(xs) - min(xs), max(zs) - min(zs)


def _clipped(points: tuple[Point, ...], window: _Window) -> tuple[Point, ...] | None:
    """Return an upright box cut to the window, or any shape that is whole in it; None: nothing is inside."""
    if all(window[0] <= y <= window[2] and window[1] <= z <= window[3] for y, z in points):
        return points
    left, bottom = max(min(p[0] for p in points), window[0]), max(min(p[1] for p in points), window[1])
    right, top = min(max(p[0] for p in points), window[2]), min(max(p[1] for p in points), window[3])
    if left > right or bottom > top:
        return None
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def _step(cut: _Cut, window: _Window, scale: float) -> Iterable[AnyItem]:
    """The threshold as a line on the unit, and the step down to the walking surface as a dimension."""
    step = next((each for each in cut.steps if each.name == "step down"), None)
    over, under = cut.known.get("threshold"), cut.known.get("walking surface")
    if step is None or over is None or under is None:
        return
    top, surface = over.z or 0.0, under.z or 0.0
    if not window[1] < surface < top < window[3]:
        return
    yield Path(((0.0, top), (_JAMB, top)), role=Role.NEW, weight=1.2, ref=over.id)
    x = -0.9 / scale
    words = f"step {cut.figures.fine(top - surface)}"
    yield Path(((x - 0.15 / scale, top), (0.0, top)), role=Role.NOTE, hidden=True)
    yield Path(((x, surface), (x, top)), role=Role.NOTE, ref=step.id)
    yield Text((x, top), words, anchor=Anchor.S, nudge=(0, 0.05), size=_TYPE, bold=True)


_JAMB = 4.5625
"""As deep as the section draws the unit [in]."""


def _names(cut: _Cut, window: _Window, scale: float) -> Iterable[AnyItem]:
    """Names and sizes of pieces, in a column outside with leaders."""
    sizes = {step.name: step.size for step in cut.steps}
    labels = []
    for shape in cut.shapes:
        points = _clipped(shape.points, window) if shape.kind in _NAMED else None
        if points is None:
            continue
        wide, tall = _size(points)
        if wide * scale < 0.02 or tall * scale < 0.02:
            continue
        near = min(points[0][0] + 0.6 / scale, points[0][0] + wide / 2)
        size = sizes.get(shape.kind)
        text = shape.kind if size is None else f"{shape.kind} {cut.figures.fine(size)}"
        labels.append(Label(at=(near, points[0][1] + tall / 2), text=text))
    x = window[0] - 0.3 / scale
    yield from column(labels, x=x, scale=(scale, scale), to_left=True)
    yield Text((window[0], window[3]), "outside", anchor=Anchor.NW, size=_TYPE)
