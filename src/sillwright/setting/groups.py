"""Which rows depend on each other."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.job import HeadLine, Job, Row
from sillwright.survey import Wall


@dataclass(frozen=True, slots=True)
class Group:
    """Rows to be decided together, and the head lines that tie them."""

    rows: tuple[Row, ...]
    head_lines: tuple[HeadLine, ...]


def groups_of(job: Job, wall: Wall) -> list[Group]:
    """Return rows with units that can be levelled, those tied by a head line together.

    A unit in no row is a row of its own; an opening whose sill was not shot cannot be levelled.
    """
    units = {u.opening for u in job.unit}
    able = {name for name, net in wall.openings.items() if net.level_known and name in units}
    listed = {name for row in job.row for name in row.openings}
    rows = [
        Row(openings=tuple(name for name in row.openings if name in able), step=row.step)
        for row in job.row
        if able & {*row.openings}
    ]
    rows += [Row(openings=(u.opening,)) for u in job.unit if u.opening in able and u.opening not in listed]
    return tied(rows, job.head_line)


def tied(rows: list[Row], head_lines: tuple[HeadLine, ...]) -> list[Group]:
    """Return the rows in groups, one for all rows that head lines tie to each other."""
    groups = [Group((row,), ()) for row in rows]
    for head_line in head_lines:
        touched = [g for g in groups if any({*row.openings} & {*head_line.openings} for row in g.rows)]
        if not touched:
            continue
        merged = Group(
            tuple(row for g in touched for row in g.rows),
            (*(h for g in touched for h in g.head_lines), head_line),
        )
        first = groups.index(touched[0])
        groups = [merged if k == first else g for k, g in enumerate(groups) if k == first or g not in touched]
    return groups


def without(group: Group, openings: set[str]) -> list[Group]:
    """Return what is left of a group once the rows of these openings are taken out."""
    rest = [row for row in group.rows if not openings & {*row.openings}]
    kept = {name for row in rest for name in row.openings}
    ties = tuple(
        h.model_copy(update={"openings": names})
        for h in group.head_lines
        if len(names := tuple(n for n in h.openings if n in kept)) > 1
    )
    return tied(rest, ties)
