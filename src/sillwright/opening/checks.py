"""Every check of an opening in one list, and the two ways to run them."""

from __future__ import annotations

from sillwright.findings import Finding
from sillwright.lengths import Unit
from sillwright.opening import escape, glass, guard, header, landing, surroundings
from sillwright.opening.facts import OpeningFacts
from sillwright.rules import Check, Result, RuleBook, examine, gathered

CHECKS: tuple[Check, ...] = (
    *header.CHECKS,
    *escape.CHECKS,
    *glass.CHECKS,
    *landing.CHECKS,
    *guard.CHECKS,
    *surroundings.CHECKS,
)
"""In the order they are listed and found."""


def check_opening(
    facts: OpeningFacts, book: RuleBook, *, place: str, units: Unit = "in"
) -> tuple[Finding, ...]:
    """Return what the checks find at one opening; place is its id in the plan.

    Checks that lack facts are told together, by subject; `examine_opening` has each by itself.
    """
    return gathered(examine(CHECKS, facts, book, place=place, units=units))


def examine_opening(
    facts: OpeningFacts, book: RuleBook, *, place: str, units: Unit = "in"
) -> tuple[Result, ...]:
    """Return what each check came to at one opening, for the sheet that an inspector reads."""
    return examine(CHECKS, facts, book, place=place, units=units)
