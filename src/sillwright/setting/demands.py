"""What is asked of a plan, as bounds on level lines and places that can clash with each other."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.job import HeadLine, Job
from sillwright.program import INFINITY
from sillwright.setting.lines import below
from sillwright.setting.seat import RowSeats, Seat
from sillwright.setting.words import small


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One demand: low <= plus - minus <= high, where both are lines or places and minus may be absent."""

    name: str
    text: str
    give: str
    """How to give way, with `{}` for the amount."""
    plus: str
    minus: str = ""
    low: float = -INFINITY
    high: float = INFINITY

    @property
    def openings(self) -> tuple[str, ...]:
        """Return the openings it is asked of: the name up to its first colon."""
        return tuple(self.name.partition(": ")[0].split(" + "))


def heights_asked(job: Job, rows: tuple[RowSeats, ...], head_lines: tuple[HeadLine, ...]) -> list[Asked]:
    """Return the demands on the level lines of rows that depend on each other."""
    found = [
        demand
        for k, row in enumerate(rows)
        for seat in row.seats
        for demand in _line(job, _key(k, row, seat), seat)
    ]
    for head_line in head_lines:
        found += _tops(job, rows, head_line)
    return found


def _key(number: int, row: RowSeats, seat: Seat) -> str:
    return f"line {number} {seat.name}" if row.may_step else f"line {number}"


def _line(job: Job, line: str, seat: Seat) -> list[Asked]:
    kit, unit, b, name = job.kit, seat.bearings.unit, seat.bearings, seat.name

    def say(length: float) -> str:
        return small(length, job.units)

    planing = f"at most {say(kit.planing_max)} planed off" if kit.planing_max > 0.0 else "no planing of"
    found = [
        Asked(
            name=f"{name}: planing",
            text=f"{planing} the sill of {name}, whose high point is {say(b.highest)} above the datum",
            give=f"plane {{}} more off the sill of {name}",
            plus=line,
            low=b.highest - below(kit, job.tolerances),
        ),
        Asked(
            name=f"{name}: pads",
            text=f"pads of at most {say(kit.largest_pad)} in {name}, "
            f"whose low point is {say(b.lowest)} above the datum",
            give=f"allow pads {{}} thicker in {name}",
            plus=line,
            high=b.lowest + kit.largest_pad + job.tolerances.pad,
        ),
    ]
    if seat.room.highest_line < INFINITY:
        found.append(
            Asked(
                name=f"{name}: head",
                text=f"{say(unit.least_head_clearance)} clearance over a unit {say(unit.frame_height)} high "
                f"on {say(kit.stack_above_line)} of strip and membranes in {name}",
                give=f"a unit {{}} lower, or as much less stack or head clearance, in {name}",
                plus=line,
                high=seat.room.highest_line,
            )
        )
    return found


def _tops(job: Job, rows: tuple[RowSeats, ...], head_line: HeadLine) -> list[Asked]:
    of = {seat.name: (_key(k, row, seat), seat) for k, row in enumerate(rows) for seat in row.seats}
    names = [name for name in head_line.openings if name in of]
    within = small(head_line.within, job.units)
    return [
        Asked(
            name=f"{a} + {b}: head line",
            text=f"tops of {a} and {b} within {within} of each other" + _on_one_line(job, of[a], of[b]),
            give=f"let the tops of {a} and {b} differ by {{}} more",
            plus=of[a][0],
            minus=of[b][0],
            low=-head_line.within - off,
            high=head_line.within - off,
        )
        for i, a in enumerate(names)
        for b in names[i + 1 :]
        for off in [of[a][1].bearings.unit.frame_height - of[b][1].bearings.unit.frame_height]
    ]


def _on_one_line(job: Job, a: tuple[str, Seat], b: tuple[str, Seat]) -> str:
    """Say why tops differ where both units stand on one line."""
    if a[0] != b[0]:
        return ""
    high = [small(seat.bearings.unit.frame_height, job.units) for _, seat in (a, b)]
    return f", though both stand on one line and are {high[0]} and {high[1]} high"


def sides_asked(job: Job, seat: Seat) -> list[Asked]:
    """Return the demands on a unit's place along the wall: it goes in between its jacks."""
    sides, unit, name, trim = seat.sides, seat.bearings.unit, seat.name, job.kit.trim_max
    if sides is None:
        return []
    least = small(unit.least_side_clearance, job.units)
    wide = f"a unit {small(unit.frame_width, job.units)} wide in {name}"
    cut = f" after {small(trim, job.units)} is cut off it" if trim > 0.0 else ""
    return [
        Asked(
            name=f"{name}: left",
            text=f"{least} clearance at the left jack of {name}{cut}",
            give=f"cut {{}} off the left jack of {name}, or off its clearance",
            plus=f"place {name}",
            low=sides.left + unit.least_side_clearance - trim,
        ),
        Asked(
            name=f"{name}: right",
            text=f"{wide}, with {least} clearance at the right jack{cut}",
            give=f"a unit {{}} narrower in {name}, or as much off the right jack or its clearance",
            plus=f"place {name}",
            high=sides.right - unit.least_side_clearance - unit.frame_width + trim,
        ),
    ]


def loose_sides_asked(job: Job, seat: Seat) -> list[Asked]:
    """Return the demands that a unit does not leave more room at its sides than it takes."""
    sides, unit, name = seat.sides, seat.bearings.unit, seat.name
    if sides is None or unit.most_side_clearance is None:
        return []
    most = small(unit.most_side_clearance, job.units)
    wide = f"a unit {small(unit.frame_width, job.units)} wide in {name}"
    return [
        Asked(
            name=f"{name}: most left",
            text=f"at most {most} clearance at the left jack of {name}",
            give=f"pack the left jack of {name} out by {{}}",
            plus=f"place {name}",
            high=sides.left + unit.most_side_clearance,
        ),
        Asked(
            name=f"{name}: most right",
            text=f"{wide}, with at most {most} clearance at the right jack",
            give=f"pack the right jack of {name} out by {{}}, or a unit so much wider",
            plus=f"place {name}",
            low=sides.right - unit.most_side_clearance - unit.frame_width,
        ),
    ]


def loose_head_asked(job: Job, rows: tuple[RowSeats, ...], seat: Seat) -> list[Asked]:
    """Return the demands that a row leaves no more room over a unit than it takes."""
    unit, name = seat.bearings.unit, seat.name
    if unit.most_head_clearance is None:
        return []
    number, row = next((k, row) for k, row in enumerate(rows) if any(s.name == name for s in row.seats))
    return [
        Asked(
            name=f"{name}: most head",
            text=f"at most {small(unit.most_head_clearance, job.units)} clearance over a unit "
            f"{small(unit.frame_height, job.units)} high in {name}",
            give=f"pack the head of {name} down by {{}}, or a unit so much higher",
            plus=_key(number, row, seat),
            low=seat.room.lowest,
        )
    ]
