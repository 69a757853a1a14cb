"""The wall from outside: openings as they are, units where they go, the level line, acts by number."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sillwright.drawing.figures import Figures
from sillwright.drawing.labels import TYPE, Label, at_largest, column, cut, spread_within
from sillwright.drawing.page import spread
from sillwright.drawing.scene import Anchor, AnyItem, Fill, Mark, MarkKind, Path, Role, Scene, Text
from sillwright.drawing.shapes import text_width
from sillwright.drawing.wall import Span, extent, marks_near, outline, unit_in
from sillwright.plan import Plan
from sillwright.setting.model import Act, Clearance, UnitPosition
from sillwright.survey.model import OpeningShape

_BALLOON = 0.19
_LEAST_STEP = 0.14
"""Lines inside a unit closer than this leave no room for a balloon: the wall is drawn again in parts."""
_BELOW = ("pad", "plane")
_BESIDE = ("trim", "fur")


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The wall's extent and the scale it is drawn at."""

    plan: Plan
    figures: Figures
    x: Span
    z: Span
    scale: float

    def paper(self, inches: float) -> float:
        """Return paper inches as job inches."""
        return inches / self.scale


def elevation(plan: Plan, *, width: float = 9.4, height: float = 5.4) -> Scene:
    """Return the wall in elevation, at the largest trade scale that fits a box [paper inches].

    Raises:  OutOfRange: no trade scale fits
    """
    x, z = extent(plan)

    def build(scale: float) -> Scene:
        return _scene(
            _Sheet(plan, Figures(plan.units), x, z, scale), _balloon_rows(plan, (x[1] - x[0]) * scale)
        )

    return at_largest(
        build, span=(x[1] - x[0], z[1] - z[0]), width=width, height=height, metric=plan.units == "mm"
    )


def _scene(sheet: _Sheet, rows: int) -> Scene:
    plan = sheet.plan
    marks: list[AnyItem] = [*_wall(sheet)]
    for shape in plan.survey.openings:
        marks += _opening(sheet, shape)
    marks += [*_lines(sheet), *_acts_below(sheet, rows), *_acts_beside(sheet)]
    marks += [*_running(sheet, rows), *_sides(sheet)]
    return Scene(
        tuple(marks),
        title="Wall from outside",
        alt=_words(plan),
        scale_x=sheet.scale,
        scale_y=sheet.scale,
        metric=plan.units == "mm",
    )


def _words(plan: Plan) -> str:
    names = ", ".join(shape.name for shape in plan.survey.openings) or "none"
    acts = len(plan.setting.acts)
    return f"The wall seen from outside with openings {names}, the units in them, and {acts} numbered acts."


def _line_names(plan: Plan, figures: Figures) -> list[str]:
    lines = [line for row in plan.setting.rows for line in row.lines]
    return [f"level line {figures.fine(line.z)}" for line in lines]


def _wall(sheet: _Sheet) -> list[AnyItem]:
    """The wall mark, from which everything is taped, as a plumb chalk line."""
    if not sheet.x[0] <= 0.0 <= sheet.x[1]:
        return []
    low, high = sheet.z[0] - sheet.paper(0.2), sheet.z[1] + sheet.paper(0.1)
    return [
        Path(((0.0, low), (0.0, high)), role=Role.CHALK, weight=0.8),
        Text((0.0, high), "wall mark, 0", anchor=Anchor.S, nudge=(0, 0.04), size=TYPE, role=Role.CHALK),
    ]


# --- openings and units -------------------------------------------------------------------------------------


def _opening(sheet: _Sheet, shape: OpeningShape) -> list[AnyItem]:
    points = outline(shape)
    marks: list[AnyItem] = [
        Path(points, closed=True, fill=Fill.TINT, ref=f"opening.{shape.name}", hidden=not shape.level_known)
    ]
    unit = unit_in(sheet.plan, shape.name)
    if unit is None:
        middle = ((shape.left + shape.right) / 2, (points[0][1] + points[-1][1]) / 2)
        return [*marks, Text(middle, shape.name, anchor=Anchor.C, size=0.2, bold=True)]
    frame = (
        (unit.left, unit.bottom),
        (unit.right, unit.bottom),
        (unit.right, unit.top),
        (unit.left, unit.top),
    )
    marks.append(Path(frame, closed=True, fill=Fill.PAPER, role=Role.NEW, ref=unit.id, weight=0.7))
    return [*marks, *_clearances(sheet, unit), *_unit_words(sheet, unit)]


