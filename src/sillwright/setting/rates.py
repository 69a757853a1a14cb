"""Labour minutes by which ways of setting a row are compared; the table is data/minutes.csv."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def rates() -> dict[str, float]:
    """Return minutes by name."""
    return {row["name"]: float(row["minutes"]) for row in _rows()}


@cache
def by_the_inch() -> frozenset[str]:
    """Return the names whose minutes are for each inch; those of the others are for one."""
    return frozenset(row["name"] for row in _rows() if row["per"] == "inch")


def _rows() -> list[dict[str, str]]:
    text = files("sillwright.setting").joinpath("data/minutes.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
