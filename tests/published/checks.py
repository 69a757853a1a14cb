"""Outside checks: numbers printed elsewhere, each with its source, and how closely they must be met.

A subject is a TOML file beside this module with rows of the form

    [[check]]
    source = "title, edition"
    where = "table, row, page, example"
    kind = "standard"                       # one of KINDS
    given = { alpha = 0.001, power = 0.80 }
    expect = { delta0 = 4.13 }              # write "4.10" as text where a last zero was printed
    tol = "half of the last printed digit"  # or "exact", "10 digits", or a number in the unit of the value
                                            # left out: exact
    read = "where it was read"              # where that is not the source itself
    note = "what a reader should know"      # only where needed

or a Python module that makes the same rows from data files, such as `adjustment`. Every subject has one
parametrised test, `test_<subject>.py`, which calls `Check.compare` with what the program finds.
"""

from __future__ import annotations

import json
import math
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
KINDS = (
    "standard",
    "handbook",
    "trade publication",
    "worked example",
    "dataset",
    "reference library",
    "common practice, no source",
    "from memory",
    "second computation, not published",
)
HALF_UNIT = "half of the last printed digit"
EXACT = "exact"
_DIGITS = re.compile(r"(\d+) digits")


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One outside check: what is given, what must come out, who says so."""

    subject: str
    source: str
    where: str
    kind: str
    given: Mapping[str, Any]
    expect: Mapping[str, Any]
    tol: str | float = EXACT
    read: str = ""
    note: str = ""

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"{self.subject}, {self.where}: kind {self.kind!r} is none of {KINDS}")
        if isinstance(self.tol, str) and not self._tol_known():
            raise ValueError(f"{self.subject}, {self.where}: tolerance {self.tol!r} is not known")
        if not self.expect:
            raise ValueError(f"{self.subject}, {self.where}: nothing is expected")

    @property
    def id(self) -> str:
        """Name of the test: source and place."""
        return f"{self.source}, {self.where}"

    def compare(self, found: Mapping[str, Any]) -> None:
        """Fail unless every expected value is found within the tolerance."""
        missing = set(self.expect) - set(found)
        assert not missing, f"{self.id}: nothing was computed for {sorted(missing)}"
        wrong = [
            f"{name}: found {found[name]!r}, {self.source} has {value} (within {self.margin(value)})"
            for name, value in self.expect.items()
            if not self._agrees(value, found[name])
        ]
        assert not wrong, "\n".join([self.id, *wrong])

    def margin(self, value: Any) -> float:
        """Return the tolerance for one expected value, in its unit."""
        if not isinstance(self.tol, str):
            return float(self.tol)
        if digits := _DIGITS.fullmatch(self.tol):
            return abs(float(value)) * 10.0 ** -int(digits[1])
        return half_unit(value) if self.tol == HALF_UNIT else 0.0

    def _tol_known(self) -> bool:
        return self.tol in {HALF_UNIT, EXACT} or bool(_DIGITS.fullmatch(str(self.tol)))

    def _agrees(self, value: Any, found: Any) -> bool:
        if isinstance(value, bool) or not _is_number(value):
            return bool(found == value)
        if not _is_number(found):
            return False
        margin, wanted = self.margin(value), float(value)
        if math.isinf(wanted):
            return float(found) == wanted
        # a value that ends exactly half way between two printed digits may be rounded either way
        return abs(float(found) - wanted) <= margin * (1.0 + 1e-4)


def half_unit(value: Any) -> float:
    """Return half of the last printed digit of a number as written: "4.10" -> 0.005, 32 -> 0.5."""
    mantissa, _, exponent = (value if isinstance(value, str) else repr(value)).lower().partition("e")
    decimals = len(mantissa.partition(".")[2])
    return 0.5 * 10.0 ** (int(exponent or 0) - decimals)


def load(subject: str) -> list[Check]:
    """Return the checks of one TOML subject, in the order of the file."""
    with (HERE / f"{subject}.toml").open("rb") as file:
        rows = tomllib.load(file)["check"]
    return [Check(subject=subject, **row) for row in rows]


def read(name: str) -> dict[str, Any]:
    """Return one data file of the folder `adjustment`."""
    data: dict[str, Any] = json.loads((HERE / "adjustment" / f"{name}.json").read_text())
    return data


def _is_number(value: Any) -> bool:
    try:
        float(value)
    except (TypeError, ValueError):
        return False
    return True
