"""From what was said or typed to inches."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sillwright.lengths.faults import refuse_size, refuse_value
from sillwright.lengths.notation import DIRECTION, MARKS
from sillwright.lengths.sizes import POWER_OF_TEN, TAPE_GRADUATION, imperial, metric
from sillwright.lengths.typed import EXAMPLES, Typed, take_apart
from sillwright.lengths.units import LARGEST, Unit, from_unit

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
        return _from_text(text, unit)
    if isinstance(text, bool) or not isinstance(text, int | float):
        refuse_value(text if isinstance(text, bool) else type(text).__name__, "is not a length", EXAMPLES)
    if not abs(text) <= 30 * LARGEST:  # before float(), which a huge integer overflows; false for nan
        refuse_size(str(text) if isinstance(text, float) else "a number of that many digits")
    value = _bounded(from_unit(float(text), unit), str(text))
    return Said(value=value, spread=0.0, graduation=TAPE_GRADUATION[unit] if isinstance(text, int) else None)


def _from_text(text: str, unit: Unit) -> Said:
    typed = take_apart(text)
    mark = MARKS[(typed.parts["mark"] or "").lower()]
    tape: Unit = "in"
    if mark in POWER_OF_TEN or (unit == "mm" and not mark and not typed.parts["feet"]):
        tape = "mm"
    size, graduation = metric(typed, mark or "mm") if tape == "mm" else imperial(typed)
    direction = _direction(typed)
    offset = QUALIFIER_SHARE[tape] * (graduation or TAPE_GRADUATION[tape]) if direction else 0.0
    size += direction * offset
    value = _bounded(-size if typed.parts["sign"] == "-" else size, text)
    return Said(value=value, spread=offset / math.sqrt(3), graduation=graduation)


def _direction(typed: Typed) -> int:
    """Return +1 strong, -1 shy, 0 unqualified."""
    before, after = typed.parts["before"], typed.parts["after"]
    if before and after:
        typed.refuse("after", advice="Say strong or shy once, before or after.")
    said = before or after
    return DIRECTION[" ".join(said.lower().split())] if said else 0


def _bounded(value: float, text: str) -> float:
    if not abs(value) <= LARGEST:
        refuse_size(text)
    return value + 0.0  # no -0.0
