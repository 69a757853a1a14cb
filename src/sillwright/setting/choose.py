"""The choice: one MILP over the rows that depend on each other.

Chosen together: the level line of every row (or of every opening, where a row may step), the place of every
unit along the wall on the tape's marks, what is cut off jacks, and the plane of every unit. Minimised: labour
minutes (data/minutes.csv), with the risk that a unit does not go in counted as the minutes it would cost.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from sillwright.job import HeadLine, Kit, Row, Tolerances
from sillwright.setting.bearing import Bearings
from sillwright.setting.lines import HeadRoom, LineCosts
from sillwright.setting.program import INFINITY, Answer, Program
from sillwright.setting.rates import rates
from sillwright.survey import Wall

OVER = 1e4
"""Minutes for an inch by which a unit is too wide: more than any work could cost."""

Kind = tuple[frozenset[tuple[str, int]], bool]
"""What sets one way apart from another: the openings and edges planed, and whether the row steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Room for one unit between its jacks."""

    left: float
    """Rightmost point of the left jack within the unit's height [in]."""
    right: float
    left_at: float
    """Height above the sill at which that is [in]."""
    right_at: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """All that the MILP needs of one unit in its opening."""

    costs: LineCosts
    room: HeadRoom
    sides: Sides | None
    faces: tuple[tuple[float, float, float], ...] | None
    """(x, height above the sill, y) of the sheathing at the four corners; None where not read."""

    @property
    def bearings(self) -> Bearings:
        """Return where the unit bears."""
        return self.costs.bearings

    @property
    def name(self) -> str:
        """Return the opening's name."""
        return self.costs.bearings.unit.opening


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSeats:
    """A row of openings with their seats, on a common list of candidate lines."""

    row: Row
    seats: tuple[Seat, ...]
    lines: np.ndarray[tuple[int], np.dtype[np.float64]]


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
    plane: dict[str, tuple[float, float, float]]
    """y of each unit's plane: at x = 0 and the sill, per inch along, per inch up."""
    stepped: dict[int, bool]
    minutes: float


def sides(wall: Wall, bearings: Bearings) -> Sides | None:
    """Return the room between the jacks of a unit's opening; None where no width was taped."""
    net, unit = bearings.net, bearings.unit
    if net.left is None or net.right is None:
        return None
    top = min(net.frame.height, unit.frame_height + 1.0)
    heights = sorted({0.0, top, *(h for h in net.left.stations if h < top), *(h for h in net.right.stations if h < top)})
    lefts = [(wall.value(p.at(h)), h) for p in (net.left, net.left_inner) if p is not None for h in heights]
    rights = [(wall.value(p.at(h)), h) for p in (net.right, net.right_inner) if p is not None for h in heights]
    left, left_at = max(lefts)
    right, right_at = min(rights)
    return Sides(left=left, right=right, left_at=left_at, right_at=right_at)


def faces(wall: Wall, bearings: Bearings) -> tuple[tuple[float, float, float], ...] | None:
    """Return (x, height, y) of the sheathing at the corners bottom left, bottom right, top left, top right."""
    net, unit = bearings.net, bearings.unit
    if net.left_out is None or net.right_out is None:
        return None
    ends = ((bearings.left, net.left_out), (bearings.left + unit.frame_width, net.right_out))
    return tuple((x, h, wall.value(face.at(h))) for h in (0.0, unit.frame_height) for x, face in ends)


@dataclass(slots=True)
class _Model:
    """A program with the meaning of its variables."""

    program: Program = field(default_factory=Program)
    lines: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    """For each opening: variable and line index."""
    left: dict[str, int] = field(default_factory=dict)
    trimmed: dict[tuple[str, str], int] = field(default_factory=dict)
    over: dict[str, int] = field(default_factory=dict)
    plane: dict[str, tuple[int, int, int]] = field(default_factory=dict)
    step: dict[int, int] = field(default_factory=dict)


