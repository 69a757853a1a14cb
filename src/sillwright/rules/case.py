"""One check being judged at one place: it reads facts and limits, and says what it lacks.

A fact that nobody stated is never taken for good: asking for it ends the check as `not checked`, with its
name in words. Where a rule joins several conditions, `every` and `some` answer from those that are known
if they settle the matter, and otherwise name all that are missing.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from sillwright.lengths import Unit, from_unit, show, to_unit
from sillwright.rules.book import Limit, RuleBook
from sillwright.rules.model import Check, Verdict
from sillwright.rules.table import Row, Table


class FactMissing(Exception):
    """A check asked for facts that nobody stated."""

    def __init__(self, *words: str) -> None:
        self.words = words
        super().__init__(", ".join(words))


class Case:
    """What the function of a check works with."""

    def __init__(self, check: Check, facts: Any, book: RuleBook, *, units: Unit) -> None:
        self.book = book
        self._check = check
        self._facts = facts
        self._units = units
        self.used: list[Limit | Row] = []
        """Limits and rows asked for, in order: the sources of the finding."""

    def number(self, name: str) -> float:
        """Return a number that must be known."""
        return float(self.fact(name))

    def yes(self, name: str) -> bool:
        """Return an answer to yes or no that must be known."""
        return bool(self.fact(name))

    def word(self, name: str) -> str:
        """Return one of several words that must be known."""
        return str(self.fact(name))

    def fact(self, name: str) -> Any:
        """Return a fact that must be known.

        Raises:  FactMissing: nobody stated it
        """
        value = self.if_known(name)
        if value is None:
            raise FactMissing(self._facts.__dataclass_fields__[name].metadata["said"])
        return value

    def if_known(self, name: str) -> Any:
        """Return a fact, or None where nobody stated it."""
        if name not in self._check.facts:
            raise LookupError(f"check {self._check.id} asks for the fact {name}, which it does not list")
        return getattr(self._facts, name)

    def limit(self, name: str) -> Limit:
        """Return a limit of the rule book; a length in inches, whatever it is printed in."""
        self._listed(name)
        found = in_inches(self.book.limits[name])
        self.used.append(found)
        return found

    def sets(self, name: str) -> bool:
        """Tell whether the book has a number for a limit; a place may leave one open."""
        self._listed(name)
        return name in self.book.limits

    def table(self, name: str) -> Table:
        """Return a table of the rule book."""
        if name not in self._check.tables:
            raise LookupError(f"check {self._check.id} asks for the table {name}, which it does not list")
        return self.book.tables[name]

    def row(self, table: str, keys: Mapping[str, str], at: Mapping[str, float] | None = None) -> Row:
        """Return what a table has, and note it as used.

        Raises:  OutsideTable: it has no such row, or ends before
        """
        found = self.table(table).find(keys, at)
        self.used.append(found)
        return found

    def every(self, *conditions: Callable[[], bool]) -> bool:
        """Tell whether all conditions hold; one known to fail settles it."""
        return not self.some(*(_denied(each) for each in conditions))

    def some(self, *conditions: Callable[[], bool]) -> bool:
        """Tell whether any condition holds; one known to hold settles it."""
        missing: list[str] = []
        for condition in conditions:
            try:
                if condition():
                    return True
            except FactMissing as lack:
                missing += lack.words
        if missing:
            raise FactMissing(*dict.fromkeys(missing))
        return False

    def at_least(self, value: float, name: str) -> Verdict:
        """Return the verdict where a value must reach a limit."""
        return self.reaches(value, self.limit(name))

    def reaches(self, value: float, limit: Limit) -> Verdict:
        """Return the verdict where a value must reach a limit that was worked out on the way."""
        return self._compared(value, limit, "at least", value >= limit.value - NOISE)

    def at_most(self, value: float, name: str) -> Verdict:
        """Return the verdict where a value must not pass a limit."""
        limit = self.limit(name)
        return self._compared(value, limit, "at most", value <= limit.value + NOISE)

    def below(self, value: float, name: str) -> Verdict:
        """Return the verdict where a value must stay below a limit."""
        limit = self.limit(name)
        return self._compared(value, limit, "less than", value < limit.value - NOISE)

    def quantity(self, value: float, unit: str, *, against: float | None = None) -> str:
        """Return a quantity as text with its unit; fine enough to differ from what it is compared with."""
        text = self._shown(value, unit)
        if against is None or value == against:
            return text
        finer = ((self._shown(each, unit, digits=digits) for each in (value, against)) for digits in _DIGITS)
        pairs = [(text, self._shown(against, unit)), *(tuple(pair) for pair in finer)]
        return next((own for own, other in pairs if own != other), text)

    def _listed(self, name: str) -> None:
        if name not in self._check.limits:
            raise LookupError(f"check {self._check.id} asks for the limit {name}, which it does not list")

    def _compared(self, value: float, limit: Limit, how: str, met: bool) -> Verdict:
        found = self.quantity(value, limit.unit, against=None if met else limit.value)
        return Verdict(met=met, value=found, limit=f"{how} {self.quantity(limit.value, limit.unit)}")

    def _shown(self, value: float, unit: str, *, digits: int | None = None) -> str:
        if unit == "in":
            if digits is not None:
                return f"{to_unit(value, self._units):.{digits}g} {self._units}"
            return show(value, unit=self._units, graduation=0.1 if self._units == "mm" else 1 / 64, mark=True)
        number = f"{value:.2f}".rstrip("0").rstrip(".") if digits is None else f"{value:.{digits}g}"
        return f"{number} {UNITS.get(unit, unit)}".rstrip()


_DIGITS = (4, 6, 9)
"""As many as it takes to tell a value from its limit."""
NOISE = 1e-7
"""Sums of lengths come out so near to what they are; no tape shows it."""
UNITS = {"sqft": "sq ft", "count": "", "ratio": "", "factor": "", "percent": "%"}
"""Units as they are printed, where not as they stand in the tables."""


def in_inches(limit: Limit) -> Limit:
    """Return a limit as it is compared with lengths."""
    if limit.unit != "mm":
        return limit
    return replace(limit, value=from_unit(limit.value, "mm"), unit="in")


def _denied(condition: Callable[[], bool]) -> Callable[[], bool]:
    return lambda: not condition()
