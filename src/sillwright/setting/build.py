"""From the adjusted wall to the setting plan: lines, pads, planing, places, sizes, alternatives."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sillwright.job import HeadLine, Job, Row, UnitToSet
from sillwright.lengths import from_unit
from sillwright.setting.acts import acts_of
from sillwright.setting.bearing import Bearings, bearings
from sillwright.setting.choose import Chosen, Kind, RowSeats, Seat, choose, faces, kind_of, sides
from sillwright.setting.conflict import conflicts, side_conflict
from sillwright.setting.cuts import cuts_of, stock_use
from sillwright.setting.fit import Seated, clearances, fit, margins, needs
from sillwright.setting.lines import candidate_lines, head_room, line_costs, steps_to
from sillwright.setting.model import (
    Conflict,
    Corner,
    Demand,
    Edge,
    Line,
    Option,
    OrderSize,
    Pad,
    Place,
    PlanedRun,
    RowPlan,
    Setting,
    Trim,
    UnitPosition,
)
from sillwright.setting.options import OBJECTIVE, option_of
from sillwright.setting.reshoot import reshoot
from sillwright.setting.size import free_width, order_size
from sillwright.setting.stock import Stock, describe, stock_of
from sillwright.survey import Survey, Wall, plus

MARKS = {"in": 1 / 16, "mm": from_unit(1, "mm")}
"""Places along the wall are multiples of this [in]."""
ALTERNATIVES = 2


@dataclass(slots=True)
class _Draft:
    """What has been decided so far; numbers are given at the end, from left to right."""

    rows: list[RowPlan]
    pads: list[Pad]
    planed: list[PlanedRun]
    trims: list[Trim]
    units: list[UnitPosition]
    options: list[Option]
    sizes: list[OrderSize]
    conflicts: list[Conflict]


def set_wall(job: Job, wall: Wall, survey: Survey) -> Setting:
    """Return the setting plan of a wall."""
    stock = stock_of(job.kit, job.units)
    draft = _Draft([], [], [], [], [], [], [], [])
    for group, head_lines in _groups(job, wall):
        _set_group(job, wall, stock, group, head_lines, draft)
    pads, planed, trims = _numbered(draft)
    return Setting(
        rows=tuple(draft.rows),
        pads=pads,
        planed=planed,
        trims=trims,
        units=tuple(draft.units),
        options=tuple(draft.options),
        order_sizes=tuple(draft.sizes),
        conflicts=tuple(draft.conflicts),
        reshoot=reshoot(job, survey, pads, tuple(draft.rows)),
        stock=stock_use(job.kit, pads),
        cuts=cuts_of(job, wall, pads, tuple(draft.units)),
        acts=acts_of(job, pads, planed, trims, tuple(draft.units), tuple(draft.rows)),
        objective=OBJECTIVE,
    )


def _groups(job: Job, wall: Wall) -> list[tuple[list[Row], tuple[HeadLine, ...]]]:
    """Return rows with units that can be levelled, those tied by a head line together."""
    units = {u.opening for u in job.unit}
    able = {name for name, net in wall.openings.items() if net.level_known and name in units}
    listed = {name for row in job.row for name in row.openings}
    rows = [Row(openings=tuple(n for n in row.openings if n in able), step=row.step) for row in job.row if able & {*row.openings}]
    rows += [Row(openings=(u.opening,)) for u in job.unit if u.opening in able and u.opening not in listed]
    groups: list[tuple[list[Row], list[HeadLine]]] = [([row], []) for row in rows]
    for head_line in job.head_line:
        touched = [g for g in groups if any({*row.openings} & {*head_line.openings} for row in g[0])]
        if not touched:
            continue
        merged = ([row for g in touched for row in g[0]], [*(h for g in touched for h in g[1]), head_line])
        groups = [g for g in groups if g not in touched] + [merged]
    return [(rows, tuple(head_lines)) for rows, head_lines in groups]


def _set_group(
    job: Job, wall: Wall, stock: Stock, rows: list[Row], head_lines: tuple[HeadLine, ...], draft: _Draft
) -> None:
    seated = tuple(_seats(job, wall, stock, row) for row in rows)
    chosen = choose(seated, head_lines, kit=job.kit, tolerances=job.tolerances, grid=MARKS[job.units])
    if chosen is None:
        _no_way(job, stock, seated, head_lines, draft)
        return
    for number, row in enumerate(seated):
        base = len(draft.rows) + 1
        stack = job.kit.stack_above_line
        draft.rows.append(_row_plan(wall, row, chosen, stepped=chosen.stepped[number], stack=stack, number=base))
        ways = [(chosen, True), *((way, False) for way in _alternatives(job, seated, head_lines, number, chosen))]
        draft.options += [
            option_of(job.units, row, way, ident=f"option.{base}.{k + 1}", chosen=first, against=chosen)
            for k, (way, first) in enumerate(ways)
        ]
        for seat in row.seats:
            _set_unit(job, wall, stock, row, seat, chosen, draft)
            if seat.name in chosen.too_wide:
                draft.conflicts.append(side_conflict(job, row, seat, len(draft.conflicts) + 1))


def _seats(job: Job, wall: Wall, stock: Stock, row: Row) -> RowSeats:
    units = [next(u for u in job.unit if u.opening == name) for name in row.openings]
    borne = [_borne(job, wall, unit) for unit in units]
    rooms = [head_room(wall, job.kit, b) for b in borne]
    lines = candidate_lines(borne, job.kit, rooms, step=stock.step)
    seats = tuple(
        Seat(
            costs=line_costs(b, lines, kit=job.kit, tolerances=job.tolerances, stock=stock, room=room),
            room=room,
            sides=sides(wall, b),
            faces=faces(wall, b),
        )
        for b, room in zip(borne, rooms, strict=True)
    )
    return RowSeats(row=row, seats=seats, lines=lines)


def _borne(job: Job, wall: Wall, unit: UnitToSet) -> Bearings:
    """Return where a unit bears; one not yet ordered takes the width that its opening allows."""
    grid = from_unit(10, "mm") if job.units == "mm" else 0.5
    asked = bearings(wall, job.kit, unit, grid=grid)
    width = free_width(job, wall, asked)
    if width == unit.frame_width:
        return asked
    return bearings(wall, job.kit, unit.model_copy(update={"frame_width": width}), grid=grid)


def _alternatives(
    job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], number: int, chosen: Chosen
) -> list[Chosen]:
    """Return the next best ways to set a row that differ in kind from the chosen one and from each other."""
    found: list[Chosen] = []
    without = {(number, kind_of(rows[number], chosen))}
    while len(found) < ALTERNATIVES:
        way = choose(
            rows, head_lines, kit=job.kit, tolerances=job.tolerances, grid=MARKS[job.units],
            without=frozenset(without), lines_only=True,
        )  # fmt: skip
        if way is None:
            break
        kind = (number, kind_of(rows[number], way))
        if kind in without:
            break
        without.add(kind)
        found.append(way)
    return found


def _no_way(
    job: Job, stock: Stock, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], draft: _Draft
) -> None:
    found = conflicts(job, rows, head_lines, len(draft.conflicts) + 1)
    if not found:
        names = tuple(seat.name for row in rows for seat in row.seats)
        demand = Demand(name="stock", text="pads made from the shims on hand within their tolerance")
        found = (
            Conflict(
                id=f"conflict.{len(draft.conflicts) + 1}",
                row=", ".join(names),
                openings=names,
                demands=(demand,),
                cure="Add a thinner shim to the stock, or allow a pad to miss the line by more.",
                by=stock.step / 2.0,
            ),
        )
    draft.conflicts += found


def _row_plan(wall: Wall, row: RowSeats, chosen: Chosen, *, stepped: bool, stack: float, number: int) -> RowPlan:
    places = [place for seat in row.seats for place in _sill_places(wall, seat.bearings)]
    heights: dict[float, list[str]] = {}
    for seat in row.seats:
        heights.setdefault(float(row.lines[chosen.line_index[seat.name]]), []).append(seat.name)
    return RowPlan(
        id=f"row.{number}",
        openings=row.row.openings,
        lines=tuple(
            Line(
                id=f"line.{number}" + (f".{k + 1}" if len(heights) > 1 else ""),
                openings=tuple(names),
                z=z,
                unit_bottom=z + stack,
            )
            for k, (z, names) in enumerate(heights.items())
        ),
        stepped=stepped,
        low_end=min(places, key=lambda p: (p.z, p.x)),
        high_point=max(places, key=lambda p: (p.z, -p.x)),
    )


def _sill_places(wall: Wall, b: Bearings) -> list[Place]:
    edges: list[tuple[Edge, object]] = [("outer", b.net.sill), ("inner", b.net.sill_inner)]
    return [
        Place(opening=b.unit.opening, x=float(x), edge=edge, z=wall.value(profile.at(x)), sd=wall.sd(profile.at(x)))
        for edge, profile in edges
        if profile is not None
        for x in b.along
    ]  # type: ignore[attr-defined]


def _set_unit(
    job: Job, wall: Wall, stock: Stock, row: RowSeats, seat: Seat, chosen: Chosen, draft: _Draft
) -> None:
    b, line = seat.bearings, float(row.lines[chosen.line_index[seat.name]])
    pads = _pads(job, wall, stock, b, line)
    draft.pads += [pad for pad in pads if pad.front > 0 or (pad.back or 0.0) > 0]
    draft.planed += _planed(b, line, job.tolerances.pad)
    trimmed = {side: cut for (name, side), cut in chosen.trimmed.items() if name == seat.name}
    draft.trims += [
        Trim(id=f"trim.{seat.name}.{side}", number=0, opening=seat.name, side=side, amount=cut)  # type: ignore[arg-type]
        for side, cut in trimmed.items()
    ]
    corners = _corners(wall, seat, chosen)
    asked = next(u for u in job.unit if u.opening == seat.name)
    size = order_size(job, wall, b, asked, line=line, corners=corners, trimmed=sum(trimmed.values()))
    draft.sizes.append(size)
    seat = _to_order(seat, size)
    draft.units.append(_position(job, wall, seat, chosen, line, trimmed, pads, corners))


def _to_order(seat: Seat, size: OrderSize) -> Seat:
    """Give a unit not yet ordered the height that fits on the chosen line, where the asked one does not."""
    unit, asked, largest = seat.bearings.unit, size.asked, size.largest
    if unit.ordered or asked is None or largest is None or asked.probability >= size.wanted_probability:
        return seat
    height = min(largest.height, unit.frame_height)
    width = min(largest.width, unit.frame_width)
    b = replace(seat.bearings, unit=unit.model_copy(update={"frame_width": width, "frame_height": height}))
    return replace(seat, costs=replace(seat.costs, bearings=b))


def _pads(job: Job, wall: Wall, stock: Stock, b: Bearings, line: float) -> list[Pad]:
    lines = np.array([line])
    front_steps, _ = steps_to(lines, b.front, stock.step)
    back = b.front if b.back is None else b.back
    back_steps, _ = steps_to(lines, back, stock.step)
    pads = []
    for i, x in enumerate(b.x):
        front, behind = int(front_steps[0, i]), int(back_steps[0, i])
        pieces = stock.make_up(front, behind)
        pads.append(
            Pad(
                id="",
                number=0,
                opening=b.unit.opening,
                x=float(x),
                why=b.why[i],  # type: ignore[arg-type]
                front=front * stock.step,
                back=None if b.back is None else behind * stock.step,
                pieces=pieces,
                make_up=describe(pieces, job.units),
                front_miss=_miss(b.front[i], front * stock.step, line),
                back_miss=None if b.back is None else _miss(b.back[i], behind * stock.step, line),
                sd=wall.sd(b.front_forms[i]),
            )
        )
    return pads


def _miss(sill: float, pad: float, line: float) -> float:
    """Return the pad's top less the line; sill above the line is planed to it."""
    return float(min(sill, line) + pad - line) if pad == 0.0 and sill > line else float(sill + pad - line)


