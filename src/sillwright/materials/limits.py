"""Single requirements of the rule book: what a place sets, what a product sheet sets, or whom to ask."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.lengths import Unit, show
from sillwright.rules import Case, Limit, RuleBook, in_inches

SHEET = "sheet"
GAP = "gap"


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """One number that is asked for, or nobody's number."""

    rule: str
    value: float | None
    """In `unit`; None where no number was found."""
    unit: str
    """in, percent, psf, F, C, count, ratio, factor, mm per 10 Pa; rule: 1 is required."""
    said: str
    """In words: what is asked and by whom, or whom to ask."""
    source: str
    basis: str
    """code, standard, guide, derived, practice, local, sheet, or gap."""
    note: str = ""


def requirement(rule: str, book: RuleBook, *, units: Unit = "in") -> Requirement:
    """Return one number of the book by the id of its rule; lengths in inches whatever they are printed in.

    Raises:  KeyError: no rule of that id
    """
    if rule not in book.limits:
        limit = book.unset[rule]
        whom = "the maker" if limit.basis == GAP else "the building department"
        said = f"ask {whom}: {limit.note}"
        return Requirement(
            rule=rule, value=None, unit=limit.unit, said=said, source="", basis=GAP, note=limit.note
        )
    return of_limit(in_inches(book.limits[rule]), units)


def of_limit(limit: Limit, units: Unit) -> Requirement:
    """Return a limit as a requirement."""
    source = limit.origin or limit.cited
    return Requirement(
        rule=limit.id,
        value=limit.value,
        unit=limit.unit,
        said=f"{amount(limit.value, limit.unit, units)}: {source}",
        source=source,
        basis="local" if limit.origin else limit.basis,
        note=limit.note,
    )


def amount(value: float, unit: str, units: Unit) -> str:
    """Return a number with its unit for people."""
    if unit == "in":
        return show(value, unit=units, graduation=0.1 if units == "mm" else 1 / 64, mark=True)
    return "required" if (unit, value) == ("rule", 1.0) else f"{value:g} {unit}"


def in_force(case: Case, rule: str) -> bool:
    """Tell whether the book asks for what a rule without a number says."""
    return case.sets(rule) and case.limit(rule).value >= 1.0
