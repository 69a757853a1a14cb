"""Labour minutes by which ways of setting a row are compared; the table is data/minutes.csv."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files


@cache
def rates() -> dict[str, float]:
    """Return minutes by name."""
    text = files("sillwright.setting").joinpath("data/minutes.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return {row["name"]: float(row["minutes"]) for row in csv.DictReader(lines)}
