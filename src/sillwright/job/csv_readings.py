"""Readings kept in a spreadsheet: CSV text to checked rows, or all bad rows at once.

What a spreadsheet does to a file is taken in stride: a byte order mark, semicolons or tabs for commas,
decimal commas, blank rows, any line ends. `CSV_COLUMNS` and `KINDS` say what may stand in it.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sillwright.errors import BadInput, Fault
from sillwright.job.problems import found, nearest
from sillwright.lengths import Unit, parse

CSV_COLUMNS = {
    "setup": "name of the set-up, for laser shots",
    "setup_x": "where the laser stood along the wall; once for each new set-up is enough",
    "turned": "yes or no: was the laser turned round against the first set-up",
    "order": "number of the shot in its set-up; without it, the order of the rows",
    "kind": "what was read; see the table of kinds",
    "opening": "name of the opening",
    "place": "where in it; see the table of kinds",
    "edge": "outer or inner; outer without it",
    "x": "along the wall, from the wall mark",
    "at_height": "height above the sill of a plumb line's gap, or the height a lean is taken over",
    "value": "the reading",
    "sd": "its standard deviation, if you want to state one",
    "instrument": "name of an [[instrument]] in the job file",
    "by": "who read it",
    "note": "anything worth keeping beside it",
    "again": "yes for a new set-up that shoots the pads again; without it, where it has pads",
}
"""Columns, in any order; `kind` and `value` must be there."""

SIDES = ("left", "right")
CORNERS = ("top_left", "top_right", "bottom_left", "bottom_right")


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of row: which columns it needs, and what may stand under `place`."""

    about: str
    needs: tuple[str, ...]
    places: tuple[str, ...] = ()
    edges: bool = False


KINDS = {
    "mark": Kind("laser shot on a mark; place: its name", ("setup", "place")),
    "sill": Kind("laser shot on a rough sill", ("setup", "opening", "x"), edges=True),
    "head": Kind("laser shot on a head", ("setup", "opening", "x"), edges=True),
    "point": Kind("laser shot on anything else; place: what it is", ("setup", "place"), edges=True),
    "pad": Kind("laser shot on a pad after setting; place: its number", ("setup", "place"), edges=True),
    "jack": Kind("running tape to a jack's face", ("opening", "place"), SIDES),
    "width": Kind("width between the jacks", ("opening", "place"), ("bottom", "middle", "top"), edges=True),
    "height": Kind("from sill to head", ("opening", "place"), ("left", "centre", "right"), edges=True),
    "diagonal": Kind(
        "corner to corner", ("opening", "place"), ("bottom_left_to_top_right", "bottom_right_to_top_left")
    ),
    "lean_right": Kind("how far a jack's top stands to the right", ("opening", "place", "at_height"), SIDES),
    "lean_in": Kind("how far a jack's top stands into the house", ("opening", "place", "at_height"), SIDES),
    "plumb_line": Kind("gap from a hanging line to a jack", ("opening", "place", "at_height"), SIDES),
    "string_gap": Kind("gap between crossed strings", ("opening",)),
    "thickness": Kind("wall thickness at a corner", ("opening", "place"), CORNERS),
    "wall_string": Kind("gap from the string along the wall to the sheathing", ("x",)),
}
SHOTS = ("mark", "sill", "head", "point", "pad")

_LENGTHS = ("setup_x", "x", "at_height", "value", "sd")
_CHOICES = {"edge": ("outer", "inner"), "turned": ("yes", "no"), "again": ("yes", "no")}
_SPELLINGS = {"center": "centre", "true": "yes", "false": "no"}
_DATE = re.compile(r"^(\d{1,2}[-. ][A-Za-z]{3,9}\.?|[A-Za-z]{3,9}[- ]\d{1,2}|\d{1,4}[-.]\d{1,2}[-.]\d{1,4})$")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of readings: its line in the CSV text, and the cells that are filled."""

    line: int
    cells: dict[str, str]

    def __getitem__(self, column: str) -> str:
        """Return a cell, empty if nothing stands there."""
        return self.cells.get(column, "")


def readings_from_csv(text: str, *, unit: Unit) -> tuple[Row, ...]:
    """Return the rows of readings in a CSV text, set-ups in order, words in one spelling.

    Args:    text: with a header row; unit: of bare numbers
    Raises:  BadInput: with every bad row, by line and column
    """
    rows, faults = rows_and_faults(text, unit=unit)
    if faults:
        raise BadInput(*faults)
    return rows


def rows_and_faults(text: str, *, unit: Unit) -> tuple[tuple[Row, ...], list[Fault]]:
    """Return all rows, bad ones too, and what is wrong with them.

    Raises:  BadInput: no rows can be told apart: no header, unknown columns, broken quotes
    """
    lines = _table(text.removeprefix("\ufeff"))
    if not lines:
        raise BadInput(Fault("readings", "there is no header row.", f"Columns: {', '.join(CSV_COLUMNS)}."))
    columns, faults = _header(*lines[0])
    if faults:
        raise BadInput(*faults)
    rows = []
    for line, cells in lines[1:]:
        row, wrong = _row(line, cells, columns, unit)
        rows.append(row)
        faults += wrong
    return tuple(rows), faults + _orders(rows)


def row_and_faults(cells: Mapping[str, str], *, unit: Unit) -> tuple[Row, list[Fault]]:
    """Return one row from its cells by column, and what is wrong with it."""
    unknown = [
        Fault(column, "no such column.", nearest(column, CSV_COLUMNS))
        for column in cells
        if column not in CSV_COLUMNS
    ]
    known = {column: cell.strip() for column, cell in cells.items() if column in CSV_COLUMNS}
    row, faults = _row(0, list(known.values()), list(known), unit)
    return row, unknown + faults


def _table(text: str) -> list[tuple[int, list[str]]]:
    """Return the rows that are not blank, each with its line."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    separator = max(";\t,", key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        return [
            (reader.line_num, [cell.strip() for cell in cells])
            for cells in reader
            if any(cell.strip() for cell in cells)
        ]
    except csv.Error as error:
        what = f"the row cannot be read: {error}."
        raise BadInput(Fault("readings", what, "Check its quotes.", reader.line_num)) from None


