"""From the adjusted wall to the setting plan: lines, pads, planing, places, sizes, alternatives."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from sillwright.job import HeadLine, Job, Row, UnitToSet
from sillwright.setting.acts import acts_of
from sillwright.setting.choose import Chosen, choose
from sillwright.setting.conflict import height_conflict, loose_conflicts
from sillwright.setting.cuts import cuts_of, stock_use
from sillwright.setting.groups import Group, groups_of, tied, without
from sillwright.setting.hand import Laid, Lot, ShimKey, lay, on_hand
from sillwright.setting.lines import below
from sillwright.setting.model import (
    BarePoint,
    Conflict,
    Option,
    OrderSize,
    Pad,
    PlanedRun,
    RowPlan,
    Setting,
    Trim,
    UnitPosition,
)
from sillwright.setting.options import OBJECTIVE, option_of
from sillwright.setting.pads import pads_of, planed_of
from sillwright.setting.place import corners_of, position
from sillwright.setting.reshoot import reshoot
from sillwright.setting.rows import row_plan
from sillwright.setting.seat import RowSeats, Seat, farther, finer, seats_of
from sillwright.setting.shortage import stock_conflict
from sillwright.setting.size import order_size
from sillwright.setting.stock import Stock, stock_of
from sillwright.setting.ways import alternatives
from sillwright.survey import Survey, Wall

RETRIES = 6
"""Other lines tried where the stock on hand does not make the pads of the best one."""


@dataclass(slots=True)
class _Draft:
    """What has been decided so far; numbers are given at the end, from left to right."""

    job: Job
    wall: Wall
    stock: Stock
    hand: dict[ShimKey, int]
    rows: list[RowPlan] = field(default_factory=list)
    pads: list[Pad] = field(default_factory=list)
    bare: list[BarePoint] = field(default_factory=list)
    planed: list[PlanedRun] = field(default_factory=list)
    trims: list[Trim] = field(default_factory=list)
    units: list[UnitPosition] = field(default_factory=list)
    options: list[Option] = field(default_factory=list)
    sizes: list[OrderSize] = field(default_factory=list)
    conflicts: list[Conflict] = field(default_factory=list)


def set_wall(job: Job, wall: Wall, survey: Survey) -> Setting:
    """Return the setting plan of a wall.

    Raises: BadInput: pads shot again that are not in the plan; OutOfRange: shims that share no step
    """
    draft = _Draft(job, wall, stock_of(job.kit, job.units), on_hand(job.kit))
    for group in groups_of(job, wall):
        _set_group(draft, group)
    pads, planed, trims = _numbered(draft)
    rows, units = tuple(draft.rows), tuple(draft.units)
    return Setting(
        rows=rows,
        pads=pads,
        planed=planed,
        trims=trims,
        units=units,
        options=tuple(draft.options),
        order_sizes=tuple(draft.sizes),
        conflicts=tuple(draft.conflicts),
        reshoot=reshoot(job, survey, pads, rows),
        stock=stock_use(job.kit, pads),
        cuts=cuts_of(job, wall, pads, units),
        acts=acts_of(job, pads, planed, trims, units, rows),
        objective=OBJECTIVE,
        bare=tuple(sorted(draft.bare, key=lambda point: point.x)),
    )


def _set_group(draft: _Draft, group: Group) -> None:
    job = draft.job
    rows = tuple(seats_of(job, draft.wall, draft.stock, row) for row in group.rows)
    chosen = _choose(job, rows, group.head_lines)
    if chosen is None:
        rows = tuple(farther(job, draft.stock, row) for row in rows)
        chosen = _choose(job, rows, group.head_lines)
    if chosen is None:
        rows = tuple(finer(job, draft.stock, row, _tops(rows, group.head_lines, row)) for row in rows)
        chosen = _choose(job, rows, group.head_lines)
    if chosen is None:
        _no_way(draft, group, rows)
        return
    chosen, lot = _within_stock(draft, rows, group.head_lines, chosen)
    for number, row in enumerate(rows):
        _set_row(draft, rows, group.head_lines, number, chosen)
        for seat in row.seats:
            _set_unit(draft, row, seat, chosen, lot.pads[seat.name])
            _too_loose(draft, rows, group.head_lines, row, seat, chosen)


def _choose(job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...]) -> Chosen | None:
    return choose(rows, head_lines, kit=job.kit, tolerances=job.tolerances, unit=job.units)


def _tops(rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], row: RowSeats) -> list[float]:
    """Return the lines of a row that bring its tops level with those of other openings in a head line."""
    height = {seat.name: seat.bearings.unit.frame_height for other in rows for seat in other.seats}
    own = {seat.name for seat in row.seats}
    return [
        float(line) + height[b] - height[a]
        for head_line in head_lines
        for a in head_line.openings
        if a in own
        for b in head_line.openings
        for other in rows
        if other is not row and b in {seat.name for seat in other.seats}
        for line in other.lines
    ]


def _within_stock(
    draft: _Draft, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], chosen: Chosen
) -> tuple[Chosen, Lot]:
    """Return the best way whose pads the shims on hand make, or that lacks fewest."""
    tolerance = draft.job.tolerances.pad
    best = (chosen, lay(draft.stock, rows, chosen, draft.hand, tolerance=tolerance))
    tried, way = rows, chosen
    for _ in range(RETRIES):
        if not best[1].short:
            break
        tried = tuple(_banning(row, way) for row in tried)
        other = _choose(draft.job, tried, head_lines)
        if other is None:
            break
        way = other
        lot = lay(draft.stock, rows, way, draft.hand, tolerance=tolerance)
        best = min(best, (way, lot), key=lambda pair: pair[1].short)
    for key, count in best[1].used.items():
        if key in draft.hand:
            draft.hand[key] = max(draft.hand[key] - count, 0)
    return best


def _banning(row: RowSeats, way: Chosen) -> RowSeats:
    """Return the row without the lines of one way to set it."""

    def banned(seat: Seat) -> Seat:
        feasible = seat.costs.feasible & (np.arange(len(row.lines)) != way.line_index[seat.name])
        return replace(seat, costs=replace(seat.costs, feasible=feasible))

    return replace(row, seats=tuple(banned(seat) for seat in row.seats))


def _no_way(draft: _Draft, group: Group, rows: tuple[RowSeats, ...]) -> None:
    """Report why rows cannot be set, and set what does not take part in the conflict."""
    number = len(draft.conflicts) + 1
    conflict = height_conflict(draft.job, rows, group.head_lines, number)
    if conflict is None:
        conflict = stock_conflict(draft.job, draft.stock, rows, group.head_lines, number)
    draft.conflicts.append(conflict)
    if group.head_lines and any("head line" in demand.name for demand in conflict.demands):
        rest = tied(list(group.rows), ())
    else:
        hit = set(conflict.openings)
        for row in group.rows:
            if hit & {*row.openings}:
                _sizes_only(draft, row)
        rest = without(group, hit)
    for part in rest:
        _set_group(draft, part)


def _sizes_only(draft: _Draft, asked: Row) -> None:
    """Give the order sizes of a row in conflict, on the line it would have if no head limited it."""
    row = seats_of(draft.job, draft.wall, draft.stock, asked, mind_heads=False)
    chosen = choose(
        (row,), (), kit=draft.job.kit, tolerances=draft.job.tolerances, unit=draft.job.units, lines_only=True
    )
    least = max(seat.bearings.highest for seat in row.seats) - below(draft.job.kit, draft.job.tolerances)
    for seat in row.seats:
        line = least if chosen is None else float(row.lines[chosen.line_index[seat.name]])
        draft.sizes.append(
            order_size(
                draft.job,
                draft.wall,
                seat.bearings,
                _asked(draft.job, seat),
                line=line,
                corners=(),
                trimmed=0.0,
            )
        )


def _set_row(
    draft: _Draft,
    rows: tuple[RowSeats, ...],
    head_lines: tuple[HeadLine, ...],
    number: int,
    chosen: Chosen,
) -> None:
    job, row, base = draft.job, rows[number], len(draft.rows) + 1
    draft.rows.append(row_plan(draft.wall, row, chosen, stack=job.kit.stack_above_line, number=base))
    ways = [chosen, *alternatives(job, rows, head_lines, number, chosen)]
    draft.options += [
        option_of(job.units, row, way, ident=f"option.{base}.{k + 1}", chosen=k == 0, against=chosen)
        for k, way in enumerate(ways)
    ]


def _set_unit(draft: _Draft, row: RowSeats, seat: Seat, chosen: Chosen, laid: tuple[Laid, ...]) -> None:
    job, wall, b = draft.job, draft.wall, seat.bearings
    line, tolerance = float(row.lines[chosen.line_index[seat.name]]), job.tolerances.pad
    pads = pads_of(wall, draft.stock, b, laid, units=job.units, line=line, tolerance=tolerance)
    draft.pads += [pad for pad in pads if pad.pieces]
    draft.bare += [
        BarePoint(opening=pad.opening, x=pad.x, why=pad.why, back_known=pad.back is not None)
        for pad in pads
        if not pad.pieces
    ]
    draft.planed += planed_of(b, line=line, tolerance=tolerance)
    trimmed = {side: cut for (name, side), cut in chosen.trimmed.items() if name == seat.name}
    draft.trims += [
        Trim(id=f"trim.{seat.name}.{side}", number=0, opening=seat.name, side=side, amount=cut)  # type: ignore[arg-type]
        for side, cut in trimmed.items()
    ]
    corners = corners_of(wall, seat, chosen)
    cut = sum(trimmed.values())
    size = order_size(job, wall, b, _asked(job, seat), line=line, corners=corners, trimmed=cut)
    draft.sizes.append(size)
    placed = position(
        job,
        wall,
        _to_order(seat, size),
        chosen.left.get(seat.name),
        line=line,
        trimmed=trimmed,
        pads=pads,
        size=size,
    )
    draft.units.append(replace(placed, corners=corners))


def _asked(job: Job, seat: Seat) -> UnitToSet:
    return next(u for u in job.unit if u.opening == seat.name)


def _to_order(seat: Seat, size: OrderSize) -> Seat:
    """Give a unit not yet ordered the height that fits on the chosen line, where the asked one does not."""
    unit, asked, largest = seat.bearings.unit, size.asked, size.largest
    if unit.ordered or asked is None or largest is None or asked.probability >= size.wanted_probability:
        return seat
    height = min(largest.height, unit.frame_height)
    width = min(largest.width, unit.frame_width)
    b = replace(seat.bearings, unit=unit.model_copy(update={"frame_width": width, "frame_height": height}))
    return replace(seat, costs=replace(seat.costs, bearings=b))


def _too_loose(
    draft: _Draft,
    rows: tuple[RowSeats, ...],
    head_lines: tuple[HeadLine, ...],
    row: RowSeats,
    seat: Seat,
    chosen: Chosen,
) -> None:
    """Report a unit that was set as nearly as it can be, though it misses a limit."""
    wrong: set[Literal["wide", "narrow", "low"]] = set()
    if seat.name in chosen.too_wide:
        wrong.add("wide")
    if seat.name in chosen.too_narrow:
        wrong.add("narrow")
    if float(row.lines[chosen.line_index[seat.name]]) < seat.room.lowest - 1e-9:
        wrong.add("low")
    if wrong:
        first = len(draft.conflicts) + 1
        draft.conflicts += loose_conflicts(draft.job, rows, head_lines, seat, frozenset(wrong), first)


def _numbered(draft: _Draft) -> tuple[tuple[Pad, ...], tuple[PlanedRun, ...], tuple[Trim, ...]]:
    """Number planing first, then jacks cut back, then pads, each from left to right: the order of work."""
    numbers = iter(range(1, 10_000))
    place = {unit.opening: unit.left for unit in draft.units}
    planed = tuple(
        replace(run, number=(n := next(numbers)), id=f"plane.{n}")
        for run in sorted(draft.planed, key=lambda r: (r.start, r.edge))
    )
    trims = tuple(
        replace(trim, number=next(numbers))
        for trim in sorted(draft.trims, key=lambda t: (place[t.opening], t.side))
    )
    pads = tuple(
        replace(pad, number=(n := next(numbers)), id=f"pad.{n}")
        for pad in sorted(draft.pads, key=lambda p: p.x)
    )
    return pads, planed, trims
