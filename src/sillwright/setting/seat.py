"""A unit in its opening, and a row of them, as the choice of line and places needs them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sillwright.job import Job, Row, UnitToSet
from sillwright.lengths import from_unit
from sillwright.setting.bearing import Bearings, bearings, heights
from sillwright.setting.lines import (
    HeadRoom,
    LineCosts,
    candidate_lines,
    finer_lines,
    head_room,
    line_costs,
)
from sillwright.setting.room import jack_points
from sillwright.setting.size import free_width, spare_width
from sillwright.setting.stock import Stock
from sillwright.survey import Profile, Wall

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Room for one unit between its jacks."""

    left: float
    """Rightmost point of the left jack within the unit's height [in]."""
    right: float
    left_proud: float
    """How far that point stands out from the jack's mean face [in]."""
    right_proud: float
    wanted: float
    """Room to spare at which the unit fits as surely as asked, beyond what it needs on average [in]."""


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
    lines: Floats

    @property
    def may_step(self) -> bool:
        """Tell whether the openings may lie on different lines."""
        return self.row.step == "allowed" and len(self.seats) > 1


def seats_of(job: Job, wall: Wall, stock: Stock, row: Row, *, mind_heads: bool = True) -> RowSeats:
    """Return the seats of a row on the tape's marks.

    Args: mind_heads: False leaves head room out, to see where a line could lie without it
    """
    units = [next(u for u in job.unit if u.opening == name) for name in row.openings]
    borne = [_borne(job, wall, unit) for unit in units]
    none = np.zeros(0)
    free = HeadRoom(highest=none, sd=none, lowest=-np.inf)
    rooms = [head_room(wall, job.kit, b) if mind_heads else free for b in borne]
    groups = [[b] for b in borne] if row.step == "allowed" else [borne]
    lines = candidate_lines(groups, job.kit, job.tolerances, unit=job.units)
    seats = tuple(
        Seat(
            costs=line_costs(b, lines, kit=job.kit, tolerances=job.tolerances, stock=stock, room=room),
            room=room,
            sides=_sides(job, wall, b),
            faces=_faces(wall, b),
        )
        for b, room in zip(borne, rooms, strict=True)
    )
    return RowSeats(row=row, seats=seats, lines=lines)


def farther(job: Job, stock: Stock, row: RowSeats) -> RowSeats:
    """Return the row with lines as high as pads can be built."""
    return on_lines(
        job, stock, row, candidate_lines(_groups(row), job.kit, job.tolerances, unit=job.units, far=True)
    )


def _groups(row: RowSeats) -> list[list[Bearings]]:
    borne = [seat.bearings for seat in row.seats]
    return [[b] for b in borne] if row.may_step else [borne]


def finer(job: Job, stock: Stock, row: RowSeats, tops: list[float]) -> RowSeats:
    """Return the row with lines between the tape's marks too.

    Args: tops: lines that head lines would ask for [in]
    """
    rooms = [seat.room for seat in row.seats]
    return on_lines(
        job, stock, row, finer_lines(_groups(row), job.kit, job.tolerances, rooms, tops, unit=job.units)
    )


def on_lines(job: Job, stock: Stock, row: RowSeats, lines: Floats) -> RowSeats:
    """Return the row with other candidate lines."""
    seats = tuple(
        Seat(
            costs=line_costs(
                seat.bearings, lines, kit=job.kit, tolerances=job.tolerances, stock=stock, room=seat.room
            ),
            room=seat.room,
            sides=seat.sides,
            faces=seat.faces,
        )
        for seat in row.seats
    )
    return RowSeats(row=row.row, seats=seats, lines=lines)


def _borne(job: Job, wall: Wall, unit: UnitToSet) -> Bearings:
    """Return where a unit bears; one not yet ordered takes the width that its opening allows."""
    grid = from_unit(10, "mm") if job.units == "mm" else 0.5
    asked = bearings(wall, job.kit, unit, grid=grid)
    width = free_width(job, wall, asked)
    if width == unit.frame_width:
        return asked
    return bearings(wall, job.kit, unit.model_copy(update={"frame_width": width}), grid=grid)


def _sides(job: Job, wall: Wall, bearings: Bearings) -> Sides | None:
    """Return the room between the jacks of a unit's opening; None where no width was taped."""
    net, unit = bearings.net, bearings.unit
    if net.left is None or net.right is None:
        return None

    def points(*faces: Profile | None) -> Floats:
        return wall.values([face.at(h) for h, face in jack_points(net, unit, *faces)])

    lefts, rights = points(net.left, net.left_inner), points(net.right, net.right_inner)
    left, right = float(lefts.max()), float(rights.min())
    # only where jacks may be cut does the odds' spread decide anything here
    wanted = spare_width(job, wall, bearings) if job.kit.trim_max > 0.0 else 0.0
    return Sides(
        left=left,
        right=right,
        left_proud=left - float(lefts.mean()),
        right_proud=float(rights.mean()) - right,
        wanted=wanted,
    )


def _faces(wall: Wall, bearings: Bearings) -> tuple[tuple[float, float, float], ...] | None:
    """Return (x, height, y) of the sheathing at bottom left, bottom right, top left and top right."""
    net, unit = bearings.net, bearings.unit
    if net.left_out is None or net.right_out is None:
        return None
    ends = ((bearings.left, net.left_out), (bearings.left + unit.frame_width, net.right_out))
    up = np.array([0.0, unit.frame_height])
    low_high = [heights(wall, face, up) for _, face in ends]
    return tuple((x, float(up[k]), float(low_high[s][k])) for k in (0, 1) for s, (x, _) in enumerate(ends))
