"""From inches to what is read off a page or a drawing."""

from __future__ import annotations

import re

from sillwright.errors import OutOfRange
from sillwright.lengths.faults import mixed
from sillwright.lengths.notation import FRACTION_SLASH, SUBSCRIPT, SUPERSCRIPT
from sillwright.lengths.units import INCHES_PER_FOOT, Unit, to_unit

GRADUATIONS: dict[Unit, tuple[float, ...]] = {
    "in": (1 / 16, 1 / 8, 1 / 32, 1 / 64, 1 / 4, 1 / 2, 1.0),
    "mm": (1.0, 0.5, 0.1, 5.0, 10.0),
}
"""Graduations a length can be shown to, in the unit itself; the first is used unless another is asked for."""

LARGEST_SHOWN = 1e9

_FRACTION = re.compile(r"(?<![\d/.,])(\d+)/(2|4|8|16|32|64)(?![\d/.])")
_RAISED = str.maketrans("0123456789", SUPERSCRIPT)
_LOWERED = str.maketrans("0123456789", SUBSCRIPT)


def show(length: float, *, unit: Unit = "in", graduation: float | None = None, mark: bool = False) -> str:
    """Return a length [in] as read off a tape: 27 3/8, -7/16, 0; or 695 in millimetres.

    Rounds to the nearest graduation, ties to the even graduation.

    Args:    length: at most 1e9 either way [in]; unit: to show it in; graduation: one of `GRADUATIONS`
             [unit], 1/16 in or 1 mm by default; mark: end with the inch mark, or mm
    Raises:  OutOfRange: length not finite or beyond 1e9 in, or no such graduation
    Source:  NIST Handbook 44, sec. 10.3 (rounding to graduations; read second-hand)
    """
    step, count = _graduations(length, unit, graduation)
    sign = "-" if count < 0 else ""
    if unit == "in":
        per_inch = round(1 / step)
        return sign + mixed(0, abs(count), per_inch) + ('"' if mark else "")
    decimals = 0 if step >= 1 else 1
    return f"{sign}{abs(count) * step:.{decimals}f}" + (" mm" if mark else "")


def show_feet(length: float, *, graduation: float | None = None) -> str:
    """Return a length [in] in feet and inches with their marks: 4' 3 1/2"; below a foot inches only.

    Args:    length: at most 1e9 either way [in]; graduation: as for `show` [in], 1/16 by default
    Raises:  OutOfRange: length not finite or beyond 1e9 in, or no such graduation
    """
    step, count = _graduations(length, "in", graduation)
    per_inch = round(1 / step)
    feet, rest = divmod(abs(count), INCHES_PER_FOOT * per_inch)
    sign = "-" if count < 0 else ""
    return sign + (f"{feet}' " if feet else "") + mixed(0, rest, per_inch) + '"'


def glyphs(text: str) -> str:
    """Return the text with tape fractions set small for drawings: 5/16 becomes ⁵⁄₁₆.

    Dates and chains such as 12/4/2026, and fractions that no tape shows, stay as they are.
    """
    return _FRACTION.sub(
        lambda found: found[1].translate(_RAISED) + FRACTION_SLASH + found[2].translate(_LOWERED), text
    )


def _graduations(length: float, unit: Unit, graduation: float | None) -> tuple[float, int]:
    """Return the graduation [unit] and the number of them nearest to the length."""
    step = GRADUATIONS[unit][0] if graduation is None else graduation
    if step not in GRADUATIONS[unit]:
        raise OutOfRange(f"no tape is marked every {step:g} {unit}; choose one of {_listed(unit)} {unit}")
    if not abs(length) <= LARGEST_SHOWN:  # false for nan
        raise OutOfRange(
            f"a length of {length:g} in cannot be shown; give a finite one below {LARGEST_SHOWN:g} in"
        )
    if unit == "in":
        return step, round(length / step)  # exact: graduations are powers of two
    # Millimetres come back from inches a last digit off; a millionth of one is no reading, so ties stay ties.
    return step, round(round(to_unit(length, unit) / step, 6))


def _listed(unit: Unit) -> str:
    return ", ".join(
        mixed(0, 1, round(1 / g)) if unit == "in" else f"{g:g}" for g in sorted(GRADUATIONS[unit])
    )