def _clearances(sheet: _Sheet, unit: UnitPosition) -> list[AnyItem]:
    """Least room at each side and above, written inside the frame along the side it belongs to."""
    small = 0.1
    if min(unit.right - unit.left, unit.top - unit.bottom) * sheet.scale < 0.6:
        return []
    high = unit.bottom + 0.5 * (unit.top - unit.bottom)
    places = (
        (unit.left_clearance, (unit.left, high), 90.0, Anchor.N, (0.05, 0.0)),
        (unit.right_clearance, (unit.right, high), 90.0, Anchor.S, (-0.05, 0.0)),
        (unit.head_clearance, ((unit.left + unit.right) / 2, unit.top), 0.0, Anchor.N, (0.0, -0.05)),
    )
    found: list[AnyItem] = []
    for clearance, at, angle, anchor, nudge in places:
        text = _clearance_words(sheet, clearance)
        if text:
            found.append(
                Text(at, text, anchor=anchor, angle=angle, nudge=nudge, size=small, ref=f"{unit.id}.fit")
            )
    return found


def _clearance_words(sheet: _Sheet, clearance: Clearance | None) -> str:
    return sheet.figures.fine(clearance.least) if clearance else ""


def _unit_words(sheet: _Sheet, unit: UnitPosition) -> list[AnyItem]:
    """Name, size, kind and the balloon of its act, one under another, as large as the unit lets them be."""
    wide = (unit.right - unit.left) * sheet.scale - 0.36
    high = (unit.top - unit.bottom) * sheet.scale - (0.34 if wide > 0.49 else 0.1)
    acts = [act for act in sheet.plan.setting.acts if act.kind == "set" and act.opening == unit.opening]
    step = min(0.24, high / 4)
    if step < _LEAST_STEP:
        acts = []
    lines = [(unit.opening, min(0.2, step), True)]
    size = sheet.figures.size(unit.width, unit.height)
    for words in (size, _kind(unit.kind, wide)):
        type_size = min(0.1 if words == size else 0.09, step * 0.6)
        if words and text_width(words, type_size) <= wide:
            lines.append((words, type_size, False))
    x, middle = (unit.left + unit.right) / 2, (unit.bottom + unit.top) / 2
    top = step * (len(lines) - 1 + len(acts)) / 2
    marks: list[AnyItem] = [
        Text(
            (x, middle), words, anchor=Anchor.C, nudge=(0, top - step * n), size=size, bold=bold, ref=unit.id
        )
        for n, (words, size, bold) in enumerate(lines)
    ]
    for n, act in enumerate(acts):
        nudge = (0.0, top - step * (len(lines) + n) - 0.02)
        marks.append(_balloon((x, middle), act, nudge=nudge, size=min(_BALLOON * 1.1, step * 0.9)))
    return marks


# --- level line and marks -----------------------------------------------------------------------------------


def _lines(sheet: _Sheet) -> list[AnyItem]:
    found: list[AnyItem] = []
    shapes = {shape.name: shape for shape in sheet.plan.survey.openings}
    for line in (line for row in sheet.plan.setting.rows for line in row.lines):
        own = [shapes[name] for name in line.openings if name in shapes]
        if own:
            left, right = min(s.left for s in own), max(s.right for s in own)
            over = sheet.paper(0.12)
            found.append(
                Path(
                    ((left - over, line.z), (right + over, line.z)), role=Role.CHALK, ref=line.id, weight=1.3
                )
            )
    return found


def _sides(sheet: _Sheet) -> list[AnyItem]:
    """Names of lines at the right, of datum and marks at the side they are nearer to."""
    scale = (sheet.scale, sheet.scale)
    middle = sum(sheet.x) / 2
    left: list[Label] = []
    right: list[Label] = []
    marks: list[AnyItem] = []
    for mark in marks_near(sheet.plan, sheet.x):
        marks.append(
            Mark((mark.x, mark.z), MarkKind.LEVEL, role=Role.CHALK, size=0.14, ref=f"mark.{mark.name}")
        )
        side = left if mark.x < middle else right
        side.append(
            Label(
                at=(mark.x, mark.z),
                text=mark.name,
                role=Role.CHALK,
                bold=mark.name == sheet.plan.survey.datum,
            )
        )
    shapes = {shape.name: shape for shape in sheet.plan.survey.openings}
    names = _line_names(sheet.plan, sheet.figures)
    lines = [line for row in sheet.plan.setting.rows for line in row.lines]
    for line, name in zip(lines, names, strict=True):
        end = max((shapes[o].right for o in line.openings if o in shapes), default=sheet.x[1])
        right.append(Label(at=(end + sheet.paper(0.12), line.z), text=name, role=Role.CHALK, ref=line.id))
    marks += column(left, x=sheet.x[0] - sheet.paper(0.25), scale=scale, to_left=True)
    return [*marks, *column(right, x=sheet.x[1] + sheet.paper(0.35), scale=scale)]


