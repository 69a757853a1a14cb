"""The choice: one MILP over the rows that depend on each other.

Chosen together: the level line of every row (or of every opening, where a row may step), the place of every
unit along the wall on the tape's marks, what is cut off jacks, and the plane of every unit. Minimised: labour
minutes (data/minutes.csv), with the risk that a unit does not go in counted as the minutes it would cost.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from sillwright.job import HeadLine, Kit, Tolerances
from sillwright.lengths import Unit, from_unit
from sillwright.program import INFINITY, Answer, Program
from sillwright.setting.rates import rates
from sillwright.setting.seat import RowSeats, Seat

PLACES = {"in": 1 / 16, "mm": from_unit(1, "mm")}
"""Units are placed on multiples of this from the wall mark [in]."""
CUTS = {"in": 1 / 32, "mm": from_unit(1, "mm")}
"""Jacks are cut back by multiples of this [in]."""
TIE = 1e-4
"""Minutes that decide between ways that cost the same, so that the same job always has the same plan."""

Kind = tuple[frozenset[tuple[str, int]], bool]
"""What sets one way apart from another: the openings and edges planed, and whether the row steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """The optimum of one group of rows."""

    line_index: dict[str, int]
    """Index of the line of each opening."""
    left: dict[str, float]
    """Left side of each unit whose opening is known along the wall [in]."""
    trimmed: dict[tuple[str, str], float]
    """Cut off a jack, by opening and side [in]."""
    too_wide: dict[str, float]
    """By how much a unit with its clearances exceeds its opening [in]."""
    too_narrow: dict[str, float]
    """By how much an opening exceeds a unit with its largest clearances, at the worse side [in]."""
    plane: dict[str, tuple[float, float, float]]
    """y of each unit's plane: at x = 0 and the sill, per inch along, per inch up."""
    stepped: tuple[bool, ...]
    """Of each row."""
    minutes: float


@dataclass(slots=True)
class _Model:
    """A program with the meaning of its variables."""

    unit: Unit
    kit: Kit
    tolerances: Tolerances
    program: Program = field(default_factory=Program)
    lines: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    """For each opening: variable and line index."""
    left: dict[str, tuple[int, int]] = field(default_factory=dict)
    """The mark of each unit's left side, and how far beside it."""
    trimmed: dict[tuple[str, str], int] = field(default_factory=dict)
    over: dict[str, int] = field(default_factory=dict)
    under: dict[str, int] = field(default_factory=dict)
    plane: dict[str, tuple[int, int, int]] = field(default_factory=dict)


def choose(
    rows: tuple[RowSeats, ...],
    head_lines: tuple[HeadLine, ...],
    *,
    kit: Kit,
    tolerances: Tolerances,
    unit: Unit,
    without: frozenset[tuple[int, Kind]] = frozenset(),
    lines_only: bool = False,
) -> Chosen | None:
    """Return the best way to set rows that depend on each other; None where there is none.

    `without` are kinds of way, by row number, that are not wanted (to find alternatives); `lines_only` leaves
    places and planes, which do not depend on the lines, undecided.
    """
    model = _Model(unit, kit, tolerances)
    for number, row in enumerate(rows):
        banned = {kind for where, kind in without if where == number}
        if not _lines(model, row, banned):
            return None
    for row in () if lines_only else rows:
        for seat in row.seats:
            _place(model, seat)
            _plane(model, seat)
        _piers(model, row)
    for head_line in head_lines:
        _heads(model, head_line, rows)
    answer = model.program.solve()
    return None if answer is None else _read(model, answer, rows)


def kinds(row: RowSeats) -> list[frozenset[tuple[str, int]]]:
    """Return, for each line, the openings and edges that it has planed."""
    cut = [(seat.name, edge, on) for seat in row.seats for edge, on in enumerate(seat.costs.planed)]
    return [frozenset((name, edge) for name, edge, on in cut if on[k]) for k in range(len(row.lines))]


def kind_of(row: RowSeats, way: Chosen) -> Kind:
    """Return what a way to set a row amounts to."""
    planed = frozenset(
        (seat.name, edge)
        for seat in row.seats
        for edge, on in enumerate(seat.costs.planed)
        if on[way.line_index[seat.name]]
    )
    return planed, len({way.line_index[seat.name] for seat in row.seats}) > 1


