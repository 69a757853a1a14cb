"""What the drawings of a wall share: which opening is where, its line, and how far the wall runs."""

from __future__ import annotations

from dataclasses import replace

from sillwright.drawing.observed import height_at
from sillwright.plan import Plan
from sillwright.setting.model import Line, UnitPosition
from sillwright.survey.model import Level, OpeningShape, Station

Outline = tuple[tuple[float, float], ...]
Span = tuple[float, float]


def line_of(plan: Plan, opening: str) -> Line | None:
    """Return the level line that an opening's unit stands on; None where there is none."""
    return next((ln for row in plan.setting.rows for ln in row.lines if opening in ln.openings), None)


def unit_in(plan: Plan, opening: str) -> UnitPosition | None:
    """Return the unit of an opening, where one is set."""
    return next((unit for unit in plan.setting.units if unit.opening == opening), None)


def outline(shape: OpeningShape) -> Outline:
    """Return the opening's true shape as far as it is known: along the sill, up, along the head, down."""
    sill = shape.sill_outer or (_station(shape.left, 0.0), _station(shape.right, 0.0))
    left_z, right_z = height_at(sill, shape.left), height_at(sill, shape.right)
    right = _jack(shape.right_jack, shape.right, right_z, shape.height)
    left = _jack(shape.left_jack, shape.left, left_z, shape.height)
    inner = [(s.at, s.value) for s in sill if left[0][0] < s.at < right[0][0]]
    head = [(s.at, s.value) for s in shape.head_outer if left[-1][0] < s.at < right[-1][0]]
    if shape.head_outer:
        left[-1] = (left[-1][0], height_at(shape.head_outer, left[-1][0]))
        right[-1] = (right[-1][0], height_at(shape.head_outer, right[-1][0]))
    return (left[0], *inner, *right, *reversed(head), *reversed(left[1:]))


def _jack(stations: tuple[Station, ...], x: float, foot: float, height: float) -> list[tuple[float, float]]:
    """Return points up a jack, from the sill to the head."""
    known = stations or (_station(0.0, x), _station(height, x))
    between = [(s.value, foot + s.at) for s in known if 0 < s.at < height]
    return [(height_at(known, 0.0), foot), *between, (height_at(known, height), foot + height)]


def _station(at: float, value: float) -> Station:
    return Station(at=at, value=value, sd=0.0, measured=False)


def extent(plan: Plan) -> tuple[Span, Span]:
    """Return how far along the wall and how high a drawing of it reaches [in].

    The wall mark and height marks count where they are near; a far one would make all else small.
    """
    xs = [x for shape in plan.survey.openings for x, _ in outline(shape)]
    zs = [z for shape in plan.survey.openings for _, z in outline(shape)]
    for unit in plan.setting.units:
        xs += [unit.left, unit.right]
        zs += [unit.bottom, unit.top]
    if not xs:
        xs, zs = [0.0, 12.0], [0.0, 12.0]
    near = marks_near(plan, (min(xs), max(xs)))
    xs += [mark.x for mark in near]
    zs += [mark.z for mark in near]
    if 0.0 <= min(xs) <= max(48.0, max(xs) - min(xs)):
        xs.append(0.0)
    return (min(xs), max(*xs, min(xs) + 12.0)), (min(zs), max(*zs, min(zs) + 12.0))


def marks_near(plan: Plan, x: Span) -> list[Level]:
    """Return the height marks on a stretch of wall, or at most 5 ft beside it."""
    return [mark for mark in plan.survey.marks if x[0] - 60.0 <= mark.x <= x[1] + 60.0]


def part_of(plan: Plan, openings: tuple[str, ...]) -> Plan:
    """Return the plan with some openings only, for a drawing of a part of the wall."""
    setting = plan.setting
    lines = [
        replace(row, lines=tuple(line for line in row.lines if set(line.openings) & set(openings)))
        for row in setting.rows
    ]
    return replace(
        plan,
        survey=replace(
            plan.survey, openings=tuple(shape for shape in plan.survey.openings if shape.name in openings)
        ),
        setting=replace(
            setting,
            rows=tuple(lines),
            units=tuple(unit for unit in setting.units if unit.opening in openings),
            pads=tuple(pad for pad in setting.pads if pad.opening in openings),
            planed=tuple(run for run in setting.planed if run.opening in openings),
            acts=tuple(act for act in setting.acts if act.opening in openings),
        ),
    )