# --- acts ---------------------------------------------------------------------------------------------------


def _balloon(
    at: tuple[float, float], act: Act, *, nudge: tuple[float, float] = (0.0, 0.0), size: float = _BALLOON
) -> Mark:
    return Mark(
        at, MarkKind.BALLOON, text=str(act.number), role=Role.CRAYON, ref=act.ref, nudge=nudge, size=size
    )


def _below(plan: Plan) -> list[Act]:
    return sorted(
        (act for act in plan.setting.acts if act.kind in _BELOW), key=lambda act: (act.x, act.number)
    )


def _balloon_rows(plan: Plan, width: float) -> int:
    """Return in how many rows the balloons under a wall so wide on paper stand."""
    return max(1, math.ceil(len(_below(plan)) * (_BALLOON + 0.05) / max(width, 1.0)))


def _kind(text: str, wide: float) -> str:
    """Return what a unit is as far as there is room; one word of several says nothing."""
    short = cut(text, wide, 0.09)
    return short if short == text or len(short.split()) > 2 else ""


def _acts_below(sheet: _Sheet, rows: int) -> list[AnyItem]:
    """Pads and planed runs: balloons in rows under the wall, each with a leader up to its place."""
    acts = _below(sheet.plan)
    found: list[AnyItem] = []
    for row in range(rows):
        own = acts[row::rows]
        z = sheet.z[0] - sheet.paper(0.42 + 0.24 * row)
        places = spread([act.x * sheet.scale for act in own], _BALLOON + 0.05)
        for act, place in zip(own, places, strict=True):
            at = (place / sheet.scale, z)
            knee = (at[0], z + sheet.paper(0.2 + 0.24 * row))
            found.append(
                Path(
                    ((act.x, act.z), (act.x, sheet.z[0] - sheet.paper(0.08)), knee, at),
                    role=Role.CRAYON,
                    weight=0.25,
                )
            )
            found.append(_balloon(at, act))
    return found


def _acts_beside(sheet: _Sheet) -> list[AnyItem]:
    """Trimming and furring: balloons on the wall beside the opening, apart from each other."""
    found: list[AnyItem] = []
    for shape in sheet.plan.survey.openings:
        middle = (shape.left + shape.right) / 2
        acts = [act for act in sheet.plan.setting.acts if act.kind in _BESIDE and act.opening == shape.name]
        for left in (True, False):
            own = [act for act in acts if (act.x < middle) is left]
            x = shape.left - sheet.paper(0.16) if left else shape.right + sheet.paper(0.16)
            zs = spread_within(
                [_clear_of_marks(sheet, x, act.z) * sheet.scale for act in own],
                _BALLOON + 0.05,
                low=sheet.z[0] * sheet.scale + 0.3,
                high=sheet.z[1] * sheet.scale,
            )
            for act, z in zip(own, zs, strict=True):
                found.append(Path(((act.x, act.z), (x, z / sheet.scale)), role=Role.CRAYON, weight=0.25))
                found.append(_balloon((x, z / sheet.scale), act))
    return found


def _clear_of_marks(sheet: _Sheet, x: float, z: float) -> float:
    """Return a height for a balloon at x that keeps it off the signs of height marks."""
    reach = sheet.paper(0.27)
    for mark in marks_near(sheet.plan, sheet.x):
        if abs(mark.x - x) < reach and abs(mark.z - z) < reach:
            return mark.z + reach
    return z


def _running(sheet: _Sheet, rows: int) -> list[AnyItem]:
    """Running tape from the wall mark to both sides of every unit, along a line under the balloons."""
    z = sheet.z[0] - sheet.paper(0.42 + 0.24 * rows)
    edges = [
        (x, unit.id)
        for unit in sheet.plan.setting.units
        if unit.position_known
        for x in (unit.left, unit.right)
    ]
    if not edges:
        return []
    found: list[AnyItem] = [Path(((sheet.x[0], z), (sheet.x[1], z)), role=Role.NOTE)]
    places = spread([x * sheet.scale for x, _ in edges], 0.17)
    for (x, ref), place in zip(edges, places, strict=True):
        at = (place / sheet.scale, z - sheet.paper(0.2))
        found.append(Path(((x, z + sheet.paper(0.05)), (x, z - sheet.paper(0.05)), at), role=Role.NOTE))
        text = sheet.figures.place(x)
        found.append(Text(at, text, anchor=Anchor.E, angle=90.0, nudge=(0, -0.03), size=TYPE, ref=ref))
    start = Text((sheet.x[0], z), "from the wall mark", anchor=Anchor.SW, nudge=(0, 0.05), size=0.09)
    return [*found, start] if places[0] - sheet.x[0] * sheet.scale > 1.2 else found