def _planed(b: Bearings, line: float, tolerance: float) -> list[PlanedRun]:
    runs = []
    edges: list[tuple[Edge, np.ndarray[tuple[int], np.dtype[np.float64]] | None]] = [
        ("outer", b.along_front),
        ("inner", b.along_back),
    ]
    for edge, sill in edges:
        if sill is None:
            continue
        high = np.flatnonzero(sill - line > tolerance)
        for run in np.split(high, np.flatnonzero(np.diff(high) > 1) + 1) if len(high) else []:
            deepest = int(run[np.argmax(sill[run])])
            runs.append(
                PlanedRun(
                    id="",
                    number=0,
                    opening=b.unit.opening,
                    edge=edge,
                    start=_crossing(b.along, sill, line, int(run[0]), -1),
                    end=_crossing(b.along, sill, line, int(run[-1]), +1),
                    deepest=float(sill[deepest] - line),
                    deepest_x=float(b.along[deepest]),
                )
            )
    return runs


def _crossing(
    x: np.ndarray[tuple[int], np.dtype[np.float64]],
    sill: np.ndarray[tuple[int], np.dtype[np.float64]],
    line: float,
    i: int,
    way: int,
) -> float:
    """Return where the sill comes down to the line beyond point i, or the end of what the unit covers."""
    j = i + way
    if not 0 <= j < len(x):
        return float(x[i])
    share = (sill[i] - line) / max(sill[i] - sill[j], 1e-9)
    return float(x[i] + (x[j] - x[i]) * min(max(share, 0.0), 1.0))


