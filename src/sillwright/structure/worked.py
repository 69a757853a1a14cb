"""A calculation laid open: each value with its formula, what went into it, its limit and its source.

Numbers are in the units that the formulas of the standards are written for: in, lbf, psi, lbf/ft.
"""

from __future__ import annotations

from dataclasses import dataclass

NOTE = "for your engineer"


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """What goes into a formula."""

    name: str
    value: float | str
    unit: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """One value of a calculation."""

    key: str
    """Its place in ids: letters, digits, hyphens."""
    what: str
    formula: str
    inputs: tuple[Input, ...]
    value: float
    unit: str
    source: str
    limit: float | None = None
    """What it is held against, in its unit; None: nothing."""
    at_least: bool = False
    """The limit is the least it may be, not the most."""

    @property
    def use(self) -> float | None:
        """Return demand over capacity; more than 1 does not do; None: there is no limit."""
        if self.limit is None:
            return None
        return self.limit / self.value if self.at_least else self.value / self.limit

    @property
    def met(self) -> bool:
        """Tell whether the limit is kept."""
        return self.use is None or self.use <= 1.0 + 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One part of the structure by calculation, for your engineer."""

    subject: str
    values: tuple[Worked, ...]
    main: str = ""
    """Key of the value that answers; empty where there is none."""
    phrase: str = ""
    """How that value is said: a length of `at most {} on centre` is cut, of `at least {}` raised."""
    governs: str = ""
    """Key of the value that governs."""
    verdict: str = ""
    """The answer in words, without lengths."""
    refused: str = ""
    """Why there is no answer; empty: there is one."""
    taken: tuple[str, ...] = ()
    """What is taken for granted."""
    note: str = NOTE

    def value(self, key: str) -> Worked:
        """Return one of its values by key."""
        return next(each for each in self.values if each.key == key)


def inputs(*rows: tuple[str, float | str, str]) -> tuple[Input, ...]:
    """Return what goes into a formula from (name, value, unit)."""
    return tuple(Input(name=name, value=value, unit=unit) for name, value, unit in rows)