def choose(
    rows: tuple[RowSeats, ...],
    head_lines: tuple[HeadLine, ...],
    *,
    kit: Kit,
    tolerances: Tolerances,
    grid: float,
    without: frozenset[tuple[int, Kind]] = frozenset(),
    lines_only: bool = False,
) -> Chosen | None:
    """Return the best way to set rows that depend on each other; None where there is none.

    Args:
        grid: units are placed on multiples of this from the wall mark [in]
        without: kinds of way, by row number, that are not wanted (to find alternatives)
        lines_only: leave places and planes, which do not depend on the lines, undecided
    """
    model = _Model()
    for number, row in enumerate(rows):
        banned = {kind for where, kind in without if where == number}
        if not _lines(model, number, row, banned):
            return None
    seats = {seat.name: seat for row in rows for seat in row.seats}
    for seat in () if lines_only else seats.values():
        _place(model, seat, kit, grid)
        _plane(model, seat, tolerances)
    for row in () if lines_only else rows:
        _piers(model, row, grid)
    for head_line in head_lines:
        _heads(model, head_line, rows, kit)
    answer = model.program.solve()
    return None if answer is None else _read(model, answer, rows, grid)


def kinds(row: RowSeats) -> list[frozenset[tuple[str, int]]]:
    """Return, for each line, the openings and edges that it has planed."""
    cut = [(seat.name, edge, on) for seat in row.seats for edge, on in enumerate(seat.costs.planed)]
    return [
        frozenset((name, edge) for name, edge, on in cut if on[k]) for k in range(len(row.lines))
    ]


def kind_of(row: RowSeats, way: Chosen) -> Kind:
    """Return what a way to set a row amounts to."""
    planed = frozenset(
        (seat.name, edge)
        for seat in row.seats
        for edge, on in enumerate(seat.costs.planed)
        if on[way.line_index[seat.name]]
    )
    return planed, len({way.line_index[seat.name] for seat in row.seats}) > 1


def _lines(model: _Model, number: int, row: RowSeats, banned: set[Kind]) -> bool:
    """Add the choice of line: shared by the row, or one for each opening where the row may step."""
    program, minute = model.program, rates()
    planed = kinds(row)
    share = np.all([seat.costs.feasible for seat in row.seats], axis=0)
    allowed = np.array([share[k] and (planed[k], False) not in banned for k in range(len(row.lines))])
    may_step = row.row.step == "allowed" and len(row.seats) > 1 and not any(stepped for _, stepped in banned)
    total = sum((seat.costs.minutes for seat in row.seats), start=np.zeros(len(row.lines)))
    lowest = row.lines[allowed][0] if allowed.any() else row.lines[0]
    lift = minute["lift"] * len(row.seats) * (row.lines - lowest)
    if not may_step:
        if not allowed.any():
            return False
        chosen = [
            (program.variable(cost=float(total[k] + lift[k]), high=1.0, whole=True), int(k)) for k in np.flatnonzero(allowed)
        ]
        program.row([(column, 1.0) for column, _ in chosen], low=1.0, high=1.0)
        for seat in row.seats:
            model.lines[seat.name] = chosen
        return True
    return _stepping(model, number, row, allowed)


