"""Inches and millimetres: the one place where they meet."""

from __future__ import annotations

from typing import Literal

Unit = Literal["in", "mm"]
"""The unit a job is written and shown in."""

MM_PER_INCH = 25.4
"""Exact: 1 in = 2.54 cm, NIST SP 811 (2008), app. B.8 (bold type there: exact)."""

INCHES_PER_FOOT = 12


LARGEST = 10_000 * INCHES_PER_FOOT
"""Above this, what was typed is no length on a house [in]."""


def to_unit(length: float, unit: Unit) -> float:
    """Return a length [in] as a number of the unit."""
    return length if unit == "in" else length * 127 / 5  # 25.4 itself is not exact in binary


def from_unit(value: float, unit: Unit) -> float:
    """Return a number of the unit as a length [in]; whole and half millimetres to the nearest float."""
    return value if unit == "in" else value * 5 / 127
