"""Limits on heights: those of the rule book by their ids there, and a few more of data/limits.csv."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from sillwright.errors import OutOfRange
from sillwright.rules import PRACTICE, RuleBook, rule_book
from sillwright.rules import Limit as CodeLimit

EDITION = "2018"
LEDGER_DEPTHS = {7.25: "2x8", 9.25: "2x10", 11.25: "2x12"}
"""Ledgers for which the code gives the place of the lower row [in]."""
SAME_DEPTH = 0.125
"""Dry or wet, a board is taken for its size when it is this near [in]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit."""

    name: str
    value: float
    unit: str
    source: str


def limits(book: RuleBook | None = None) -> dict[str, Limit]:
    """Return every limit by name, the code's as a rule book has them; without one, the 2018 edition's."""
    book = book or rule_book(EDITION)
    code = (each for each in book.limits.values() if not each.cited)  # the others are about water
    return _own() | {each.id: _of_book(each, book) for each in code}


def the_limit(name: str, book: RuleBook | None = None) -> Limit:
    """Return one limit of `limits`."""
    book = book or rule_book(EDITION)
    return _of_book(book.limits[name], book) if name in book.limits else _own()[name]


@cache
def _own() -> dict[str, Limit]:
    text = files("sillwright.heights").joinpath("data/limits.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return {each.name: each for each in map(_limit, csv.DictReader(lines))}


def _of_book(each: CodeLimit, book: RuleBook) -> Limit:
    source = each.origin or _code(each.section, each.from_memory, book.edition)
    return Limit(name=each.id, value=each.value, unit=each.unit, source=source)


def limit(name: str, book: RuleBook | None = None) -> float:
    """Return the value of one limit, in the unit of its row."""
    return the_limit(name, book).value


def source(name: str, book: RuleBook | None = None) -> str:
    """Return where one limit comes from, for people."""
    return the_limit(name, book).source


def lower_row(ledger_depth: float, *, lags: bool, book: RuleBook | None = None) -> Limit:
    """Return how far the lower row of fasteners must lie below the top of a ledger [in].

    Args:    ledger_depth: actual depth [in]; lags: lag screws, or bolts at the spacing of lag screws;
             book: whose limits count, the 2018 edition's without one
    Raises:  OutOfRange: the depth is none of the table's
    Source:  IRC 2018, R507.9.1.3(2)
    """
    for depth, size in LEDGER_DEPTHS.items():
        if abs(ledger_depth - depth) <= SAME_DEPTH:
            reduced = size == "2x8" and lags
            return the_limit(f"ledger.low_row_{size}{'_lag' if reduced else ''}", book)
    least, most = min(LEDGER_DEPTHS), max(LEDGER_DEPTHS)
    bound = f"below {least:g} in" if ledger_depth < least else f"above {most:g} in"
    if least < ledger_depth < most:
        bound = "between its rows"
    raise OutOfRange(
        f"a ledger {ledger_depth:g} in deep is outside this table, R507.9.1.3(2): {bound}; needs an engineer"
    )


def _limit(row: dict[str, str]) -> Limit:
    section = row["section"]
    source = _code(section, row["status"] == "memory") if section.startswith("R") else section
    source = PRACTICE if section == "practice" else source
    return Limit(name=row["name"], value=float(row["value"]), unit=row["unit"], source=source)


def _code(section: str, from_memory: bool, edition: str = EDITION) -> str:
    return f"IRC {edition}, {section}{' (from memory)' if from_memory else ''}"
