"""Code and standard tables as rows with a header; lookups name the row used and never extrapolate."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TypeVar

from sillwright.errors import OutOfRange

Row = Mapping[str, str]
_NEEDED = ("source", "scope", "units", "read", "between rows")
_SLACK = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table: where it comes from, what it holds for, its footnotes, its rows."""

    name: str
    source: str
    scope: str
    units: str
    read: str
    between: str
    footnotes: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One value taken from a table, and the row or rows it comes from."""

    value: float
    source: str
    row: str
    """The row used, in words: `joist_span_ft 12`."""
    status: str
    """`read` where the printed value was seen, `memory` where it was not: look it up before building."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestion:
    """A section of a table, with what it may span."""

    size: str
    span: Cell


Found = TypeVar("Found", bound=Suggestion)


@cache
def load_table(name: str) -> Table:
    """Return one table of the folder `data`.

    Raises: ValueError: its header or a row is not complete (a fault of the file, not of the user)
    """
    text = files("sillwright.structure").joinpath(f"data/{name}.csv").read_text(encoding="utf-8")
    lines = text.splitlines()
    head, notes = _header([line[1:].strip() for line in lines if line.startswith("#")])
    rows = tuple(csv.DictReader(line for line in lines if not line.startswith("#")))
    if missing := [key for key in _NEEDED if not head.get(key)]:
        raise ValueError(f"table {name}: the header lacks {', '.join(missing)}")
    if not rows or any(None in row or None in row.values() for row in rows):
        raise ValueError(f"table {name}: a row has too many or too few cells, or there is none")
    return Table(
        name=name,
        source=head["source"],
        scope=head["scope"],
        units=head["units"],
        read=head["read"],
        between=head["between rows"],
        footnotes=notes,
        rows=rows,
    )


def _header(lines: Iterable[str]) -> tuple[dict[str, str], tuple[str, ...]]:
    pairs = [line.partition(": ") for line in lines]
    notes = tuple(value for key, _, value in pairs if key == "footnote")
    return {key: value for key, _, value in pairs if key != "footnote"}, notes


def refuse(bound: str) -> OutOfRange:
    """Return the refusal of a table or formula; it names the bound that was passed."""
    return OutOfRange(f"outside this table: needs an engineer; {bound}")


def select(table: Table, rows: Sequence[Row] | None = None, **equal: object) -> tuple[Row, ...]:
    """Return the rows that hold exactly these values; a species may be one of several in a cell.

    Raises: OutOfRange: no row has one of the values; names what is held
    """
    found = tuple(table.rows if rows is None else rows)
    for column, wanted in equal.items():
        same = {cell for cell in {row[column] for row in found} if _same(cell, wanted)}
        if not same:
            held = ", ".join(dict.fromkeys(row[column] for row in found))
            said = f"{wanted:g}" if isinstance(wanted, float) else wanted
            raise refuse(f"{column} {said} is not in {table.source}; it has {held}")
        found = tuple(row for row in found if row[column] in same)
    return found


def _same(cell: str, wanted: object) -> bool:
    if isinstance(wanted, str):
        return wanted in cell.split("|")
    return abs(float(cell) - float(str(wanted))) < _SLACK


def next_up(table: Table, rows: Sequence[Row], column: str, value: float) -> tuple[Row, ...]:
    """Return the rows of the least value of a column that is not under the one asked for: the safer row.

    Raises: OutOfRange: the value lies above the last row
    """
    held = sorted({float(row[column]) for row in rows})
    above = [x for x in held if x >= value - _SLACK]
    if not above:
        raise refuse(f"{_said(column)} {value:g} is more than {held[-1]:g}, the last of {table.source}")
    return tuple(row for row in rows if float(row[column]) == above[0])


def cell(table: Table, row: Row, value: str, *columns: str) -> Cell:
    """Return one value of a row, with the columns that name the row.

    Raises: OutOfRange: the cell is not held
    """
    words = named(row, columns)
    if not row[value]:
        raise refuse(f"the {_said(value)} at {words} is not held of {table.source}")
    return Cell(value=float(row[value]), source=table.source, row=words, status=row["status"])


def named(row: Row, columns: Iterable[str]) -> str:
    """Return a row in words, by columns of it."""
    return ", ".join(f"{_said(column)} {row[column]}" for column in columns)


def held(sizes: Iterable[str], look_up: Callable[[str], Found]) -> list[Found]:
    """Return what a table has of these sizes, in their order; cells not held are passed over.

    Raises: OutOfRange: it has none; names the bound that was passed
    """
    found: list[Found] = []
    refused: OutOfRange | None = None
    for size in sizes:
        try:
            found.append(look_up(size))
        except OutOfRange as error:
            refused = error
    if refused and not found:
        raise refused
    return found


def least(span: float, found: Sequence[Found], *, what: str = "span") -> Found:
    """Return the first section that reaches this [in]; they go from the least wood up.

    Args: what: is asked of it, for the refusal

    Raises: OutOfRange: none does; names the greatest span of the table
    """
    for each in found:
        if each.span.value >= span - _SLACK:
            return each
    most = max(found, key=lambda each: each.span.value)
    raise refuse(
        f"a {what} of {span:g} in is more than the {most.span.value:g} in of {most.size}, the greatest of "
        f"{most.span.source}"
    )


def _said(column: str) -> str:
    return (
        column.replace("_sqft", " (sq ft)")
        .replace("_ft", " (ft)")
        .replace("_psf", " (psf)")
        .replace("_", " ")
    )
