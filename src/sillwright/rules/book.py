"""The rule book of one edition: single limits, tables, and what local amendments put over them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from importlib import resources
from typing import get_args

from sillwright.errors import BadInput, Fault
from sillwright.rules.model import CodePlace, Edition
from sillwright.rules.table import Row, Table, TableFault, read_table

EDITIONS: tuple[str, ...] = get_args(Edition)
PLACES: tuple[str, ...] = get_args(CodePlace)
PLACE = "us-model-code"
"""Taken where a job names no other."""
TABLES = ("limits", "headers", "fenestration", "ledger_spacing")
"""The tables of this package that a check looks up, one file each; water.csv holds limits by place."""


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
    cited: str = ""
    """Its own source, where it is not of the section its check names."""
    basis: str = ""
    """code, standard, guide, derived or practice, with a source of its own; without a number: gap where
    nobody has published one, open where this place leaves it."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleBook:
    """Everything a check may look up."""

    edition: str
    limits: Mapping[str, Limit]
    tables: Mapping[str, Table]
    struck: Mapping[str, str]
    """Checks that a local amendment leaves out, with what it says."""
    place: str = PLACE
    """Whose water requirements are among the limits."""
    unset: Mapping[str, Limit] = field(default_factory=dict)
    """Limits that this place sets no number for; an amendment may set one."""
    amendments: tuple[str, ...] = ()
    """Local amendments laid over, as they are named in sources."""


@cache
def rule_book(edition: str, place: str = PLACE) -> RuleBook:
    """Return the rule book of an edition as the model code has it, with the water requirements of a place.

    Raises:  BadInput: no such edition or place here
    """
    asked = (("edition", edition, EDITIONS), ("place", place, PLACES))
    faults = [
        Fault(what, f"there is no {what} {name!r} here.", f"Known: {', '.join(known)}.")
        for what, name, known in asked
        if name not in known
    ]
    if faults:
        raise BadInput(*faults)
    tables = {name: load_table(name) for name in TABLES}
    limits = {row.keys["id"]: _limit(row) for row in tables["limits"].rows if row.keys["edition"] == edition}
    water, unset = _of_place(place)
    return RuleBook(
        edition=edition, limits={**limits, **water}, tables=tables, struck={}, place=place, unset=unset
    )


@cache
def load_table(name: str) -> Table:
    """Return one of the package's own tables, checked on the way in."""
    text = resources.files("sillwright.rules").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return read_table(f"{name}.csv", text)


def with_limit(book: RuleBook, limit: Limit) -> RuleBook:
    """Return the book with one limit replaced, or set that was not."""
    unset = {name: each for name, each in book.unset.items() if name != limit.id}
    return replace(book, limits={**book.limits, limit.id: limit}, unset=unset)


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


ANYWHERE = "any"
"""In the table of water requirements: every place that has no row of its own."""
_HOW = {"second-hand": " (read second-hand)", "memory": " (from memory: look it up in the print)"}


def _of_place(place: str) -> tuple[dict[str, Limit], dict[str, Limit]]:
    """Return the water limits of a place that have a number, and those that have none."""
    table = load_table("water")
    found = [_chosen(table, ident, place) for ident in table.known("id")]
    return (
        {each.id: each for each in found if not math.isnan(each.value)},
        {each.id: each for each in found if math.isnan(each.value)},
    )


def _chosen(table: Table, ident: str, place: str) -> Limit:
    for where in (place, ANYWHERE):
        if rows := table.index.get((where, ident)):
            return _of_water(rows[0])
    elsewhere = next(row for row in table.rows if row.keys["id"] == ident)
    note = f"no number for {place} was read"
    return replace(_of_water(elsewhere), value=math.nan, cited="", basis="open", note=note)


def _of_water(row: Row) -> Limit:
    value = row.values["value"]
    return Limit(
        id=row.keys["id"],
        value=math.nan if value is None else value,
        unit=row.texts["unit"],
        section="",
        from_memory=row.texts["status"] == "memory",
        cited=row.texts["source"] + _HOW.get(row.texts["status"], ""),
        basis=row.texts["basis"],
        note=row.texts["note"],
    )
