"""The rule book of one edition: single limits, tables, and what local amendments put over them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from typing import get_args

from sillwright.errors import BadInput, Fault
from sillwright.rules.model import Edition
from sillwright.rules.table import Row, Table, TableFault, read_table

EDITIONS: tuple[str, ...] = get_args(Edition)
TABLES = ("limits", "headers", "fenestration")
"""The tables of this package, one file each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One number of the code."""

    id: str
    value: float
    unit: str
    section: str
    from_memory: bool
    origin: str = ""
    """The local amendment that set it; empty where the model code stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """Everything a check may look up."""

    edition: str
    limits: Mapping[str, Limit]
    tables: Mapping[str, Table]
    struck: Mapping[str, str]
    """Checks that a local amendment leaves out, with what it says."""
    amendments: tuple[str, ...] = ()
    """Local amendments laid over, as they are named in sources."""


@cache
def rule_book(edition: str) -> RuleBook:
    """Return the rule book of an edition as the model code has it.

    Raises:  BadInput: no such edition here
    """
    if edition not in EDITIONS:
        raise BadInput(
            Fault("edition", f"there is no edition {edition!r} here.", f"Known: {', '.join(EDITIONS)}.")
        )
    tables = {name: load_table(name) for name in TABLES}
    limits = {row.keys["id"]: _limit(row) for row in tables["limits"].rows if row.keys["edition"] == edition}
    return RuleBook(edition=edition, limits=limits, tables=tables, struck={})


@cache
def load_table(name: str) -> Table:
    """Return one of the package's own tables, checked on the way in."""
    text = resources.files("sillwright.rules").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return read_table(f"{name}.csv", text)


def with_limit(book: RuleBook, limit: Limit) -> RuleBook:
    """Return the book with one limit replaced."""
    return replace(book, limits={**book.limits, limit.id: limit})


def with_row(book: RuleBook, table: str, row: Row) -> RuleBook:
    """Return the book with one row of a table put in or replaced.

    Raises:  TableFault: the row breaks the table's order
    """
    return replace(book, tables={**book.tables, table: book.tables[table].overlaid(row)})


def _limit(row: Row) -> Limit:
    if row.values["value"] is None:
        raise TableFault(f"limits.csv: {row.keys['id']} has no value")
    return Limit(
        id=row.keys["id"],
        value=row.values["value"],
        unit=row.texts["unit"],
        section=row.texts["section"],
        from_memory=row.texts["status"] == "memory",
    )