def _stepping(model: _Model, number: int, row: RowSeats, shared: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> bool:
    program, minute = model.program, rates()
    step = program.variable(cost=minute["step"], high=1.0, low=0.0 if shared.any() else 1.0, whole=True)
    model.step[number] = step
    for seat in row.seats:
        own = np.flatnonzero(seat.costs.feasible)
        if not len(own):
            return False
        cost = seat.costs.minutes + minute["lift"] * (row.lines - row.lines[own[0]])
        model.lines[seat.name] = [
            (program.variable(cost=float(cost[k]), high=1.0, whole=True), int(k)) for k in own
        ]
        program.row([(column, 1.0) for column, _ in model.lines[seat.name]], low=1.0, high=1.0)
        for column, k in model.lines[seat.name]:
            if not shared[k]:
                program.row([(column, 1.0), (step, -1.0)], high=0.0)
    first = model.lines[row.seats[0].name]
    for seat in row.seats[1:]:
        other = dict((k, column) for column, k in model.lines[seat.name])
        for column, k in first:
            terms = [(column, 1.0), (step, -1.0)] + ([(other[k], -1.0)] if k in other else [])
            program.row(terms, high=0.0)
    return True


def _place(model: _Model, seat: Seat, kit: Kit, grid: float) -> None:
    """Add the unit's place along the wall, on the tape's marks, and what jacks lose to make room."""
    if seat.sides is None:
        return
    program, minute, unit = model.program, rates(), seat.bearings.unit
    low, high, least = seat.sides.left, seat.sides.right, unit.least_side_clearance
    place = program.variable(low=np.floor((low - 6.0) / grid), high=np.ceil((high + 6.0) / grid), whole=True)
    over = program.variable(cost=OVER)
    model.left[seat.name], model.over[seat.name] = place, over
    cuts = {side: _trim(model, seat.name, side, kit) for side in ("left", "right")}
    left_cut, right_cut = ([(cut, 1.0)] if cut is not None else [] for cut in cuts.values())
    program.row([(place, grid), (over, 1.0), *left_cut], low=low + least)
    program.row([(place, grid), (over, -1.0), *((c, -k) for c, k in right_cut)], high=high - least - unit.frame_width)
    if unit.most_side_clearance is not None:
        program.row([(place, grid)], high=low + unit.most_side_clearance)
        program.row([(place, grid)], low=high - unit.most_side_clearance - unit.frame_width)
    program.spread([(place, 2.0 * grid)], cost=minute["off_centre"], constant=unit.frame_width - low - high)


def _trim(model: _Model, name: str, side: str, kit: Kit) -> int | None:
    if kit.trim_max <= 0.0:
        return None
    minute = rates()
    cut = model.program.variable(cost=minute["trim_inch"], high=kit.trim_max)
    used = model.program.variable(cost=minute["trim"], high=1.0, whole=True)
    model.program.row([(cut, 1.0), (used, -kit.trim_max)], high=0.0)
    model.trimmed[name, side] = cut
    return cut


def _plane(model: _Model, seat: Seat, tolerances: Tolerances) -> None:
    """Add the unit's plane: at or outside the sheathing at every corner, plumb within tolerance, least packing."""
    if seat.faces is None:
        return
    program, minute = model.program, rates()
    height = seat.bearings.unit.frame_height
    lean = tolerances.plumb / height
    at = program.variable(low=-INFINITY)
    along = program.variable(low=-INFINITY)
    up = program.variable(low=-lean, high=lean)
    program.spread([(up, height)], cost=minute["fur"] / 2.0)
    model.plane[seat.name] = (at, along, up)
    for x, h, y in seat.faces:
        packing = program.variable(cost=minute["fur"])
        program.row([(at, 1.0), (along, x), (up, h), (packing, 1.0)], low=y, high=y)


def _piers(model: _Model, row: RowSeats, grid: float) -> None:
    """Ask for equal piers between neighbouring units of a row: they are what the eye compares."""
    units = sorted((s for s in row.seats if s.name in model.left), key=lambda s: s.bearings.left)
    for a, b, c in zip(units, units[1:], units[2:], strict=False):
        places = [model.left[s.name] for s in (a, b, c)]
        terms = [(places[2], grid), (places[1], -2.0 * grid), (places[0], grid)]
        constant = a.bearings.unit.frame_width - b.bearings.unit.frame_width
        model.program.spread(terms, cost=rates()["pier"], constant=constant)


def _heads(model: _Model, head_line: HeadLine, rows: tuple[RowSeats, ...], kit: Kit) -> None:
    """Hold the tops of units within a tolerance of each other."""
    of = {seat.name: (row, seat) for row in rows for seat in row.seats}
    tops = []
    for name in head_line.openings:
        if name in of:
            row, seat = of[name]
            terms = [(column, float(row.lines[k])) for column, k in model.lines[name]]
            tops.append((terms, kit.stack_above_line + seat.bearings.unit.frame_height))
    for (a, top_a), (b, top_b) in zip(tops, tops[1:], strict=False):
        merged: dict[int, float] = {}
        for column, value in [*a, *((column, -value) for column, value in b)]:
            merged[column] = merged.get(column, 0.0) + value
        constant, terms = top_a - top_b, list(merged.items())
        model.program.row(terms, low=-head_line.within - constant, high=head_line.within - constant)
        model.program.spread(terms, cost=rates()["head_line"], constant=constant)


def _read(model: _Model, answer: Answer, rows: tuple[RowSeats, ...], grid: float) -> Chosen:
    x = answer.x
    line_index = {name: next(k for column, k in lines if x[column] > 0.5) for name, lines in model.lines.items()}
    return Chosen(
        line_index=line_index,
        left={name: float(x[column]) * grid for name, column in model.left.items()},
        trimmed={key: float(x[column]) for key, column in model.trimmed.items() if x[column] > 1e-6},
        too_wide={name: float(x[column]) for name, column in model.over.items() if x[column] > 1e-6},
        plane={name: (float(x[a]), float(x[b]), float(x[c])) for name, (a, b, c) in model.plane.items()},
        stepped={
            number: len({line_index[seat.name] for seat in row.seats}) > 1 for number, row in enumerate(rows)
        },
        minutes=answer.objective,
    )