def _position(
    job: Job,
    wall: Wall,
    seat: Seat,
    chosen: Chosen,
    line: float,
    trimmed: dict[str, float],
    pads: list[Pad],
    corners: tuple[Corner, ...],
) -> UnitPosition:
    b, unit = seat.bearings, seat.bearings.unit
    left = chosen.left.get(seat.name)
    found = margins(wall, job.kit, Seated(bearings=b, left=left, line=line, trimmed=trimmed))
    rooms = clearances(wall, unit, found)
    asked = needs(wall, job.kit, b, line=line, trimmed=sum(trimmed.values()))
    at = left if left is not None else round(b.left / MARKS[job.units]) * MARKS[job.units]
    bottom = line + job.kit.stack_above_line
    spread = plus((1.0, b.front_forms[-1]), (-1.0, b.front_forms[0]))
    ends = abs(pads[-1].front_miss - pads[0].front_miss) + 1.96 * wall.sd(spread)
    misses = [m for pad in pads for m in (pad.front_miss, pad.back_miss) if m is not None]
    gap = _cross_leg(seat)
    return UnitPosition(
        id=f"unit.{seat.name}",
        opening=seat.name,
        kind=unit.kind,
        left=at,
        right=at + unit.frame_width,
        bottom=bottom,
        top=bottom + unit.frame_height,
        width=unit.frame_width,
        height=unit.frame_height,
        position_known=left is not None and b.net.position_known,
        left_clearance=rooms.get("left"),
        right_clearance=rooms.get("right"),
        head_clearance=rooms.get("head"),
        fit=fit(wall, asked, net=b.net),
        corners=corners,
        out_of_level=max(misses) - min(misses),
        out_of_level_95=ends,
        cross_leg=gap,
        largest_out_of_plane=unit.largest_out_of_plane,
    )


