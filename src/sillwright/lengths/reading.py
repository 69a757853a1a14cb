"""From what was said or typed to inches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from re import Match
from typing import NoReturn

from sillwright.lengths.faults import (
    TAPE_DIVISIONS,
    mixed,
    nearest_on_tape,
    refuse,
    refuse_value,
)
from sillwright.lengths.notation import (
    DIRECTION,
    MARKS,
    NOT_ON_A_TAPE,
    READING,
    TO_DIGITS,
    VULGAR,
    plain,
)
from sillwright.lengths.units import INCHES_PER_FOOT, Unit, from_unit

LARGEST = 10_000 * INCHES_PER_FOOT
LONGEST_TEXT = 60
EXAMPLES = "Write a reading such as 27 3/8, 4' 3 1/2\" or 1302 mm."
MM_EXPONENT = {"mm": 0, "cm": 1, "m": 3}

TAPE_GRADUATION: dict[Unit, float] = {"in": 1 / 16, "mm": from_unit(1, "mm")}
"""Marks of an ordinary tape [in]. Common practice, no source."""

QUALIFIER_SHARE: dict[Unit, float] = {"in": 1 / 2, "mm": 1 / 4}
"""How far strong or shy lies off its mark, in graduations. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """A length as it was said."""

    value: float
    """Qualifier included [in]."""
    spread: float
    """Standard deviation that the qualifier adds [in]; 0 without one."""
    graduation: float | None
    """Finest mark implied [in]: 1/16, a finer fraction as written, or 1 mm; None for decimals."""


def parse(text: str | int | float, *, unit: Unit = "in") -> Said:
    """Return the length that was said, in inches.

    A bare number is in `unit`; an explicit mark (`"`, `'`, in, ft, mm, cm, m) overrides it. A qualifier
    (strong, shy and their kin) moves the value off its mark by h: half a graduation on an inch tape (1/32 in
    beside a 1/16 mark), a quarter on a metric one (0.25 mm), and adds the spread h / sqrt(3): the edge lies
    anywhere between the mark and 2 h beyond it. It speaks of the tape, so with a minus sign in front the
    size grows or shrinks, and the sign stays.

    Args:    text: trade notation, or a number of `unit`; unit: of bare numbers
    Raises:  BadInput: not a length, or beyond 10 000 ft; points at the character
    Source:  h: common practice, no source; h / sqrt(3) for a rectangular distribution of half-width h:
             JCGM 100:2008 (GUM) 4.3.7
    """
    if isinstance(text, str):
        return _parse_text(text, unit)
    if isinstance(text, bool) or not isinstance(text, int | float):
        refuse_value(text, "is not a length", "Write a number or a tape reading such as 27 3/8.")
    if not abs(text) <= 2 * LARGEST * 25.4:  # before float(), which a huge integer overflows; false for nan
        _refuse_size(str(float(text)) if isinstance(text, float) else "a number of that many digits")
    value = _bounded(from_unit(float(text), unit), str(text))
    return Said(value=value, spread=0.0, graduation=TAPE_GRADUATION[unit] if isinstance(text, int) else None)


def _parse_text(text: str, unit: Unit) -> Said:
    if len(text) > LONGEST_TEXT:
        refuse_value(text, "is too long for a length", "Write one reading such as 27 3/8.")
    found = READING.match(plain(text))
    if found is None:  # the pattern matches even the empty text; this is for the type checker
        refuse_value(text, "is not a tape reading", EXAMPLES)
    groups = found.groupdict()
    _check_whole_text(text, found, groups)
    mark = MARKS[(groups["mark"] or "").lower()]
    if mark in MM_EXPONENT or (unit == "mm" and not mark and not groups["feet"]):
        size, graduation = _metric(text, found, groups, mark or "mm")
        tape: Unit = "mm"
    else:
        size, graduation = _imperial(text, found, groups)
        tape = "in"
    direction = _direction(text, found, groups)
    offset = QUALIFIER_SHARE[tape] * (graduation or TAPE_GRADUATION[tape]) if direction else 0.0
    size += direction * offset
    value = _bounded(-size if groups["sign"] == "-" else size, text)
    return Said(value=value, spread=offset / math.sqrt(3), graduation=graduation)


def _bounded(value: float, text: str) -> float:
    if not abs(value) <= LARGEST:
        _refuse_size(text)
    return value + 0.0  # no -0.0


def _refuse_size(text: str) -> NoReturn:
    refuse_value(
        text, "is no length on a house", "Lengths go up to 10 000 ft; check the unit and the digits."
    )


def _check_whole_text(text: str, found: Match[str], groups: dict[str, str | None]) -> None:
    """Refuse text that holds no number, or goes on after the reading."""
    if not text.strip():
        refuse_value(text, "is empty", EXAMPLES)
    end = found.end()
    left = text[end:].split(maxsplit=1)
    part = left[0] if left else text[end:]
    if not any(groups[name] for name in ("feet", "decimal", "whole", "vulgar", "top")):
        refuse(text, at=end, part=part, advice=EXAMPLES)
    if end < len(text):
        refuse(text, at=end, part=part, advice=_advice_on_rest(groups, part))


def _advice_on_rest(groups: dict[str, str | None], part: str) -> str:
    if groups["after"] == "-":
        return "A dash joins inches and fraction without spaces: 27-3/8; write one length, not a sum."
    if groups["after"]:
        return "Strong, shy, + or - comes last, after the unit."
    if part.lower().startswith(("ft", "f", "'")):
        return "Feet come first, as a whole number or a decimal: 4' 6\" or 4.5 ft."
    if part[0].isdigit() and groups["bottom"] is None and groups["vulgar"] is None:
        return "Write inches, a space and a fraction: 27 3/8."
    return "Write one length, such as 27 3/8, 4' 3 1/2\" or 1302 mm, with strong or shy after it."


