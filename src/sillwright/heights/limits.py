"""Limits on heights, one row each with its section; the table is data/limits.csv."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from sillwright.errors import OutOfRange

PRACTICE = "common practice, no source"
LEDGER_DEPTHS = (7.25, 9.25, 11.25)
"""Ledgers for which the code gives the place of the lower row: 2x8, 2x10, 2x12 [in]."""
SAME_DEPTH = 0.125
"""Dry or wet, a board is taken for its size when it is this near [in]; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit."""

    name: str
    value: float
    unit: str
    what: str
    source: str


@cache
def limits() -> dict[str, Limit]:
    """Return every limit by name."""
    text = files("sillwright.heights").joinpath("data/limits.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return {row["name"]: _limit(row) for row in csv.DictReader(lines)}


def limit(name: str) -> float:
    """Return the value of one limit, in the unit of its row."""
    return limits()[name].value


def source(name: str) -> str:
    """Return where one limit comes from, for people."""
    return limits()[name].source


def lower_row(ledger_depth: float, *, lags: bool) -> Limit:
    """Return how far the lower row of fasteners must lie below the top of a ledger [in].

    Args:    ledger_depth: actual depth [in]; lags: lag screws, or bolts at the spacing of lag screws
    Raises:  OutOfRange: the depth is none of the table's
    Source:  IRC 2018, R507.9.1.3(2)
    """
    for depth in LEDGER_DEPTHS:
        if abs(ledger_depth - depth) <= SAME_DEPTH:
            name = f"lower_row_{depth:g}"
            return limits().get(f"{name}_lags" if lags else name, limits()[name])
    least, most = LEDGER_DEPTHS[0], LEDGER_DEPTHS[-1]
    bound = f"below {least:g} in" if ledger_depth < least else f"above {most:g} in"
    if least < ledger_depth < most:
        bound = "between its rows"
    raise OutOfRange(
        f"a ledger {ledger_depth:g} in deep is outside this table, R507.9.1.3(2): {bound}; needs an engineer"
    )


def _limit(row: dict[str, str]) -> Limit:
    source = f"IRC 2018, {row['section']}" if row["section"].startswith("R") else row["section"]
    if row["status"] == "memory":
        source += " (from memory)"
    if row["section"] == "practice":
        source = PRACTICE
    return Limit(
        name=row["name"], value=float(row["value"]), unit=row["unit"], what=row["what"], source=source
    )