def _cross_leg(seat: Seat) -> float | None:
    if seat.faces is None:
        return None
    (_, _, bl), (_, _, br), (_, _, tl), (_, _, tr) = seat.faces
    return (bl + tr - br - tl) / 2.0


def _corners(wall: Wall, seat: Seat, chosen: Chosen) -> tuple[Corner, ...]:
    net, unit = seat.bearings.net, seat.bearings.unit
    names = ("bottom_left", "bottom_right", "top_left", "top_right")
    plane = chosen.plane.get(seat.name)
    found = []
    for k, name in enumerate(names):
        fur = extension = sd = None
        if plane is not None and seat.faces is not None:
            x, h, y = seat.faces[k]
            fur = max(y - (plane[0] + plane[1] * x + plane[2] * h), 0.0)
        if name in net.thickness and unit.jamb_depth is not None:
            form = ((net.thickness[name], 1.0),)
            extension = wall.value(form) + (fur or 0.0) - unit.jamb_depth
            sd = wall.sd(form)
        found.append(Corner(corner=name, fur_out=fur, extension=extension, sd=sd))  # type: ignore[arg-type]
    return tuple(found)


def _numbered(draft: _Draft) -> tuple[tuple[Pad, ...], tuple[PlanedRun, ...], tuple[Trim, ...]]:
    """Number planing first, then jacks cut back, then pads, each from left to right: the order of work."""
    numbers = iter(range(1, 10_000))
    planed = tuple(
        replace(run, number=(n := next(numbers)), id=f"plane.{n}")
        for run in sorted(draft.planed, key=lambda r: (r.start, r.edge))
    )
    trims = tuple(replace(t, number=next(numbers)) for t in draft.trims)
    pads = tuple(
        replace(pad, number=(n := next(numbers)), id=f"pad.{n}") for pad in sorted(draft.pads, key=lambda p: p.x)
    )
    return pads, planed, trims
