"""Lengths as the plan says them: fine enough to cut by, and amounts that must be enough rounded up."""

from __future__ import annotations

from math import ceil

from sillwright.lengths import Unit, from_unit, show

FINE = {"in": 1 / 32, "mm": from_unit(1, "mm")}
"""What pads, planing and cuts are said to [in]."""


def fine(units: Unit) -> float:
    """Return the graduation for thicknesses, in the job's unit."""
    return 1 / 32 if units == "in" else 1.0


def small(length: float, units: Unit) -> str:
    """Return a thickness with its mark: 5/32", 4 mm."""
    return show(length, unit=units, graduation=fine(units), mark=True)


def enough(length: float, units: Unit) -> str:
    """Return a thickness rounded up, so that so much is enough."""
    return small(ceil(length / FINE[units] - 1e-6) * FINE[units], units)


def thickness(length: float, units: Unit) -> str:
    """Return a pad's thickness as its shims add up to: finer than other thicknesses where they are finer."""
    whole = abs(length / FINE[units] - round(length / FINE[units])) < 1e-6
    finer = 1 / 64 if units == "in" else 0.1
    return show(length, unit=units, graduation=fine(units) if whole else finer)


def small_bare(length: float, units: Unit) -> str:
    """Return a thickness without its mark, as on a drawing: 5/32, 4."""
    return show(length, unit=units, graduation=fine(units))
