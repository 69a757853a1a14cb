"""Inches and millimetres: the one place where they meet."""

from __future__ import annotations

from typing import Literal

Unit = Literal["in", "mm"]
"""The unit a job is written and shown in."""

MM_PER_INCH = 25.4
"""Exact: 1 in = 2.54 cm, NIST SP 811 (2008), app. B.8 (bold type there: exact)."""

INCHES_PER_FOOT = 12


def to_unit(length: float, unit: Unit) -> float:
    """Return a length [in] as a number of the unit."""
    return length if unit == "in" else length * MM_PER_INCH


def from_unit(value: float, unit: Unit) -> float:
    """Return a number of the unit as a length [in]."""
    return value if unit == "in" else value / MM_PER_INCH
