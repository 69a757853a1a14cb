"""The size of a reading and the finest mark it implies, both in inches, without sign and qualifier."""

from __future__ import annotations

from sillwright.lengths.faults import TAPE_DIVISIONS, mixed, nearest_on_tape, refuse_size
from sillwright.lengths.notation import NOT_ON_A_TAPE, TO_DIGITS, VULGAR
from sillwright.lengths.typed import Typed
from sillwright.lengths.units import INCHES_PER_FOOT, LARGEST, Unit, from_unit

TAPE_GRADUATION: dict[Unit, float] = {"in": 1 / 16, "mm": from_unit(1, "mm")}
"""Marks of an ordinary tape [in]. Common practice, no source."""

POWER_OF_TEN = {"mm": 0, "cm": 1, "m": 3}
"""Of a metric unit in millimetres."""

DIVISIONS = "Tapes divide by 2, 4, 8, 16, 32 or 64"

Size = tuple[float, float | None]


def metric(typed: Typed, unit: str) -> Size:
    """Return size and graduation of a reading in mm, cm or m; a tape shows whole millimetres."""
    if typed.has_fraction:
        first, last = ("vulgar", "vulgar") if typed.parts["vulgar"] else ("top", "bottom")
        advice = 'Add the inch mark (27 3/8") or write millimetres.'
        if typed.parts["mark"]:
            advice = 'Metric lengths take decimals, not fractions; inches take their own mark: 27 3/8".'
        typed.refuse(first, last, advice=advice)
    if typed.parts["feet"]:
        typed.refuse("mark", advice="Write feet and inches, or metric.")
    name = "decimal" if typed.parts["decimal"] else "whole"
    digits = typed.parts[name] or ""
    decimals = len(digits.replace(",", ".").partition(".")[2])
    graduation = TAPE_GRADUATION["mm"] if decimals <= POWER_OF_TEN[unit] else None
    return from_unit(_number(typed, name, power_of_ten=POWER_OF_TEN[unit]), "mm"), graduation


def imperial(typed: Typed) -> Size:
    """Return size and graduation of a reading in inches, or in feet and inches."""
    inches, graduation = _inches(typed)
    feet = typed.parts["feet"]
    if feet is None:
        return inches, graduation
    whole_feet = feet.isdigit()
    if typed.has_inches and not whole_feet:
        typed.refuse("feet", advice="Before inches, feet are a whole number.")
    if typed.parts["mark"] and not typed.has_inches:
        typed.refuse("mark", advice="The inches are missing; write 4' or 4' 0\".")
    if inches >= INCHES_PER_FOOT:
        typed.refuse(
            "decimal" if typed.parts["decimal"] else "whole", advice="After feet, inches stay below 12."
        )
    return INCHES_PER_FOOT * _number(typed, "feet") + inches, graduation if whole_feet else None


def _number(typed: Typed, name: str, *, power_of_ten: int = 0) -> float:
    """Return digits with a decimal point or comma times a power of ten, rounded once."""
    digits = typed.parts[name] or ""
    before, comma, behind = digits.partition(",")
    if comma and len(behind) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
        either = f"{before}{behind} or {before}.{behind}"
        typed.refuse(name, advice=f"The comma could mark thousands or decimals; write {either}.")
    return float(f"{digits.replace(',', '.')}e{power_of_ten}")


def _inches(typed: Typed) -> Size:
    if typed.parts["decimal"]:
        return _number(typed, "decimal"), None
    whole = float(typed.parts["whole"] or 0)
    if whole > LARGEST:
        refuse_size(typed.text)
    top, bottom = _fraction(typed, int(whole)) if typed.has_fraction else (0, 1)
    return whole + top / bottom, min(1 / bottom, TAPE_GRADUATION["in"])


def _fraction(typed: Typed, whole: int) -> tuple[int, int]:
    """Return numerator and denominator of a fraction that a tape shows."""
    sign = typed.parts["vulgar"]
    if sign in NOT_ON_A_TAPE:
        meant = mixed(whole, round(16 * NOT_ON_A_TAPE[sign]), 16)
        typed.refuse("vulgar", advice=f"{DIVISIONS}; did you mean {meant}?")
    if sign:
        return VULGAR[sign]
    top_digits, bottom_digits = typed.parts["top"] or "", typed.parts["bottom"] or ""
    if len(top_digits) > 4 or len(bottom_digits) > 4:
        typed.refuse("top", "bottom", advice=f"{DIVISIONS}.")
    top, bottom = int(top_digits.translate(TO_DIGITS)), int(bottom_digits.translate(TO_DIGITS))
    if bottom not in TAPE_DIVISIONS:
        meant = nearest_on_tape(whole, top, bottom)
        typed.refuse("bottom", advice=f"{DIVISIONS}; did you mean {meant}?" if meant else f"{DIVISIONS}.")
    if top == 0:
        typed.refuse("top", "bottom", advice=f"A fraction of nothing; write {whole}.")
    if top >= bottom:
        better = mixed(whole, top, bottom)
        typed.refuse(
            "top", "bottom", advice=f"The top of a fraction is less than its bottom; write {better}."
        )
    return top, bottom