def _word(text: str) -> str:
    folded = re.sub(r"[\s_-]+", "_", text.strip().casefold())
    return _SPELLINGS.get(folded, folded)


def _header(line: int, cells: list[str]) -> tuple[list[str], list[Fault]]:
    columns = [_word(cell) for cell in cells]
    faults = []
    for n, column in enumerate(columns):
        if column and column not in CSV_COLUMNS:
            advice = nearest(column, CSV_COLUMNS)
            faults.append(Fault("header", f"unknown column {found(cells[n])}.", advice, line))
        elif column and column in columns[:n]:
            faults.append(Fault("header", f"column '{column}' is there twice.", "Keep one.", line))
    missing = [column for column in ("kind", "value") if column not in columns]
    faults += [Fault("header", f"the column '{name}' is missing.", "Add it.", line) for name in missing]
    return columns, faults


def _row(line: int, cells: list[str], columns: list[str], unit: Unit) -> tuple[Row, list[Fault]]:
    filled = {column: cell for column, cell in zip(columns, cells, strict=False) if column and cell}
    stray = [cell for n, cell in enumerate(cells) if cell and (n >= len(columns) or not columns[n])]
    faults = [
        _fault(line, "", f"{found(cell)} stands under no column.", "Check the separators.") for cell in stray
    ]
    for column in ("kind", *_CHOICES):
        if column in filled:
            filled[column] = _word(filled[column])
    kind = KINDS.get(filled.get("kind", ""))
    if kind is None:
        given = filled.get("kind")
        what = f"unknown kind {found(given)}." if given else "the kind of reading is missing."
        return Row(line, filled), [*faults, _fault(line, "kind", what, nearest(given or "", KINDS))]
    if kind.places and "place" in filled:
        filled["place"] = _word(filled["place"])
    row = Row(line, filled)
    return row, [*faults, *_needed(row, kind), *_choices(row, kind), *_lengths(row, unit)]


def _fault(line: int, column: str, what: str, advice: str = "") -> Fault:
    return Fault(f"column '{column}'" if column else "row", what, advice, line)


def _needed(row: Row, kind: Kind) -> list[Fault]:
    name = row["kind"]
    faults = [
        _fault(
            row.line,
            column,
            f"it is empty, and a row of kind '{name}' needs it.",
            kind.about.capitalize() + ".",
        )
        for column in (*kind.needs, "value")
        if not row[column]
    ]
    strange = [
        column
        for column in ("setup", "opening", "edge", "x", "at_height", "order")
        if row[column] and column not in _may_have(name, kind)
    ]
    return faults + [
        _fault(row.line, column, f"a row of kind '{name}' has no {column}.", "Empty it, or change the kind.")
        for column in strange
    ]


def _may_have(name: str, kind: Kind) -> set[str]:
    shot = {"x", "order"} if name in SHOTS else set()
    return {*kind.needs, *shot, *(["edge"] if kind.edges else [])}


def _choices(row: Row, kind: Kind) -> list[Fault]:
    faults = []
    for column, options in {**_CHOICES, "place": kind.places}.items():
        if row[column] and options and row[column] not in options:
            advice = nearest(row[column], options)
            faults.append(_fault(row.line, column, f"{found(row[column])} is not known here.", advice))
    whole = [column for column in ("order", "place") if column == "order" or row["kind"] == "pad"]
    faults += [
        _fault(row.line, column, f"expected a whole number, found {found(row[column])}.")
        for column in whole
        if row[column] and not re.fullmatch(r"[0-9]{1,6}", row[column])
    ]
    return faults


def _lengths(row: Row, unit: Unit) -> list[Fault]:
    faults = []
    for column in _LENGTHS:
        if not row[column]:
            continue
        try:
            value = parse(row[column], unit=unit).value
        except BadInput as error:
            advice = error.faults[0].advice
            if _DATE.match(row[column]):
                advice = "The spreadsheet made a date of it: set the column to text, and type it again."
            faults.append(_fault(row.line, column, error.faults[0].what, advice))
            continue
        if column == "sd" and value <= 0:
            faults.append(_fault(row.line, column, f"must be more than 0, found {row[column]}."))
    return faults


def _orders(rows: list[Row]) -> list[Fault]:
    seen: dict[tuple[str, str], Any] = {}
    faults = []
    for row in rows:
        key = (row["setup"], row["order"])
        if row["order"] and key in seen:
            what = f"there is already a shot {row['order']} in set-up {found(row['setup'])}."
            faults.append(_fault(row.line, "order", what, "Number the shots of a set-up one by one."))
        seen[key] = row
    return faults