def _lines(model: _Model, row: RowSeats, banned: set[Kind]) -> bool:
    """Add the choice of line: shared by the row, or one for each opening where the row may step."""
    planed = kinds(row)
    share = np.all([seat.costs.feasible for seat in row.seats], axis=0)
    allowed = np.array([bool(share[k]) and (planed[k], False) not in banned for k in range(len(row.lines))])
    if row.may_step and not any(stepped for _, stepped in banned):
        return _stepping(model, row, allowed)
    if not allowed.any():
        return False
    total = np.sum([seat.costs.minutes for seat in row.seats], axis=0)
    chosen = [
        (model.program.variable(cost=float(total[k]), high=1.0, whole=True), int(k))
        for k in np.flatnonzero(allowed)
    ]
    model.program.row([(column, 1.0) for column, _ in chosen], low=1.0, high=1.0)
    for seat in row.seats:
        model.lines[seat.name] = chosen
    return True


def _stepping(model: _Model, row: RowSeats, shared: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> bool:
    """Add one line for each opening, and a step that costs: without it all are the same allowed line."""
    program = model.program
    step = program.variable(cost=rates()["step"], high=1.0, whole=True)
    at: dict[int, list[int]] = {}
    for seat in row.seats:
        own = np.flatnonzero(seat.costs.feasible)
        cost = seat.costs.minutes
        columns = [(program.variable(cost=float(cost[k]), high=1.0, whole=True), int(k)) for k in own]
        model.lines[seat.name] = columns
        program.row([(column, 1.0) for column, _ in columns], low=1.0, high=1.0)
        for column, k in columns:
            at.setdefault(k, []).append(column)
    for k, columns_at in at.items():
        together = len(columns_at) == len(row.seats)
        for column in columns_at:
            if not (together and shared[k]):
                program.row([(column, 1.0), (step, -1.0)], high=0.0)
        if together:
            _same_without_step(program, columns_at, step)
    return all(model.lines[seat.name] for seat in row.seats)


def _same_without_step(program: Program, columns: list[int], step: int) -> None:
    """Without a step all take a line or none does; with one they must not all take the same."""
    for column in columns[1:]:
        program.row([(columns[0], 1.0), (column, -1.0), (step, -1.0)], high=0.0)
    program.row([*((column, 1.0) for column in columns), (step, 1.0)], high=float(len(columns)))


def _place(model: _Model, seat: Seat) -> None:
    """Add the unit's place along the wall, on the tape's marks, and what jacks lose to make room."""
    if seat.sides is None:
        return
    program, minute, unit = model.program, rates(), seat.bearings.unit
    mark, cut = PLACES[model.unit], CUTS[model.unit]
    low, high, least = seat.sides.left, seat.sides.right, unit.least_side_clearance
    wide = abs(high - low - unit.frame_width) + 1.0
    place = program.variable(
        cost=TIE, low=np.floor((low - wide) / mark), high=np.ceil((high + wide) / mark), whole=True
    )
    over = program.variable(cost=minute["over"])
    beside = program.variable(low=-mark / 2.0, high=mark / 2.0)
    program.spread([(beside, 1.0)], cost=minute["off_mark"])
    model.left[seat.name], model.over[seat.name] = (place, beside), over
    left_cut, right_cut = _trims(model, seat)
    at = [(place, mark), (beside, 1.0)]
    cut_left, cut_right = [(c, cut) for c in left_cut], [(c, -cut) for c in right_cut]
    program.row([*at, (over, 1.0), *cut_left], low=low + least)
    program.row([*at, (over, -1.0), *cut_right], high=high - least - unit.frame_width)
    if unit.most_side_clearance is not None:
        under = program.variable(cost=minute["over"])
        model.under[seat.name] = under
        program.row([*at, (under, -1.0), *cut_left], high=low + unit.most_side_clearance)
        program.row([*at, (under, 1.0), *cut_right], low=high - unit.most_side_clearance - unit.frame_width)
    off = [(place, 2.0 * mark), (beside, 2.0), *cut_left, *cut_right]
    program.spread(off, cost=minute["off_centre"], constant=unit.frame_width - low - high)


def _trims(model: _Model, seat: Seat) -> tuple[list[int], list[int]]:
    """Add cuts at both jacks, and the risk that they leave: the chance of a misfit falls as room grows."""
    sides, cut = seat.sides, CUTS[model.unit]
    most = np.floor(model.kit.trim_max / cut + 1e-9)
    if sides is None or most < 1.0:
        return [], []
    program, minute = model.program, rates()
    columns = []
    for side, proud in (("left", sides.left_proud), ("right", sides.right_proud)):
        # of two ways that cost the same, the jack with the more local hump has less wood to lose
        column = program.variable(cost=cut * minute["trim_inch"] - TIE * proud, high=most, whole=True)
        used = program.variable(cost=minute["trim"], high=1.0, whole=True)
        program.row([(column, 1.0), (used, -most)], high=0.0)
        model.trimmed[seat.name, side] = column
        columns.append(column)
    unit = seat.bearings.unit
    slack = sides.right - sides.left - unit.frame_width - 2.0 * unit.least_side_clearance
    if sides.wanted > 0.0:
        # from an even chance at no slack to the chance asked for, taken as a straight line
        fall = minute["misfit"] * (model.tolerances.fit_probability - 0.5) / sides.wanted
        short = program.variable(cost=fall)
        program.row([(short, 1.0), *((c, cut) for c in columns)], low=sides.wanted - slack)
    return columns[:1], columns[1:]


def _plane(model: _Model, seat: Seat) -> None:
    """Add the unit's plane: at or outside the sheathing at the corners, plumb enough, least packed."""
    if seat.faces is None:
        return
    program, minute = model.program, rates()
    height = seat.bearings.unit.frame_height
    lean = model.tolerances.plumb / height
    at = program.variable(low=-INFINITY)
    along = program.variable(low=-INFINITY)
    up = program.variable(low=-lean, high=lean)
    program.spread([(up, height)], cost=minute["fur"] / 2.0)
    # packing shared evenly strains a frame least; it also settles which of equal planes is taken
    most = program.variable(cost=minute["fur"] / 4.0)
    model.plane[seat.name] = (at, along, up)
    for x, h, y in seat.faces:
        packing = program.variable(cost=minute["fur"])
        program.row([(at, 1.0), (along, x), (up, h), (packing, 1.0)], low=y, high=y)
        program.row([(most, 1.0), (packing, -1.0)], low=0.0)


def _piers(model: _Model, row: RowSeats) -> None:
    """Ask for equal piers between neighbouring units of a row: they are what the eye compares."""
    mark = PLACES[model.unit]
    units = sorted((s for s in row.seats if s.name in model.left), key=lambda s: s.bearings.left)
    for a, b, c in zip(units, units[1:], units[2:], strict=False):
        terms = [
            (column, share * size)
            for seat, share in ((c, 1.0), (b, -2.0), (a, 1.0))
            for column, size in zip(model.left[seat.name], (mark, 1.0), strict=True)
        ]
        constant = a.bearings.unit.frame_width - b.bearings.unit.frame_width
        model.program.spread(terms, cost=rates()["pier"], constant=constant)


def _heads(model: _Model, head_line: HeadLine, rows: tuple[RowSeats, ...]) -> None:
    """Hold the tops of units within a tolerance of each other, every one with every other."""
    of = {seat.name: (row, seat) for row in rows for seat in row.seats}
    tops = []
    for name in head_line.openings:
        if name in of:
            row, seat = of[name]
            terms = [(column, float(row.lines[k])) for column, k in model.lines[name]]
            tops.append((terms, seat.bearings.unit.frame_height))
    for i, (a, top_a) in enumerate(tops):
        for b, top_b in tops[i + 1 :]:
            constant, terms = top_a - top_b, [*a, *((column, -value) for column, value in b)]
            within = head_line.within + 1e-9
            model.program.row(terms, low=-within - constant, high=within - constant)
            model.program.spread(terms, cost=rates()["head_line"], constant=constant)


def _read(model: _Model, answer: Answer, rows: tuple[RowSeats, ...]) -> Chosen:
    x = answer.x
    line_index = {
        name: next(k for column, k in lines if x[column] > 0.5) for name, lines in model.lines.items()
    }
    mark, cut = PLACES[model.unit], CUTS[model.unit]
    return Chosen(
        line_index=line_index,
        left={name: float(x[place]) * mark + float(x[off]) for name, (place, off) in model.left.items()},
        trimmed={key: float(x[column]) * cut for key, column in model.trimmed.items() if x[column] > 0.5},
        too_wide={name: float(x[column]) for name, column in model.over.items() if x[column] > 1e-6},
        too_narrow={name: float(x[column]) for name, column in model.under.items() if x[column] > 1e-6},
        plane={name: (float(x[a]), float(x[b]), float(x[c])) for name, (a, b, c) in model.plane.items()},
        stepped=tuple(len({line_index[seat.name] for seat in row.seats}) > 1 for row in rows),
        minutes=answer.objective,
    )
