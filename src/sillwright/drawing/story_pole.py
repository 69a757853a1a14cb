"""The story pole: a stick with every height of the wall at full size, whole or in strips to print."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import cut, spread_within
from sillwright.drawing.scene import Anchor, AnyItem, Path, Role, Scene, Text
from sillwright.drawing.shapes import text_width
from sillwright.lengths import from_unit, to_unit
from sillwright.plan import Plan

_EDGE = 0.16
"""From the paper's edge of the strip to the stick's edge [in]."""
_WIDE = 2.03
"""Width of a strip [in]."""
_LINE_END = 0.4
_FAN = 0.22
"""From the end of a mark's line to its name [in]."""
_NAME = 1.2
"""Room for the name of a height [in]."""
_SMALL = 0.095
_LABEL = 0.36


@dataclass(frozen=True, slots=True, kw_only=True)
class Height:
    """One height on the pole."""

    z: float
    what: str
    whose: tuple[str, ...] = ()
    """Openings that it belongs to; none: the wall's, or the deck's."""
    role: Role
    ref: str = ""

    @property
    def name(self) -> str:
        """What stands beside the mark: unit top A, B, C."""
        return f"{self.what} {', '.join(self.whose)}" if self.whose else self.what


def pole_heights(plan: Plan) -> tuple[Height, ...]:
    """Return every height of the wall that belongs on the stick, upward; equal ones are told together."""
    found: list[Height] = [
        Height(z=mark.z, what=mark.name, role=Role.CHALK, ref=f"mark.{mark.name}")
        for mark in plan.survey.marks
    ]
    if not plan.survey.marks:
        found.append(Height(z=0.0, what=plan.survey.datum, role=Role.CHALK))
    lines = [line for row in plan.setting.rows for line in row.lines]
    for line in lines:
        whose = line.openings if len(lines) > 1 else ()
        found.append(Height(z=line.z, what="level line", whose=whose, role=Role.CHALK, ref=line.id))
        found.append(
            Height(z=line.unit_bottom, what="unit bottom", whose=whose, role=Role.CRAYON, ref=line.id)
        )
    found += [
        Height(z=u.top, what="unit top", whose=(u.opening,), role=Role.CRAYON, ref=u.id)
        for u in plan.setting.units
    ]
    for shape in plan.survey.openings:
        if shape.head_outer and shape.level_known:
            low, ref = min(station.value for station in shape.head_outer), f"opening.{shape.name}"
            found.append(Height(z=low, what="lowest head", whose=(shape.name,), role=Role.PENCIL, ref=ref))
    found += _of_the_deck(plan)
    return _together(sorted(found, key=lambda height: height.z))


_NOT_MARKED = ("level line", "unit bottom", "unit top", "lowest rough head", "top of sloped strip")
"""Heights of the chain that the stick has anyway, or that nobody sets out by it."""
_SET_OUT = (
    "walking surface",
    "joist top",
    "ledger top",
    "ledger bottom",
    "upper row",
    "lower row",
    "threshold",
)


def _of_the_deck(plan: Plan) -> list[Height]:
    """Return the heights of the chains above the deck: to set out in crayon, there now in pencil."""
    if plan.heights is None:
        return []
    return [
        Height(
            z=level.z,
            what=level.name,
            whose=(level.opening,) if level.opening else (),
            role=Role.CRAYON if level.name in _SET_OUT else Role.PENCIL,
            ref=level.id,
        )
        for level in plan.heights.levels
        if level.z is not None and level.name not in _NOT_MARKED
    ]


def _together(heights: list[Height]) -> tuple[Height, ...]:
    """Tell heights of one kind that are one height together: `unit top A, B, C`."""
    kept: list[Height] = []
    for height in heights:
        last = next((k for k in kept if abs(k.z - height.z) < 1 / 128 and k.what == height.what), None)
        if last is None or height.role is Role.CHALK:
            kept.append(height)
        else:
            kept[kept.index(last)] = replace(last, whose=(*last.whose, *height.whose))
    return tuple(kept)


def pole_range(plan: Plan) -> tuple[float, float]:
    """Return the lowest and highest point of the stick: whole inches or centimetres beyond its marks [in]."""
    zs = [height.z for height in pole_heights(plan)]
    step = 1.0 if plan.units == "in" else from_unit(10, "mm")
    return (math.floor(min(zs) / step - 0.5) * step, math.ceil(max(zs) / step + 0.5) * step)


def story_pole(plan: Plan) -> Scene:
    """Return the whole stick at full size."""
    low, high = pole_range(plan)
    return _scene(plan, low, high, title="Story pole", joins=("", ""))


def pole_tiles(plan: Plan, *, tall: float) -> tuple[Scene, ...]:
    """Return the stick at full size in strips that butt at lettered match lines, from the bottom up.

    Args:    tall: paper for one strip's height [in]
    """
    low, high = pole_range(plan)
    step = 1.0 if plan.units == "in" else from_unit(10, "mm")
    each = max(math.floor((tall - 0.4) / step), 1) * step
    count = max(1, math.ceil((high - low) / each - 1e-9))
    return tuple(
        _scene(
            plan,
            low + n * each,
            min(high, low + (n + 1) * each),
            title=f"Story pole, strip {n + 1} of {count}",
            joins=(_letter(n - 1) if n else "", _letter(n) if n + 1 < count else ""),
        )
        for n in range(count)
    )


