"""Tables of numbers as text: a header that says what they are, rows, and lookups that refuse to extrapolate.

A table file opens with comment lines `# key: value`, then a row of column names, then the rows:

    # table: header spans             # source: title, edition, number     # address: where it can be read
    # scope: what it holds for        # units: span = in, snow_psf = psf   # read: date   # checked: by what
    # keys: supports, header          # axes: snow_psf next, width_ft linear
    # values: span falls linear, jack_studs rises steps                    # texts: status

`falls` and `rises` say which way a value goes as each axis goes up. Between rows an axis is taken `linear`
or at the `next` row up; a value that goes in `steps` is never interpolated. `NR` is "no requirement".
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from sillwright.errors import OutOfRange

REQUIRED = (
    "table",
    "source",
    "address",
    "scope",
    "units",
    "read",
    "checked",
    "keys",
    "axes",
    "values",
    "texts",
)
"""What the header of every table says; `note` lines may follow."""

NO_REQUIREMENT = "NR"


class TableFault(ValueError):
    """A table file that is not what its header says: a fault of the table, not of the job."""


class OutsideTable(OutOfRange):
    """A lookup beyond a bound of the table, or of something it has no row for."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A quantity that is looked up between rows."""

    name: str
    between: str
    """linear, or next: the next row up."""


