"""Why a row cannot be set: the smallest set of demands that clash, and the least change that cures it.

Every demand bounds a level line, a place, or the difference of two; `bounds` finds a smallest set of them
that clashes. Least changes are found by linear programs over all demands.
"""

from __future__ import annotations

from typing import Literal

from sillwright.bounds import Bound, arcs
from sillwright.bounds import smallest_clash as bounds_clash
from sillwright.job import HeadLine, Job
from sillwright.program import INFINITY, Program
from sillwright.setting.demands import Asked, heights_asked, loose_head_asked, loose_sides_asked, sides_asked
from sillwright.setting.model import Conflict, Demand
from sillwright.setting.seat import RowSeats, Seat
from sillwright.setting.words import enough

BOUND_NOISE = 1e-7
"""Less than this is met [in]."""


def height_conflict(
    job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...], number: int
) -> Conflict | None:
    """Return the conflict of a group of rows; None where its demands do not clash by themselves."""
    asked = heights_asked(job, rows, head_lines)
    return _conflict(job, rows, asked, number)


def loose_conflicts(
    job: Job,
    rows: tuple[RowSeats, ...],
    head_lines: tuple[HeadLine, ...],
    seat: Seat,
    wrong: frozenset[Literal["wide", "narrow", "low"]],
    first: int,
) -> list[Conflict]:
    """Return the conflicts of a unit that is set as nearly as it can be: too wide, too narrow or too low."""
    tried: list[list[Asked]] = []
    if "wide" in wrong:
        tried.append(sides_asked(job, seat))
    elif "narrow" in wrong:
        tried.append(sides_asked(job, seat) + loose_sides_asked(job, seat))
    if "low" in wrong:
        tried.append(heights_asked(job, rows, head_lines) + loose_head_asked(job, rows, seat))
    found: list[Conflict] = []
    for asked in tried:
        conflict = _conflict(job, rows, asked, first + len(found))
        if conflict is not None:
            found.append(conflict)
    return found


def _conflict(job: Job, rows: tuple[RowSeats, ...], asked: list[Asked], number: int) -> Conflict | None:
    clash = smallest_clash(asked)
    if not clash:
        return None
    names = {name for demand in clash for name in demand.openings}
    hit = [row for row in rows if any(seat.name in names for seat in row.seats)]
    cure, by = _cure(job, asked, clash)
    return Conflict(
        id=f"conflict.{number}",
        openings=tuple(sorted(names)),
        in_rows=tuple(tuple(row.row.openings) for row in hit),
        demands=tuple(Demand(name=demand.name, text=demand.text) for demand in clash),
        cure=cure,
        by=by,
    )


def _cure(job: Job, asked: list[Asked], clash: list[Asked]) -> tuple[str, float]:
    """Return the least change in words and its amount: one demand alone if that will do, else several."""
    alone = [(give, demand) for demand in clash if (give := least_change(asked, [demand])) is not None]
    if alone:
        # the same wish of several openings, or a limit that holds for all of them, is said once
        ways = dict.fromkeys(demand.give.format(enough(sum(give), job.units)) for give, demand in alone)
        said = "; ".join(ways)
        return (f"Any one of: {said}." if len(ways) > 1 else f"{said[0].upper()}{said[1:]}."), min(
            sum(give) for give, _ in alone
        )
    gives = least_change(asked, asked)
    if gives is None:
        return "No change of a single demand cures it.", 0.0
    parts = [
        demand.give.format(enough(give, job.units))
        for give, demand in zip(gives, asked, strict=True)
        if give > BOUND_NOISE
    ]
    return "All of: " + "; ".join(parts) + ".", float(sum(gives))


def smallest_clash(asked: list[Asked]) -> list[Asked]:
    """Return a smallest set of demands that cannot all be met; empty where all can."""
    bounds = [
        bound
        for k, demand in enumerate(asked)
        for bound in (
            Bound(demand.minus, demand.plus, demand.high, k),
            Bound(demand.plus, demand.minus, -demand.low, k),
        )
    ]
    names = sorted({bound.start for bound in bounds})
    loop, _ = bounds_clash(arcs(names, bounds), noise=BOUND_NOISE)
    return [asked[k] for k in sorted(set(loop))]


def least_change(asked: list[Asked], giving: list[Asked]) -> list[float] | None:
    """Return by how much each of `giving` must give way for all to be met, least in sum.

    None: that does not help.
    """
    program = Program()
    columns: dict[str, int] = {}
    slack = {demand.name: program.variable(cost=1.0) for demand in giving}
    for demand in asked:
        terms = []
        for key, sign in ((demand.plus, 1.0), (demand.minus, -1.0)):
            if key:
                if key not in columns:
                    columns[key] = program.variable(low=-INFINITY)
                terms.append((columns[key], sign))
        give = [(slack[demand.name], 1.0)] if demand.name in slack else []
        take = [(column, -1.0) for column, _ in give]
        if demand.low > -INFINITY:
            program.row([*terms, *give], low=demand.low)
        if demand.high < INFINITY:
            program.row([*terms, *take], high=demand.high)
    answer = program.solve()
    return None if answer is None else [float(answer.x[slack[demand.name]]) for demand in giving]