def _letter(number: int) -> str:
    return chr(ord("A") + number % 26) + str(number // 26 or "")


def _scene(plan: Plan, low: float, high: float, *, title: str, joins: tuple[str, str]) -> Scene:
    figures = Figures(plan.units)
    marks: list[AnyItem] = [
        Path(((0.0, low), (0.0, high)), role=Role.NOTE, weight=2.4),
        Path(((_WIDE - _EDGE, low), (_WIDE - _EDGE, high)), role=Role.NOTE),
        *_tape(plan, low, high),
        *_labels(plan, figures, low, high),
    ]
    for z, letter, above in ((low, joins[0], False), (high, joins[1], True)):
        marks += _join(z, letter, above=above)
    reach = f"{figures.place(low)} to {figures.place(high)} {plan.units}"
    alt = f"{title}: heights from {reach} above the datum, full size."
    return Scene(
        tuple(marks), title=title, alt=alt, scale_x=1.0, scale_y=1.0, metric=plan.units == "mm", margin=0.06
    )


def _tape(plan: Plan, low: float, high: float) -> list[AnyItem]:
    """Ticks along the stick's edge: inches with halves, or tens of millimetres; numbered on the way."""
    step, number = (0.5, 1.0) if plan.units == "in" else (5.0, 50.0)
    first, last = to_unit(low, plan.units), to_unit(high, plan.units)
    taken = [height.z for height in pole_heights(plan)]
    found: list[AnyItem] = []
    for n in range(math.ceil(first / step - 1e-6), math.floor(last / step + 1e-6) + 1):
        value = n * step
        z = from_unit(value, plan.units)
        long = math.isclose(value / number, round(value / number), abs_tol=1e-9)
        found.append(Path(((0.0, z), (0.14 if long else 0.07, z)), role=Role.NOTE))
        if long and low + 0.08 < z < high - 0.08 and all(abs(z - other) > 0.07 for other in taken):
            found.append(Text((0.17, z), f"{value:g}", anchor=Anchor.W, size=0.085))
    return found


def _labels(plan: Plan, figures: Figures, low: float, high: float) -> list[AnyItem]:
    own = [height for height in pole_heights(plan) if low <= height.z < high]
    places = spread_within([height.z for height in own], _LABEL, low=low + 0.2, high=high - 0.2)
    found: list[AnyItem] = []
    for height, place in zip(own, places, strict=True):
        found.append(
            Path(
                ((0.0, height.z), (_LINE_END, height.z)),
                role=height.role,
                weight=0.4 if height.role is Role.CRAYON else 0.8,
                ref=height.ref,
            )
        )
        found.append(Path(((_LINE_END, height.z), (_LINE_END + _FAN, place)), role=Role.NOTE))
        at = (_LINE_END + _FAN + 0.04, place)
        found.append(
            Text(
                at,
                figures.fine(height.z),
                anchor=Anchor.SW,
                nudge=(0, 0.01),
                size=0.13,
                bold=True,
                role=height.role,
            )
        )
        found.append(
            Text(
                at,
                _name(height),
                anchor=Anchor.NW,
                nudge=(0, -0.035),
                size=_SMALL,
                ref=height.ref,
            )
        )
    return found


def _name(height: Height) -> str:
    """Return a name as it fits beside the mark; whose height it is stays whole if there is room."""
    whose = f" {', '.join(height.whose)}" if height.whose else ""
    left = _NAME - text_width(whose, _SMALL)
    short = cut(height.what, left, _SMALL) if left > 0 else ""
    return f"{short}{whose}" if short else cut(height.name, _NAME, _SMALL)


def _join(z: float, letter: str, *, above: bool) -> list[AnyItem]:
    """A match line with its letter, or the plain end of the stick."""
    if not letter:
        return [Path(((0.0, z), (_WIDE - _EDGE, z)), role=Role.NOTE)]
    line = Path(((-0.1, z), (_WIDE - _EDGE + 0.1, z)), role=Role.NOTE, hidden=True, weight=2.0)
    words = f"match {letter}: cut here, butt to {letter}"
    anchor, nudge = (Anchor.SW, (0, 0.06)) if above else (Anchor.NW, (0, -0.06))
    return [line, Text((0.0, z), words, anchor=anchor, nudge=nudge, size=0.1), *_diamond(z)]


def _diamond(z: float) -> list[AnyItem]:
    """Half a diamond on each strip, whole when they butt."""
    x = _WIDE - _EDGE - 0.2
    points = ((x - 0.08, z), (x, z + 0.08), (x + 0.08, z), (x, z - 0.08))
    return [Path(points, closed=True, role=Role.NOTE)]