@dataclass(frozen=True, slots=True)
class Value:
    """A quantity the table gives."""

    name: str
    trend: str
    """falls, rises, or free: as each axis goes up."""
    between: str
    """linear or steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One row, or what was found between two."""

    keys: Mapping[str, str]
    at: Mapping[str, float]
    values: Mapping[str, float | None]
    texts: Mapping[str, str]
    origin: str = ""
    """Which local amendment put it there; empty for the table's own rows."""

    def number(self, name: str) -> float:
        """Return a value that must be there.

        Raises:  OutsideTable: the table sets no requirement here
        """
        value = self.values[name]
        if value is None:
            raise OutsideTable(f"no requirement for {name} in this row")
        return value


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A checked table."""

    name: str
    header: Mapping[str, str]
    units: Mapping[str, str]
    keys: tuple[str, ...]
    axes: tuple[Axis, ...]
    values: tuple[Value, ...]
    texts: tuple[str, ...]
    rows: tuple[Row, ...]
    index: Mapping[tuple[str, ...], tuple[Row, ...]]
    """Rows by the entries of their key columns."""

    @property
    def source(self) -> str:
        """Title, edition and number of the printed table."""
        return self.header["source"]

    def known(self, key: str) -> tuple[str, ...]:
        """Return the entries of a key column, in the order of the rows."""
        return tuple(dict.fromkeys(row.keys[key] for row in self.rows))

    def find(self, keys: Mapping[str, str], at: Mapping[str, float] | None = None) -> Row:
        """Return the row for these keys, at these places along the axes.

        Below an axis' least entry the row of that entry is taken, which is the safer one where values fall
        or rise one way; above the greatest the table ends.

        Raises:  OutsideTable: no such row, or beyond the table; names the bound that was passed
        """
        rows = self.index.get(tuple(keys[key] for key in self.keys))
        if rows is None:
            raise self._outside(self._no_row(keys))
        return self._along(rows, self.axes, at or {})

    def overlaid(self, row: Row) -> Table:
        """Return the table with one row put in, in place of the one for the same keys and places.

        Raises:  TableFault: the row breaks the table's order
        """
        kept = tuple(each for each in self.rows if (each.keys, each.at) != (row.keys, row.at))
        rows = (*kept, row)
        found = replace(self, rows=rows, index=_index(rows))
        _check_order(found)
        return found

    def _along(self, rows: tuple[Row, ...], axes: tuple[Axis, ...], at: Mapping[str, float]) -> Row:
        if not axes:
            return rows[0]
        axis, rest = axes[0], axes[1:]
        wanted = at[axis.name]
        places = sorted({row.at[axis.name] for row in rows})
        if not 0.0 <= wanted <= places[-1]:  # false for nan
            unit = self.units[axis.name]
            bound = f"{places[-1]:g} {unit}, its greatest" if wanted > places[-1] else f"0 {unit}"
            side = "more" if wanted > places[-1] else "less"
            raise self._outside(f"{_plain(axis.name)} {wanted:g} {unit} is {side} than {bound}")
        upper = next(place for place in places if place >= wanted)
        lower = max((place for place in places if place <= wanted), default=upper)
        above = self._along(_at(rows, axis, upper), rest, at)
        if axis.between == "next" or lower == upper:
            return above
        below = self._along(_at(rows, axis, lower), rest, at)
        share = (wanted - lower) / (upper - lower)
        mixed = {each.name: _mix(each, below, above, share) for each in self.values}
        origin = "; ".join(dict.fromkeys(each for each in (below.origin, above.origin) if each))
        texts = below.texts if below.texts.get("status") == "memory" else above.texts
        return replace(above, at={**above.at, axis.name: wanted}, values=mixed, texts=texts, origin=origin)

    def _no_row(self, keys: Mapping[str, str]) -> str:
        for key in self.keys:
            known = self.known(key)
            if keys[key] not in known:
                return f"it has no {_plain(key)} {keys[key]!r}; it has {', '.join(known)}"
        return f"it has no row for {', '.join(keys[key] for key in self.keys)} together"

    def _outside(self, why: str) -> OutsideTable:
        return OutsideTable(f"outside this table: needs an engineer. {self.source}: {why}")


def read_table(name: str, text: str) -> Table:
    """Return a table from the text of its file, checked.

    Raises:  TableFault: header, columns, units, entries or order are not as they must be
    """
    lines = text.splitlines()
    header = _header(name, lines)
    axes = tuple(Axis(*_parts(name, each, 2)) for each in _listed(header["axes"]))
    values = tuple(Value(*_parts(name, each, 3)) for each in _listed(header["values"]))
    keys, texts = _listed(header["keys"]), _listed(header["texts"])
    measured = [*(axis.name for axis in axes), *(value.name for value in values)]
    reader = csv.DictReader((line for line in lines if line and not line.startswith("#")), strict=True)
    rows = list(reader)
    wanted = [*keys, *measured, *texts]
    if list(reader.fieldnames or ()) != wanted:
        raise TableFault(f"{name}: the columns are {reader.fieldnames}, the header asks for {wanted}")
    units = _units(name, header["units"], measured)
    table = Table(
        name=name,
        header=header,
        units=units,
        keys=keys,
        axes=axes,
        values=values,
        texts=texts,
        rows=(),
        index={},
    )
    made = tuple(_row(table, row, n) for n, row in enumerate(rows, 1))
    table = replace(table, rows=made, index=_index(made))
    _check_once(table)
    _check_order(table)
    return table


def _header(name: str, lines: Iterable[str]) -> dict[str, str]:
    header: dict[str, str] = {}
    for line in lines:
        if line.startswith("#"):
            key, colon, value = line[1:].partition(":")
            if not colon:
                raise TableFault(f"{name}: the header line {line!r} is not `# key: value`")
            key = key.strip()
            header[key] = f"{header[key]} {value.strip()}" if key in header else value.strip()
    missing = [key for key in REQUIRED if key not in header]
    if missing:
        raise TableFault(f"{name}: the header does not say {', '.join(missing)}")
    return header


def _listed(text: str) -> tuple[str, ...]:
    return tuple(each.strip() for each in text.split(",") if each.strip() and each.strip() != "none")


_WORDS = {"linear", "next", "falls", "rises", "free", "steps"}


def _parts(name: str, text: str, count: int) -> list[str]:
    parts = text.split()
    if len(parts) != count or not set(parts[1:]) <= _WORDS:
        raise TableFault(f"{name}: {text!r} in the header is not a column with {count - 1} words after it")
    return parts


def _units(name: str, text: str, wanted: list[str]) -> dict[str, str]:
    units = {key.strip(): unit.strip() for key, _, unit in (each.partition("=") for each in _listed(text))}
    if set(units) != set(wanted):
        raise TableFault(f"{name}: units are given for {sorted(units)}, needed for {sorted(wanted)}")
    return units


def _row(table: Table, row: Mapping[str | None, str | None], number: int) -> Row:
    where = f"{table.name}, row {number}"
    if None in row or None in row.values():
        raise TableFault(f"{where}: the row has more or fewer entries than the table has columns")
    cells = {str(key): str(cell) for key, cell in row.items()}
    try:
        return Row(
            keys={key: cells[key] for key in table.keys},
            at={axis.name: _number(cells[axis.name]) for axis in table.axes},
            values={each.name: _entry(cells[each.name]) for each in table.values},
            texts={key: cells[key] for key in table.texts},
        )
    except ValueError as error:
        raise TableFault(f"{where}: {error}") from None


def _number(cell: str) -> float:
    value = float(cell)
    if not math.isfinite(value):
        raise ValueError(f"{cell!r} is not a finite number")
    return value


def _entry(cell: str) -> float | None:
    return None if cell == NO_REQUIREMENT else _number(cell)


def _check_once(table: Table) -> None:
    seen: set[tuple[object, ...]] = set()
    for row in table.rows:
        place = (*row.keys.values(), *row.at.values())
        if place in seen:
            raise TableFault(f"{table.name}: there are two rows for {place}")
        seen.add(place)


def _check_order(table: Table) -> None:
    """Refuse values that do not go the way the header says along each axis, all else equal."""
    for axis in table.axes:
        lines: dict[tuple[object, ...], list[Row]] = {}
        for row in table.rows:
            others = (value for name, value in row.at.items() if name != axis.name)
            lines.setdefault((*row.keys.values(), *others), []).append(row)
        for rows in lines.values():
            _check_line(table, axis, sorted(rows, key=lambda row: row.at[axis.name]))


def _check_line(table: Table, axis: Axis, rows: list[Row]) -> None:
    for value in table.values:
        for one, other in pairwise(rows):
            here, there = one.values[value.name], other.values[value.name]
            if here is None or there is None or value.trend == "free":
                continue
            if (there > here) if value.trend == "falls" else (there < here):
                raise TableFault(
                    f"{table.name}: {value.name} should {value.trend.rstrip('s')} as {axis.name} goes up, "
                    f"but goes from {here:g} at {one.at[axis.name]:g} to {there:g} "
                    f"at {other.at[axis.name]:g} ({', '.join(one.keys.values())})"
                )


def _index(rows: tuple[Row, ...]) -> dict[tuple[str, ...], tuple[Row, ...]]:
    index: dict[tuple[str, ...], tuple[Row, ...]] = {}
    for row in rows:
        keys = tuple(row.keys.values())
        index[keys] = (*index.get(keys, ()), row)
    return index


def _at(rows: tuple[Row, ...], axis: Axis, place: float) -> tuple[Row, ...]:
    return tuple(row for row in rows if row.at[axis.name] == place)


def _mix(value: Value, below: Row, above: Row, share: float) -> float | None:
    here, there = below.values[value.name], above.values[value.name]
    if here is None or there is None:
        return there if here is None else here
    if value.between == "linear":
        return here + share * (there - here)
    return max(here, there) if value.trend == "rises" else min(here, there)


def _plain(name: str) -> str:
    """Return a column's name in words, without its unit: building_width_ft is building width."""
    words = name.split("_")
    return " ".join(words[:-1] if words[-1] in {"ft", "psf", "mph", "lb"} else words)