def _direction(text: str, found: Match[str], groups: dict[str, str | None]) -> int:
    """Return +1 strong, -1 shy, 0 unqualified."""
    before, after = groups["before"], groups["after"]
    if before and after:
        refuse(text, at=found.start("after"), part=after, advice="Say strong or shy once, before or after.")
    said = before or after
    return DIRECTION[" ".join(said.lower().split())] if said else 0


def _number(text: str, at: int, digits: str, *, exponent: int = 0) -> float:
    """Return digits with a decimal point or comma as a number times a power of ten, rounded once."""
    before, comma, behind = digits.partition(",")
    if comma and len(behind) == 3 and 1 <= len(before) <= 3 and before[0] != "0":
        advice = f"The comma could mark thousands or decimals; write {before}{behind} or {before}.{behind}."
        refuse(text, at=at, part=digits, advice=advice)
    return float(f"{digits.replace(',', '.')}e{exponent}")


def _metric(
    text: str, found: Match[str], groups: dict[str, str | None], mark: str
) -> tuple[float, float | None]:
    """Return size and graduation [in] of a metric reading; a tape shows whole millimetres."""
    fraction = groups["vulgar"] or groups["top"]
    if fraction:
        at = found.start("vulgar" if groups["vulgar"] else "top")
        typed = text[at : found.end("vulgar" if groups["vulgar"] else "bottom")]
        advice = "Add the inch mark (27 3/8\") or write millimetres." if not groups["mark"] else (
            "Metric lengths take decimals, not fractions; or write inches with their mark: 27 3/8\"."
        )  # fmt: skip
        refuse(text, at=at, part=typed, advice=advice)
    if groups["feet"]:
        refuse(
            text,
            at=found.start("mark"),
            part=groups["mark"] or "",
            advice="Write feet and inches, or metric.",
        )
    name = "decimal" if groups["decimal"] else "whole"
    digits = groups[name] or ""
    exponent = MM_EXPONENT[mark]
    decimals = len(digits.replace(",", ".").partition(".")[2])
    graduation = TAPE_GRADUATION["mm"] if decimals <= exponent else None
    return from_unit(_number(text, found.start(name), digits, exponent=exponent), "mm"), graduation


def _imperial(text: str, found: Match[str], groups: dict[str, str | None]) -> tuple[float, float | None]:
    """Return size and graduation [in] of a reading in inches, or in feet and inches."""
    feet, decimal = groups["feet"], groups["decimal"]
    inches, graduation = _inches(text, found, groups)
    if feet is None:
        return inches, graduation
    has_inches = bool(decimal or groups["whole"] or groups["vulgar"] or groups["top"])
    if not feet.isdigit():
        if has_inches:
            refuse(text, at=found.start("feet"), part=feet, advice="Before inches, feet are a whole number.")
        graduation = None
    if inches >= INCHES_PER_FOOT:
        at = found.start("decimal" if decimal else "whole")
        refuse(text, at=at, part=decimal or groups["whole"] or "", advice="After feet, inches stay below 12.")
    return INCHES_PER_FOOT * _number(text, found.start("feet"), feet) + inches, graduation


def _inches(text: str, found: Match[str], groups: dict[str, str | None]) -> tuple[float, float | None]:
    if groups["decimal"]:
        return _number(text, found.start("decimal"), groups["decimal"]), None
    whole = float(groups["whole"] or 0)
    if whole > LARGEST:
        _refuse_size(text)
    if groups["vulgar"]:
        top, bottom = _vulgar(text, found.start("vulgar"), int(whole))
    elif groups["top"] and groups["bottom"]:
        top, bottom = _fraction(text, found, int(whole))
    else:
        top, bottom = 0, 16
    return whole + top / bottom, min(1 / bottom, TAPE_GRADUATION["in"])


def _vulgar(text: str, at: int, whole: int) -> tuple[int, int]:
    sign = text[at]
    if sign in NOT_ON_A_TAPE:
        meant = mixed(whole, round(16 * NOT_ON_A_TAPE[sign]), 16)
        refuse(text, at=at, part=sign, advice=f"Tapes divide by 2, 4, 8, 16, 32 or 64; did you mean {meant}?")
    return VULGAR[sign]


def _fraction(text: str, found: Match[str], whole: int) -> tuple[int, int]:
    """Return numerator and denominator of a fraction that a tape shows."""
    top_digits, bottom_digits = found["top"], found["bottom"]
    if len(top_digits) > 4 or len(bottom_digits) > 4:
        part = text[found.start("top") : found.end("bottom")]
        refuse(text, at=found.start("top"), part=part, advice="Tapes divide by 2, 4, 8, 16, 32 or 64.")
    top, bottom = int(top_digits.translate(TO_DIGITS)), int(bottom_digits.translate(TO_DIGITS))
    if bottom not in TAPE_DIVISIONS:
        meant = nearest_on_tape(whole, top, bottom)
        advice = "Tapes divide by 2, 4, 8, 16, 32 or 64" + (f"; did you mean {meant}?" if meant else ".")
        refuse(text, at=found.start("bottom"), part=bottom_digits, advice=advice)
    if not 0 < top < bottom:
        part = text[found.start("top") : found.end("bottom")]
        advice = f"The top of a fraction is less than its bottom; write {mixed(whole, top, bottom)}."
        if top == 0:
            advice = f"A fraction of nothing; write {whole}."
        refuse(text, at=found.start("top"), part=part, advice=advice)
    return top, bottom
