"""Why a row cannot be set: the smallest set of demands that clash, and the least change that cures it.

The demands are rows of a linear program in the level lines of the rows and the places of the units. HiGHS
names an irreducible infeasible subset; then each of its demands is given way alone, as little as will do.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.job import HeadLine, Job
from sillwright.lengths import show
from sillwright.setting.choose import RowSeats, Seat
from sillwright.setting.lines import _highest, _lowest
from sillwright.setting.model import Conflict, Demand
from sillwright.setting.program import INFINITY, Program


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """A demand as a linear row, with the words for it and for giving way."""

    name: str
    text: str
    give: str
    """How to give way, with `{}` for the amount."""
    terms: tuple[tuple[str, float], ...]
    low: float = -INFINITY
    high: float = INFINITY


def conflicts(job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], first: int) -> tuple[Conflict, ...]:
    """Return the conflict of a group of rows; empty where the demands do not clash by themselves."""
    asked = [demand for number, row in enumerate(rows) for seat in row.seats for demand in _heights(job, number, row, seat)]
    asked += [demand for k, head_line in enumerate(head_lines) for demand in _tops(job, rows, head_line, k)]
    found = []
    clash = _irreducible(asked)
    if clash:
        found.append(_conflict(job, rows, clash, first))
    return tuple(found)


def side_conflict(job: Job, row: RowSeats, seat: Seat, number: int) -> Conflict:
    """Return the conflict of a unit that is too wide for its opening."""
    asked = _sides(job, seat)
    return _conflict(job, (row,), asked, number)


def _conflict(job: Job, rows: tuple[RowSeats, ...], clash: list[_Asked], number: int) -> Conflict:
    gives = [(give, demand) for demand in clash if (give := _least_slack(clash, demand)) is not None]
    by = min(give for give, _ in gives)
    ways = [demand.give.format(show(give, unit=job.units, graduation=_fine(job), mark=True)) for give, demand in gives]
    names = {demand.name.split(".")[0] for demand in clash}
    hit = [row for row in rows if any(s.name in names for s in row.seats)] or list(rows)
    return Conflict(
        id=f"conflict.{number}",
        row=", ".join(hit[0].row.openings),
        openings=tuple(sorted(names)),
        demands=tuple(Demand(name=demand.name, text=demand.text) for demand in clash),
        cure="Any one of: " + "; ".join(ways) + ".",
        by=by,
    )


def _fine(job: Job) -> float:
    return 1 / 32 if job.units == "in" else 1.0


def _heights(job: Job, number: int, row: RowSeats, seat: Seat) -> list[_Asked]:
    kit, unit, name = job.kit, seat.bearings.unit, seat.name
    line = f"line {number}" if row.row.step == "never" else f"line {number} {name}"
    highest, lowest = _highest(seat.bearings), _lowest(seat.bearings)

    def say(length: float) -> str:
        return show(length, unit=job.units, graduation=_fine(job), mark=True)

    found = [
        _Asked(
            name=f"{name}.planing",
            text=f"plane the sill of {name} by at most {say(kit.planing_max)}; its high point is {say(highest)} up",
            give=f"plane {{}} more at {name}",
            terms=((line, 1.0),),
            low=highest - kit.planing_max,
        ),
        _Asked(
            name=f"{name}.pad",
            text=f"pads of at most {say(kit.largest_pad)}; the low point of {name} is {say(lowest)} up",
            give=f"allow pads {{}} thicker at {name}",
            terms=((line, 1.0),),
            high=lowest + kit.largest_pad,
        ),
    ]
    if seat.room.highest_line < float("inf"):
        found.append(
            _Asked(
                name=f"{name}.head",
                text=f"a unit {say(unit.frame_height)} high with {say(unit.least_head_clearance)} head clearance on "
                f"{say(kit.stack_above_line)} of strip and membranes in {name}",
                give=f"a unit {{}} lower, or as much less stack or head clearance, in {name}",
                terms=((line, 1.0),),
                high=seat.room.highest_line,
            )
        )
    return found


def _tops(job: Job, rows: tuple[RowSeats, ...], head_line: HeadLine, k: int) -> list[_Asked]:
    of = {seat.name: (number, row, seat) for number, row in enumerate(rows) for seat in row.seats}
    found = []
    for a, b in zip(head_line.openings, head_line.openings[1:], strict=False):
        if a not in of or b not in of:
            continue
        lines, heights = [], []
        for name in (a, b):
            number, row, seat = of[name]
            lines.append(f"line {number}" if row.row.step == "never" else f"line {number} {name}")
            heights.append(seat.bearings.unit.frame_height)
        if lines[0] == lines[1]:
            continue
        off = heights[0] - heights[1]
        within = show(head_line.within, unit=job.units, graduation=_fine(job), mark=True)
        found.append(
            _Asked(
                name=f"{a}.head line {k + 1}",
                text=f"tops of {a} and {b} within {within}",
                give=f"let the tops of {a} and {b} differ by {{}} more",
                terms=((lines[0], 1.0), (lines[1], -1.0)),
                low=-head_line.within - off,
                high=head_line.within - off,
            )
        )
    return found


def _sides(job: Job, seat: Seat) -> list[_Asked]:
    room, unit, name, trim = seat.sides, seat.bearings.unit, seat.name, job.kit.trim_max
    assert room is not None  # noqa: S101 (only seats with sides are asked)

    def say(length: float) -> str:
        return show(length, unit=job.units, graduation=_fine(job), mark=True)

    return [
        _Asked(
            name=f"{name}.left",
            text=f"{say(unit.least_side_clearance)} clearance at the left jack of {name}",
            give=f"take {{}} off the left jack of {name} or off its clearance",
            terms=((f"place {name}", 1.0),),
            low=room.left + unit.least_side_clearance - trim,
        ),
        _Asked(
            name=f"{name}.right",
            text=f"a unit {say(unit.frame_width)} wide in {name}, with {say(unit.least_side_clearance)} clearance at "
            "the right jack",
            give=f"a unit {{}} narrower in {name}, or as much off the right jack or its clearance",
            terms=((f"place {name}", 1.0),),
            high=room.right - unit.least_side_clearance - unit.frame_width + trim,
        ),
    ]


def _program(asked: list[_Asked], given: _Asked | None) -> tuple[Program, int | None]:
    program = Program()
    columns: dict[str, int] = {}
    slack = program.variable(cost=1.0) if given is not None else None
    for demand in asked:
        terms = []
        for key, coefficient in demand.terms:
            if key not in columns:
                columns[key] = program.variable(low=-INFINITY)
            terms.append((columns[key], coefficient))
        low_slack = [(slack, 1.0)] if slack is not None and demand is given and demand.low > -INFINITY else []
        high_slack = [(slack, -1.0)] if slack is not None and demand is given and demand.high < INFINITY else []
        if demand.low > -INFINITY:
            program.row([*terms, *low_slack], low=demand.low, name=demand.name)
        if demand.high < INFINITY:
            program.row([*terms, *high_slack], high=demand.high, name=demand.name)
    return program, slack


def _irreducible(asked: list[_Asked]) -> list[_Asked]:
    program, _ = _program(asked, None)
    if not asked or program.solve() is not None:
        return []
    names = program.conflict()
    return [demand for demand in asked if demand.name in names]


def _least_slack(clash: list[_Asked], given: _Asked) -> float | None:
    """Return by how much one demand must give way for the rest to hold; None: that does not help."""
    program, slack = _program(clash, given)
    answer = program.solve()
    return None if answer is None or slack is None else float(answer.x[slack])
