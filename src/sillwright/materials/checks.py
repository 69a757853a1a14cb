"""Every check of water and materials in one list, and the ways to run those of one opening."""

from __future__ import annotations

from sillwright.findings import Finding
from sillwright.lengths import Unit
from sillwright.materials import laps, pieces, sill, sticking
from sillwright.materials.facts import WaterFacts
from sillwright.rules import Check, Result, RuleBook, examine, gathered

OPENING: tuple[Check, ...] = (*pieces.CHECKS, *sill.CHECKS)
"""Those that go by `WaterFacts`."""
CHECKS: tuple[Check, ...] = (*OPENING, *laps.CHECKS, *sticking.CHECKS)
"""In the order they are listed."""


def check_water(facts: WaterFacts, book: RuleBook, *, place: str, units: Unit = "in") -> tuple[Finding, ...]:
    """Return what the checks find of one opening's flashing; place is its id in the plan.

    Checks that lack facts are told together, by subject; `examine_water` has each by itself.
    """
    return gathered(examine_water(facts, book, place=place, units=units))


def examine_water(facts: WaterFacts, book: RuleBook, *, place: str, units: Unit = "in") -> tuple[Result, ...]:
    """Return what each check came to at one opening, for the sheet that an inspector reads."""
    return examine(OPENING, facts, book, place=place, units=units)


def examine_one(rule: str, facts: WaterFacts, book: RuleBook, *, place: str, units: Unit = "in") -> Result:
    """Return what one check came to, by its id.

    Raises:  KeyError: no check of that id goes by these facts
    """
    check = {each.id: each for each in OPENING}[rule]
    return examine([check], facts, book, place=place, units=units)[0]
